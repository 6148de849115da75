"""Panels that have to match: how far an order of the cuts is from cutting them at one visit."""

from __future__ import annotations

from collections.abc import Sequence

from cutlist.model.layout import Axis
from cutlist.sequencing.cutting import FinishedPiece, SettingStep
from cutlist.sequencing.fence import Together


def apart(
    wanted: Sequence[Together],
    settings: Sequence[SettingStep],
    pieces: Sequence[FinishedPiece],
) -> int:
    """Count what keeps panels from matching: visits beyond the first, and sides that no visit set.

    Parameters
    ----------
    wanted
        What has to match.
    settings, pieces
        The cuts, and the pieces left at the end.
    """
    #: For each piece and axis the number of the setting that gave it its size there, if any.
    made: dict[str, dict[Axis, int | None]] = {}
    for number, step in enumerate(settings):
        for cut in step.cuts:
            before = made.get(cut.piece, {})
            made[cut.kept.name] = {**before, cut.axis: number}
            if cut.rest is not None:
                made[cut.rest.name] = {**before, cut.axis: None}
    count = 0
    for one in wanted:
        sides = [
            made.get(piece.box.name, {}).get(axis)
            for piece in pieces
            if piece.part in one.parts
            for axis in Axis
            if piece.box.size(axis) == one.distance
        ]
        visits = {side for side in sides if side is not None}
        count += max(0, len(visits) - 1) + sides.count(None)
    return count

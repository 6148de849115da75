"""Parts that have to match: the size that they share, and whether it came from one setting.

Panels that meet flush are cut to their common size at one visit of the saw to that distance, so
that they share whatever error the setting has.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from cutlist.model.matches import Matched
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from cutlist.model.job import Match
    from cutlist.model.plan import Panel, Setting


def matched(
    matches: Iterable[Match], settings: Iterable[Setting], panels: Iterable[Panel]
) -> tuple[Matched, ...]:
    """Follow every panel of each match back to the cut that gave it the shared size.

    Parameters
    ----------
    matches
        What the job asks for.
    settings, panels
        Of the plan.
    """
    #: For each piece the one that was divided, how, at which setting, and whether it was kept.
    origin = {
        piece.name: (cut.piece, cut.direction, setting.number, piece is cut.kept)
        for setting in settings
        for cut in setting.cuts
        for piece in (cut.kept, cut.rest)
        if piece is not None
    }

    def setting_of(piece: str, direction: Direction) -> int | None:
        while piece in origin:
            divided, way, setting, is_kept = origin[piece]
            if way is direction:
                return setting if is_kept else None
            piece = divided
        return None

    made = tuple(panels)
    found = []
    for match in matches:
        members = [panel for panel in made if panel.part in match.parts]
        sides = [
            setting_of(panel.piece.name, direction)
            for panel in members
            for size, direction in (
                (panel.piece.length, Direction.CROSSCUT),
                (panel.piece.width, Direction.RIP),
            )
            if size == match.distance
        ]
        numbers = sorted({setting for setting in sides if setting is not None})
        found.append(
            Matched(match.name, match.distance, len(members), tuple(numbers), sides.count(None))
        )
    return tuple(found)

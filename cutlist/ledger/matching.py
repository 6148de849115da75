"""Which set-ups gave matching panels the size that they share.

Panels that meet flush are cut to their common size at one visit of the saw to that distance, so
that they share whatever error the setting has. A guide that is laid anew for every cut has an error
of its own each time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.ledger.entries import followed_back
from cutlist.model.matches import Matched
from cutlist.model.plan import Direction, Place, SizeOrigin

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger


def matched(ledger: Ledger) -> tuple[Matched, ...]:
    """Follow every panel of each match of the job back to the cut that gave it the shared size."""
    plan = ledger.plan
    laid_anew = {saw.name for saw in plan.job.tools if saw.serves_one_cut}
    anew = {
        one.number for one in plan.settings if one.place is Place.SHOP and one.tool in laid_anew
    }
    found = []
    for match in plan.job.matches:
        members = [panel for panel in plan.panels if panel.part in match.parts]
        sides = [
            _setups_of(ledger, panel.piece.name, direction)
            for panel in members
            for size, direction in (
                (panel.piece.length, Direction.CROSSCUT),
                (panel.piece.width, Direction.RIP),
            )
            if size == match.distance
        ]
        numbers = sorted({number for side in sides for number in side if number is not None})
        found.append(
            Matched(
                match.name,
                match.distance,
                len(members),
                tuple(number for number in numbers if number not in anew),
                sum(1 for side in sides if None in side),
                tuple(number for number in numbers if number in anew),
            )
        )
    return tuple(found)


def _setups_of(ledger: Ledger, piece: str, across: Direction) -> frozenset[int | None]:
    """Give the numbers of the set-ups that set a piece's size; None among them where none did.

    There are several where pieces of one size were joined along another side.
    """
    found: set[int | None] = set()
    for entry in followed_back(
        ledger.entries, [piece], lambda one: one.size_origin(across) is SizeOrigin.UNCHANGED
    ):
        origin = entry.size_origin(across)
        if origin is SizeOrigin.SET and entry.maker is not None:
            found.add(entry.maker[0].number)
        elif origin is not SizeOrigin.UNCHANGED:
            found.add(None)
    return frozenset(found or {None})

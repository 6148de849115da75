"""Which set-ups gave matching panels the size that they share.

Panels that meet flush are cut to their common size at one visit of the saw to that distance, so
that they share whatever error the setting has. A guide that is laid anew for every cut has an error
of its own each time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.matches import Matched
from cutlist.model.plan import Cut, Direction, Place

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
            _setup_of(ledger, panel.piece.name, direction)
            for panel in members
            for size, direction in (
                (panel.piece.length, Direction.CROSSCUT),
                (panel.piece.width, Direction.RIP),
            )
            if size == match.distance
        ]
        numbers = sorted({number for number in sides if number is not None})
        found.append(
            Matched(
                match.name,
                match.distance,
                len(members),
                tuple(number for number in numbers if number not in anew),
                sides.count(None),
                tuple(number for number in numbers if number in anew),
            )
        )
    return tuple(found)


def _setup_of(ledger: Ledger, piece: str, direction: Direction) -> int | None:
    """Give the number of the set-up that set a piece's size across a cut; None where none did."""
    while (maker := ledger.entries[piece].maker) is not None:
        setup, operation = maker
        if not isinstance(operation, Cut):
            return None
        if operation.direction is direction:
            return setup.number if operation.kept.name == piece else None
        piece = operation.piece
    return None

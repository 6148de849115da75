"""The audit's own walk through operations: which of them gave each piece its sizes.

It goes forwards, set-up by set-up, and takes of an operation only what it takes and makes, which
goes on as which, and where sizes come from. What a cut says of itself is not believed: a kept piece
has the distance of its cut across it, a rest does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.model.plan import Cut, Direction, SawSetup, SizeOrigin

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.model.plan import Operation, Plan, Setup

__all__ = ["FOLLOWED", "Sized", "Sizes", "operations_of", "sizes_of"]


#: The kinds of set-ups that there are rules for; any other is a finding, and is not walked through.
FOLLOWED: Final[tuple[type[Setup], ...]] = (SawSetup,)


@dataclass(frozen=True, slots=True, eq=False)
class Sized:
    """What gave a piece a size: an operation, by what its tool ``is_set`` to or by what it left.

    Each is itself alone: to compare all that a set-up holds would take the square of its cuts.
    """

    setup: Setup
    operation: Operation
    is_set: bool


#: For each piece, across each direction, what gave it its size; of several joined pieces that have
#: the same size there is one each, and for one that brings its size from the stock there is None.
Sizes = dict[str, dict[Direction, tuple[Sized | None, ...]]]

_STOCK: dict[Direction, tuple[Sized | None, ...]] = dict.fromkeys(Direction, (None,))


def operations_of(plan: Plan) -> Iterator[tuple[Setup, Operation]]:
    """Yield every operation of the set-ups that are followed, in the plan's order."""
    for setup in plan.setups:
        if isinstance(setup, FOLLOWED):
            for operation in setup.operations:
                yield setup, operation


def sizes_of(plan: Plan) -> Sizes:
    """Follow the sizes of all pieces forwards; workpieces are left out."""
    sizes: Sizes = {}
    for setup, operation in operations_of(plan):
        made = {
            piece.name: {
                across: _given(sizes, setup, operation, piece.name, across) for across in Direction
            }
            for piece in operation.makes
        }
        sizes |= made
    return sizes


def _given(
    sizes: Sizes, setup: Setup, operation: Operation, name: str, across: Direction
) -> tuple[Sized | None, ...]:
    before, origin = _told(operation, name, across)
    if origin is not SizeOrigin.UNCHANGED:
        return (Sized(setup, operation, is_set=origin is SizeOrigin.SET),)
    found = [one for old in before for one in sizes.get(old, _STOCK)[across]]
    return tuple(dict.fromkeys(found)) or (None,)


def _told(operation: Operation, name: str, across: Direction) -> tuple[list[str], SizeOrigin]:
    """Return what goes on as a made piece, and where its size across a direction comes from."""
    if isinstance(operation, Cut):
        if across is not operation.direction:
            return [operation.piece], SizeOrigin.UNCHANGED
        is_kept = name == operation.kept.name
        return [operation.piece], SizeOrigin.SET if is_kept else SizeOrigin.CHANGED
    before = [old for old, new in operation.continues if new == name]
    return before, operation.size_origin(name, across)

"""Sheets that the store breaks down alike, so that one sketch serves them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Hashable

    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["CutAlike", "cut_alike"]


@dataclass(frozen=True, slots=True)
class CutAlike:
    """Sheets that the store cuts alike.

    Parameters
    ----------
    lines
        The store's cuts of the first one, in order.
    blanks
        What they leave of it.
    """

    workpieces: tuple[Workpiece, ...]
    lines: tuple[CutLine, ...]
    blanks: tuple[Piece, ...]

    @property
    def first(self) -> Workpiece:
        """The sheet that is drawn."""
        return self.workpieces[0]

    @property
    def letters(self) -> tuple[str, ...]:
        """The names of the sheets."""
        return tuple(workpiece.piece for workpiece in self.workpieces)

    def names(self, piece: str) -> tuple[str, ...]:
        """Give the names that a piece of the first sheet has on each of them."""
        ending = piece.removeprefix(self.first.piece)
        return tuple(f"{letter}{ending}" for letter in self.letters)


def cut_alike(ledger: Ledger) -> tuple[CutAlike, ...]:
    """Group the sheets that the store cuts, in the plan's order."""
    found: dict[Hashable, list[Workpiece]] = {}
    for workpiece in ledger.plan.workpieces:
        lines = ledger.store_lines(workpiece.piece)
        if lines:
            cuts = tuple(
                (line.direction.value, line.middle, line.start, line.cut.kept.x, line.cut.kept.y)
                for line in lines
            )
            found.setdefault((workpiece.stock, workpiece.bought, cuts), []).append(workpiece)
    return tuple(
        CutAlike(tuple(alike), ledger.store_lines(alike[0].piece), ledger.blanks(alike[0].piece))
        for alike in found.values()
    )

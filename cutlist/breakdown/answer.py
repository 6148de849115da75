"""What the search for a break-down looks at: sheets with what lies on them, and an answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from cutlist.breakdown.blanks import BlankKind, BrokenSheet

if TYPE_CHECKING:
    from cutlist.model.layout import Cell, Strip
    from cutlist.nesting.problem import Nesting, Problem

    Trees = tuple[tuple[int, Strip | Cell], ...]


@dataclass(frozen=True, slots=True)
class LaidOutSheet:
    """A sheet and what lies on it so far: a tree for each blank that is used, by its number."""

    sheet: BrokenSheet
    trees: Trees = ()


@dataclass(frozen=True, slots=True)
class BreakDownAnswer:
    """What the search found.

    Parameters
    ----------
    sheets
        What is bought, and how it is broken down.
    kinds
        Their blanks; the problem's bins are these, then the offcuts on hand.
    problem
        The parts on blanks and offcuts.
    nesting
        The layouts; its cost is that of the sheets and of the store's cuts.
    """

    sheets: tuple[BrokenSheet, ...]
    kinds: tuple[BlankKind, ...]
    problem: Problem
    nesting: Nesting

    def laid(self) -> tuple[list[LaidOutSheet], Trees]:
        """Return the sheets with what lies on their blanks, and what lies on offcuts by number."""
        trees: list[list[tuple[int, Strip | Cell]]] = [[] for _ in self.sheets]
        on_offcuts: list[tuple[int, Strip | Cell]] = []
        waiting = [list(kind.spots) for kind in self.kinds]
        for layout in self.nesting.layouts:
            for _ in range(layout.copies):
                if layout.stock >= len(waiting):
                    on_offcuts.append((layout.stock - len(waiting), layout.root))
                    continue
                spot = waiting[layout.stock].pop(0)
                trees[spot.sheet].append((spot.number, layout.root))
        laid = [
            LaidOutSheet(sheet, tuple(placed))
            for sheet, placed in zip(self.sheets, trees, strict=True)
        ]
        return laid, tuple(on_offcuts)


@dataclass(slots=True)
class PurchaseTrial:
    """So many of each kind of sheet, the best way seen to break them down, and what falls short.

    ``short`` is the area of the panels that found no place, ``lacking`` their items, one entry for
    each; ``lost`` are items that fit no blank at all: nothing was packed then.
    """

    counts: tuple[int, ...]
    openings: list[tuple[BrokenSheet, ...]] = field(default_factory=list)
    mix: tuple[BrokenSheet, ...] = ()
    short: int | None = None
    lacking: tuple[int, ...] = ()
    lost: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Tariff:
    """What is paid.

    Parameters
    ----------
    costs
        For each bin of the whole problem what one costs.
    free, rate
        Cuts at the store without charge, and the charge for each further one.
    """

    costs: tuple[int, ...]
    free: int = 0
    rate: int = 0

    def of_sheets(self, sheets: Sequence[BrokenSheet]) -> int:
        """Return what sheets cost, without their cuts."""
        return sum(self.costs[one.kind] for one in sheets)

    def of(self, sheets: Sequence[BrokenSheet]) -> int:
        """Return what sheets cost with their cuts."""
        cuts = sum(one.cuts for one in sheets)
        return self.of_sheets(sheets) + self.rate * max(0, cuts - self.free)

"""The sheets that can be bought, and the ways in which the store can break each down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlist.breakdown.blanks import BlankKind, BrokenSheet, kinds_of
from cutlist.breakdown.patterns import Pattern, StoreLimits, whole
from cutlist.breakdown.splitting import Splitter
from cutlist.nesting.layouts.reach import fits

if TYPE_CHECKING:
    from cutlist.model.job import Sheet
    from cutlist.model.layout import Layout
    from cutlist.nesting.problem import Problem
    from cutlist.sequencing.fence import Fence

#: Steps of a look: so many for every so many panels begun.
_LOOK = 512
_PANELS_A_LOOK = 40


class StoreSheets:
    """What can be bought for a group of parts.

    Parameters
    ----------
    problem
        The parts, with whole sheets and offcuts for bins.
    stock
        For each bin the sheet, or None for an offcut on hand.
    sizes
        For each bin the full length and width, and the trim.
    limits
        Store and vehicle.
    least_off
        What goes at least off a rough edge of a blank that is too large for the fence.

    Attributes
    ----------
    splitters
        For each bin that is a sheet what makes its patterns.
    offcuts
        The bins that are offcuts.
    """

    def __init__(
        self,
        problem: Problem,
        stock: Sequence[Sheet | None],
        sizes: Sequence[tuple[int, int, int]],
        limits: StoreLimits,
        *,
        least_off: int = 0,
    ) -> None:
        self.problem = problem
        self.limits = limits
        self._stock = stock
        self.splitters = {
            kind: Splitter(
                whole(*sizes[kind]),
                limits.of_sheet(sheet),
                problem.items,
                problem.kerf,
                least_off=least_off,
            )
            for kind, sheet in enumerate(stock)
            if sheet is not None
        }
        self.offcuts = tuple(kind for kind, sheet in enumerate(stock) if sheet is None)
        self._holding: dict[tuple[int, int], list[Pattern]] = {}

    @property
    def panels(self) -> int:
        """Number of panels asked for."""
        return sum(item.qty for item in self.problem.items)

    @property
    def placing_steps(self) -> int:
        """Steps of search that a look at some way to break sheets down takes."""
        return _LOOK * (1 + self.panels // _PANELS_A_LOOK)

    def on_blanks(
        self, mix: Sequence[BrokenSheet], fence: Fence
    ) -> tuple[tuple[BlankKind, ...], Problem]:
        """Return the blanks of some sheets by kind, and the parts on them and on the offcuts."""
        kinds = kinds_of(mix, self.limits, fence)
        offcuts = (self.problem.bins[kind] for kind in self.offcuts)
        bins = (*(kind.bin for kind in kinds), *offcuts)
        return kinds, replace(self.problem, bins=bins, reach=fence.layout_reach)

    def area(self, item: int) -> int:
        """Return the area of one panel."""
        return self.problem.items[item].length * self.problem.items[item].width

    def broken(self, kind: int, pattern: Pattern) -> BrokenSheet:
        """Return a sheet broken down."""
        sheet = self._stock[kind]
        assert sheet is not None
        return BrokenSheet(kind, sheet, self.splitters[kind].sheet, pattern)

    def following(self, layout: Layout) -> BrokenSheet:
        """Return a sheet broken down so as to follow a layout, or in the plain way."""
        splitter = self.splitters[layout.stock]
        pattern = splitter.after(layout.root)
        return self.broken(layout.stock, splitter.seeds()[0] if pattern is False else pattern)

    def holding(self, kind: int, item: int) -> list[Pattern]:
        """Return patterns of a sheet with a blank for a part."""
        if (kind, item) not in self._holding:
            self._holding[kind, item] = self.splitters[kind].holding(self.problem.items[item])
        return self._holding[kind, item]

    def parts_that_fit_nowhere(self) -> list[int]:
        """Return the items that fit no offcut and no blank that can be had."""
        bins = [self.problem.bins[kind] for kind in self.offcuts]
        return [
            index
            for index, item in enumerate(self.problem.items)
            if item.qty
            and not any(fits(self.problem, item, piece) for piece in bins)
            and not any(self.holding(kind, index) for kind in self.splitters)
        ]

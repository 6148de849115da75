"""A look whether all panels lie on the blanks of some sheets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutlist.breakdown.answer import BreakDownAnswer, LaidOutSheet
from cutlist.breakdown.blanks import times_used, without_idle
from cutlist.model.layout import Layout
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps

if TYPE_CHECKING:
    from cutlist.breakdown.answer import Tariff, Trees
    from cutlist.breakdown.store_sheets import StoreSheets
    from cutlist.sequencing.fence import Fence

#: What a look counts for that ends at once.
_LOST_LOOK = 64


@dataclass(frozen=True, slots=True)
class PlacingResult:
    """What a look saw: an answer, or the items that found no place, one entry for each panel.

    ``lost`` are items that fit no blank at all; nothing was packed then.
    """

    found: BreakDownAnswer | None
    lacking: tuple[int, ...] = ()
    lost: tuple[int, ...] = ()


class Placer:
    """Looks at one mix of sheets after the other.

    Parameters
    ----------
    sheets
        What can be bought, and what is on hand.
    fence
        The shop.
    tariff
        What sheets and cuts cost.
    seed
        With equal seeds, equal answers.

    Attributes
    ----------
    steps
        Steps of search spent.
    usual
        Steps of a usual look.
    """

    def __init__(self, sheets: StoreSheets, fence: Fence, tariff: Tariff, seed: int) -> None:
        self._sheets = sheets
        self._fence = fence
        self._tariff = tariff
        self._seed = seed
        self.steps = 0
        self.usual = sheets.placing_steps

    def place(
        self, mix: Sequence[LaidOutSheet], on_offcuts: Trees = (), times: int = 1
    ) -> PlacingResult:
        """Look whether all panels lie on some sheets; sheets of which no blank is used are left.

        Parameters
        ----------
        mix
            The sheets, and what lies on them to begin with. Equal sheets need not be neighbours.
        on_offcuts
            What lies on the offcuts to begin with, by their numbers.
        times
            How much longer than a usual look.
        """
        mix = _side_by_side(mix)
        sheets = tuple(one.sheet for one in mix)
        kinds, problem = self._sheets.on_blanks(sheets, self._fence)
        bin_of = {
            (spot.sheet, spot.number): number
            for number, kind in enumerate(kinds)
            for spot in kind.spots
        }
        start = [
            Layout(bin_of[place, number], tree)
            for place, one in enumerate(mix)
            for number, tree in one.trees
        ]
        start += [Layout(len(kinds) + number, tree) for number, tree in on_offcuts]
        self._seed += 1
        steps = times * self.usual
        try:
            found = nest(problem, seed=self._seed, stop=AfterSteps(steps), start=start)
        except ItemFitsNowhereError as error:
            self.steps += _LOST_LOOK
            everything = (i for i, item in enumerate(problem.items) for _ in range(item.qty))
            return PlacingResult(None, tuple(everything), tuple(error.items))
        except StockTooSmallError as error:
            self.steps += steps
            lacking = (item for item, count in error.short.items() for _ in range(count))
            return PlacingResult(None, tuple(lacking))
        self.steps += max(_LOST_LOOK, found.steps)
        needed = without_idle(sheets, kinds, times_used(found.layouts, kinds))
        cost = self._tariff.of(sheets)
        nesting = replace(found, cost=cost, sheets=len(sheets), bound=0, sheets_bound=0)
        broken = BreakDownAnswer(sheets, kinds, problem, nesting)
        if len(needed) < len(sheets):
            laid, trees = broken.laid()
            fewer = self.place([one for one in laid if one.trees], trees)
            return fewer if fewer.found is not None else PlacingResult(broken)
        return PlacingResult(broken)


def _side_by_side(mix: Sequence[LaidOutSheet]) -> list[LaidOutSheet]:
    """Return sheets by kind, those broken down alike next to each other."""
    order = {one.sheet: place for place, one in reversed(list(enumerate(mix)))}
    return sorted(mix, key=lambda one: (one.sheet.kind, order[one.sheet]))

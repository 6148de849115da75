"""Break-down and layout together: which sheets to buy, how the store cuts them, what lies where.

There is soon some answer. Then sheets are chosen by what the panels are worth; where the choice
leaves something over, the search for layouts goes on from what it fills. Last, sheets are broken
down alike and with fewer cuts where the panels still lie on them.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from math import gcd
from typing import TYPE_CHECKING

from cutlist.breakdown.answer import LaidOutSheet
from cutlist.breakdown.blanks import with_pattern
from cutlist.breakdown.first_answer import FirstAnswer
from cutlist.breakdown.parameters import USUAL_BREAKDOWN, BreakDownParameters
from cutlist.breakdown.patterns import sizes_of
from cutlist.breakdown.placing import Placer
from cutlist.breakdown.sheet_choice import ChosenSheet, SheetChooser
from cutlist.nesting.failures import StockTooSmallError

if TYPE_CHECKING:
    from cutlist.breakdown.answer import BreakDownAnswer, PurchaseTrial, Tariff
    from cutlist.breakdown.blanks import BrokenSheet
    from cutlist.breakdown.store_sheets import StoreSheets
    from cutlist.model.layout import Cell, Layout, Strip
    from cutlist.nesting.allowance import Allowance
    from cutlist.sequencing.fence import Fence


class BreakDown:
    """Searches the cheapest sheets on whose blanks all panels lie.

    Parameters
    ----------
    sheets
        What can be bought, and what is on hand.
    fence
        The shop.
    tariff
        What sheets and cuts cost.
    least
        What any answer costs: nothing cheaper is looked for.
    seed
        With equal seeds and an allowance of steps alone, equal answers.
    allowance
        What the search may take once there is an answer; it is charged with all of it.
    parameters
        What it is tuned by.
    """

    def __init__(
        self,
        sheets: StoreSheets,
        fence: Fence,
        *,
        tariff: Tariff,
        least: int,
        seed: int,
        allowance: Allowance,
        parameters: BreakDownParameters = USUAL_BREAKDOWN,
    ) -> None:
        self._parameters = parameters
        self._sheets = sheets
        self._fence = fence
        self._tariff = tariff
        self._least = least
        self._rng = random.Random(seed)
        self._placer = Placer(sheets, fence, tariff, seed)
        self._first = FirstAnswer(sheets, self._placer, seed, parameters.first)
        problem = replace(sheets.problem, reach=fence.layout_reach)
        self._chooser = SheetChooser(
            problem,
            sheets.splitters,
            fence,
            tariff=tariff,
            seed=seed,
            parameters=parameters.choice,
        )
        self._allowance = allowance
        self._charged = 0

    @property
    def steps(self) -> int:
        """Steps of search spent, or what takes as long."""
        return self._placer.steps + self._first.steps + self._chooser.spent

    def _charge(self) -> None:
        """Charge what was spent since the last time."""
        steps = self.steps
        self._allowance.spend(steps - self._charged)
        self._charged = steps

    def _is_over(self) -> bool:
        self._charge()
        return self._allowance.is_over()

    def search(self, layouts: Sequence[Layout], *, has_others: bool = False) -> BreakDownAnswer:
        """Return the cheapest answer found.

        Parameters
        ----------
        layouts
            The parts on whole sheets.
        has_others
            Whether the rest of the job has its answer: who asks to stop then gets the first one of
            this.

        Raises
        ------
        StockTooSmallError
            The limited stock does not suffice, or no way was found to make it.
        StoppedError
            Asked to stop before there was an answer.
        """
        try:
            return self._searched(layouts, has_others=has_others)
        finally:
            self._charge()

    def _searched(self, layouts: Sequence[Layout], *, has_others: bool) -> BreakDownAnswer:
        asked = self._allowance.asked
        begin = self._first.beginning(layouts)
        try:
            first = self._first.search(begin, lambda: asked.was_asked and not has_others)
            found = self._priced(begin, first)
        except StockTooSmallError:
            made = self._priced(begin, None)
            if made is None:
                raise
            found = made
        assert found is not None
        return self._tidied(found)

    def _cost(self, found: BreakDownAnswer | None) -> int:
        """Return what an answer costs; without one, more than any does."""
        if found is not None:
            return self._tariff.of(found.sheets)
        cuts = self._sheets.limits.max_cuts * self._tariff.rate
        return (self._sheets.panels + 1) * (max(self._tariff.costs) + cuts)

    def _priced(
        self, begin: PurchaseTrial, found: BreakDownAnswer | None
    ) -> BreakDownAnswer | None:
        """Return an answer that costs no more: sheets chosen by what the panels are worth."""
        self._chooser.add([LaidOutSheet(sheet) for opening in begin.openings for sheet in opening])
        rounds, misses = self._parameters.first_rounds, 0
        while (
            misses < self._parameters.misses
            and self._cost(found) > self._least
            and not self._is_over()
        ):
            if found is not None:
                self._chooser.add(*found.laid())
            is_settled = self._chooser.generate(rounds, self._is_over)
            before = self._cost(found)
            found = self._chosen(found)
            found = self._rounded(found)
            if is_settled:
                step = 1 if self._is_hopeful(found) else self._parameters.hopeless
                misses = 0 if self._cost(found) < before else misses + step
                self._chooser.vary(self._is_over)
            rounds *= 2
        return found

    def _is_hopeful(self, found: BreakDownAnswer | None) -> bool:
        """Say whether the relaxed choice costs less than an answer does."""
        unit = gcd(self._unit(), self._tariff.rate)
        return found is None or -(-int(self._chooser.relaxed()[0]) // unit) * unit < self._cost(
            found
        )

    def _unit(self) -> int:
        """Return the step in which costs of sheets differ."""
        return gcd(*(cost for cost in self._tariff.costs if cost)) or 1

    def _chosen(self, found: BreakDownAnswer | None) -> BreakDownAnswer | None:
        """Return an answer that costs no more, of the columns known."""
        cost = self._cost(found)
        # Once the time is over, a last and short look.
        nodes = 1 if self._is_over() else self._parameters.choice_nodes
        chosen = self._chooser.cheapest(cost - 1, nodes, lambda: self._allowance.asked.was_asked)
        made = None if chosen is None else self._made(chosen, 1)
        return found if made is None or self._cost(made) >= cost else made

    def _rounded(self, found: BreakDownAnswer | None) -> BreakDownAnswer | None:
        """Return an answer that costs no more: near the relaxed choice, the rest searched for.

        The goal is halfway between what the relaxed choice costs and what the answer does, and
        rises where it is missed.
        """
        unit = self._unit()
        cost, paid = self._chooser.relaxed()
        least = -(-int(cost - paid) // unit)
        for number in range(self._parameters.goals):
            # Once the time is over, a last and short look.
            is_last = self._is_over()
            if is_last and number:
                break
            cost = self._cost(None) if found is None else self._tariff.of_sheets(found.sheets)
            most = (cost - 1) // unit
            if most < least or self._cost(found) <= self._least:
                break
            goal = (least + most) // 2
            made = self._made(
                self._chooser.rounded(goal * unit), 1 if is_last else self._parameters.long_try
            )
            if made is not None and self._cost(made) < self._cost(found):
                found = made
            else:
                least = goal + 1
        return found

    def _made(self, chosen: Sequence[ChosenSheet], times: int) -> BreakDownAnswer | None:
        """Return an answer on chosen sheets; None if some panel finds no place on them."""
        laid: list[LaidOutSheet] = []
        on_offcuts: list[tuple[int, Strip | Cell]] = []
        for one in chosen:
            if one.kind in self._sheets.splitters:
                sheet = self._sheets.broken(one.kind, one.filled.pattern)
                laid += [LaidOutSheet(sheet, one.filled.trees)] * one.times
            else:
                number = self._sheets.offcuts.index(one.kind)
                on_offcuts += [(number, tree) for _, tree in one.filled.trees] * one.times
        return self._placer.place(laid, tuple(on_offcuts), times).found

    def _tidied(self, found: BreakDownAnswer) -> BreakDownAnswer:
        """Return an answer on the same sheets with fewer cuts and settings at the store."""
        idle = looks = 0
        while (
            found.sheets
            and idle < self._parameters.tidy_tries
            and (looks < self._parameters.least_tidy_tries or not self._is_over())
        ):
            idle += 1
            looks += 1
            place = self._rng.randrange(len(found.sheets))
            broken = found.sheets[place]
            same = [one.pattern for one in found.sheets if one.kind == broken.kind]
            patterns = [*dict.fromkeys(same), *self._sheets.splitters[broken.kind].seeds()]
            laid, on_offcuts = found.laid()
            laid[place] = LaidOutSheet(with_pattern(broken, self._rng.choice(patterns)))
            if _effort([one.sheet for one in laid]) < _effort(found.sheets):
                better = self._placer.place(laid, on_offcuts).found
                if better is not None:
                    found, idle = better, 0
        return found


def _effort(sheets: Sequence[BrokenSheet]) -> tuple[int, int]:
    """Return the store's cuts and distances of a mix, to compare it by."""
    distances = {size for one in sheets for size in sizes_of(one.pattern)}
    return sum(one.cuts for one in sheets) + len(distances), len(distances)

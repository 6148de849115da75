"""The most valuable panels on blanks of a limited stock: what is broken down how, what is left out.

All sheets that there are get broken down in one way after the other: so as to follow the most
valuable panels on whole sheets, plainly, with blanks for parts that are left out, and at random
near the best way seen. Each way is judged by what the panels on its blanks are worth.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutlist.breakdown.blanks import (
    BlankKind,
    BrokenSheet,
    times_used,
    with_pattern,
    without_idle,
)
from cutlist.nesting.bounds import lower_bound
from cutlist.nesting.problem import Nesting, Problem
from cutlist.nesting.search.knapsack import BestPanels, best_value
from cutlist.nesting.stopping import AfterSteps, FirstOf, Standing, StopRule
from cutlist.planning.packing.break_down import store_sheets, tariff_of
from cutlist.planning.packing.shortage import Selection, panels_of, values_of
from cutlist.planning.terms.parameters import USUAL, PartialParameters

if TYPE_CHECKING:
    from cutlist.breakdown.answer import Tariff
    from cutlist.breakdown.patterns import Pattern
    from cutlist.breakdown.store_sheets import StoreSheets
    from cutlist.nesting.allowance import Allowance
    from cutlist.planning.dividing.groups import Division, Group
    from cutlist.sequencing.fence import Fence

#: Ends a search after its first answer.
_AT_ONCE = AfterSteps(0)


@dataclass(frozen=True, slots=True)
class _Way:
    """Sheets broken down, and the most valuable panels found on their blanks."""

    sheets: tuple[BrokenSheet, ...]
    kinds: tuple[BlankKind, ...]
    problem: Problem
    chosen: BestPanels


def most_valuable_broken(
    division: Division,
    group: Group,
    *,
    seed: int,
    allowance: Allowance,
    parameters: PartialParameters = USUAL.partial,
) -> tuple[Group, Selection]:
    """Choose the most valuable panels that the stock of a group gives once it is broken down.

    Parameters
    ----------
    division
        The job and its shop.
    group
        Its problem has whole sheets for bins; their number is limited.
    seed
        With equal seeds and an allowance of steps alone, equal answers.
    allowance
        What the search may take, and is charged with; some answer there is at once.
    parameters
        What it is tuned by.

    Returns
    -------
    tuple
        The group with blanks for bins, and what is cut from them.
    """
    problem = group.problem
    sheets, tariff = store_sheets(division, group), tariff_of(division, group)
    values = values_of([division.job.parts[part] for part in group.parts])
    search = _MixSearch(problem, values, sheets, division.fence, tariff, seed, parameters)
    way = search.run(allowance.rule())
    allowance.spend(search.steps)
    cut = Counter(part for layout in way.chosen.layouts for part in panels_of(layout))
    items = tuple(replace(item, qty=cut[index]) for index, item in enumerate(problem.items))
    # Panels on either side of a store's cut lie as far apart as that takes.
    apart = min(problem.kerf, sheets.limits.apart)
    bound = lower_bound(replace(problem, items=items, kerf=apart))
    cost = tariff.of(way.sheets)
    nesting = Nesting(
        layouts=way.chosen.layouts,
        cost=cost,
        bound=bound.cost,
        sheets=len(way.sheets),
        sheets_bound=bound.sheets,
        steps=search.steps,
    )
    broken = group.broken(way.sheets, way.kinds, way.problem, cost)
    left_out = tuple(item.qty - cut[index] for index, item in enumerate(problem.items))
    return broken, Selection(nesting, left_out)


class _MixSearch:
    def __init__(
        self,
        problem: Problem,
        values: Sequence[int],
        sheets: StoreSheets,
        fence: Fence,
        tariff: Tariff,
        seed: int,
        parameters: PartialParameters,
    ) -> None:
        self._problem = problem
        self._values = values
        self._parameters = parameters
        self._sheets = sheets
        self._fence = fence
        self._tariff = tariff
        self._seed = seed
        self._rng = random.Random(seed)
        self._placing_steps = sheets.placing_steps
        self.steps = 0

    def run(self, stop: StopRule) -> _Way:
        """Look at one way after the other; return the best, without the sheets it does not need."""
        total = sum(
            value * item.qty for value, item in zip(self._values, self._problem.items, strict=True)
        )

        def is_over() -> bool:
            return stop(Standing(self.steps, None, 0))

        glances = [self._look(mix, _AT_ONCE) for mix in self._openings()]
        best = max(glances, key=self._rank)
        idle = 0
        while not (idle >= self._parameters.patience or best.chosen.value == total or is_over()):
            way = self._look(best.sheets, stop) if idle == 0 else self._near(best, stop)
            idle += 1
            if self._rank(way) > self._rank(best):
                best, idle = way, 1
        return best

    def _near(self, best: _Way, stop: StopRule) -> _Way:
        """Glance at some ways near the best one, and look at the most promising of them."""
        glances = [
            self._look(self._changed(best), _AT_ONCE) for _ in range(self._parameters.glances)
        ]
        return self._look(max(glances, key=self._rank).sheets, stop)

    def _rank(self, way: _Way) -> tuple[int, int, int]:
        """Return what a way is judged by: the worth of the panels, then cost, then cuts."""
        cuts = sum(sheet.cuts for sheet in way.sheets)
        return way.chosen.value, -self._tariff.of(way.sheets), -cuts

    def _openings(self) -> Iterator[tuple[BrokenSheet, ...]]:
        """Yield the ways to begin with, of all sheets there are."""
        seeds = {kind: splitter.seeds() for kind, splitter in self._sheets.splitters.items()}
        whole = self._most_valuable(self._problem, AfterSteps(self._placing_steps))
        followed = Counter[int]()
        mix: list[BrokenSheet] = []
        for layout in whole.layouts:
            if layout.stock in seeds:
                followed[layout.stock] += layout.copies
                mix += [self._sheets.following(layout)] * layout.copies
        for kind, count in self._stock():
            mix += [self._sheets.broken(kind, seeds[kind][0])] * (count - followed[kind])
        yield tuple(sorted(mix, key=lambda one: one.kind))
        for number in range(self._parameters.plain):
            yield self._all({kind: found[number % len(found)] for kind, found in seeds.items()})
        order = sorted(range(len(self._values)), key=lambda item: -self._values[item])
        for item in order[: self._parameters.plain]:
            held = {kind: self._sheets.holding(kind, item) for kind in seeds}
            yield self._all({kind: (held[kind] or seeds[kind])[0] for kind in seeds})

    def _stock(self) -> Iterator[tuple[int, int]]:
        """Yield each sheet with the number there is; more than one for each panel serve nothing."""
        for kind in self._sheets.splitters:
            available = self._problem.bins[kind].available
            most = self._sheets.panels
            yield kind, most if available is None else min(available, most)

    def _all(self, patterns: dict[int, Pattern]) -> tuple[BrokenSheet, ...]:
        return tuple(
            self._sheets.broken(kind, patterns[kind])
            for kind, count in self._stock()
            for _ in range(count)
        )

    def _changed(self, best: _Way) -> tuple[BrokenSheet, ...]:
        """Return the best way with one sheet, or all that are like it, broken down otherwise."""
        rng = self._rng
        cut = Counter(part for layout in best.chosen.layouts for part in panels_of(layout))
        mix = list(best.sheets)
        # Sheets that were not needed come back, to serve in another way.
        there = Counter(one.kind for one in mix)
        for kind, count in self._stock():
            plain = rng.choice(self._sheets.splitters[kind].seeds())
            mix += [self._sheets.broken(kind, plain)] * (count - there[kind])
        place = rng.randrange(len(mix))
        kind = mix[place].kind
        left = [i for i, item in enumerate(self._problem.items) if cut[i] < item.qty]
        held = self._sheets.holding(kind, rng.choice(left)) if left else []
        if held and rng.random() < self._parameters.for_left_out:
            pattern = rng.choice(held)
        else:
            pattern = self._sheets.splitters[kind].any_pattern(rng)
        if rng.random() < self._parameters.all_alike:
            like = mix[place]
            mix = [with_pattern(one, pattern) if one == like else one for one in mix]
        else:
            mix[place] = with_pattern(mix[place], pattern)
        return tuple(sorted(mix, key=lambda one: one.kind))

    def _look(self, mix: tuple[BrokenSheet, ...], stop: StopRule) -> _Way:
        """Find the most valuable panels on the blanks of some sheets, and leave what is idle."""
        kinds, problem = self._sheets.on_blanks(mix, self._fence)
        chosen = self._most_valuable(problem, stop)
        needed = without_idle(mix, kinds, times_used(chosen.layouts, kinds))
        fewer, smaller = self._sheets.on_blanks(needed, self._fence)
        number_of = {_key(kind): number for number, kind in enumerate(fewer)}
        numbers = [number_of.get(_key(kind)) for kind in kinds]
        numbers += [len(fewer) + number for number in range(len(self._sheets.offcuts))]
        layouts = []
        for layout in chosen.layouts:
            stock = numbers[layout.stock]
            assert stock is not None, "a blank that is used is of a sheet that is needed"
            layouts.append(replace(layout, stock=stock))
        return _Way(needed, fewer, smaller, replace(chosen, layouts=tuple(layouts)))

    def _most_valuable(self, problem: Problem, stop: StopRule) -> BestPanels:
        self._seed += 1
        found = best_value(
            problem,
            self._values,
            seed=self._seed,
            stop=FirstOf(
                AfterSteps(self._placing_steps),
                lambda standing: stop(replace(standing, steps=self.steps + standing.steps)),
            ),
        )
        self.steps += max(int(self._parameters.least_charge * self._placing_steps), found.steps)
        return found


def _key(kind: BlankKind) -> tuple[int, int, object]:
    return kind.bin.length, kind.bin.width, kind.trims

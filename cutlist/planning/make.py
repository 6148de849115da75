"""The main job: divide, nest, choose, sequence, assemble, audit."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from cutlist.audit import audit
from cutlist.errors import AuditError
from cutlist.model.job import Job
from cutlist.model.layout import Layout
from cutlist.model.matching import matched
from cutlist.model.plan import Plan, Shortfall
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.observing import Progress
from cutlist.nesting.problem import Nesting
from cutlist.nesting.stopping import StopRule
from cutlist.planning.assemble import CostBound, assemble
from cutlist.planning.budget import Budget
from cutlist.planning.choose import Choice, Solution, choose
from cutlist.planning.groups import Group, divide
from cutlist.planning.parallel import nest_side_by_side
from cutlist.planning.reasons import in_words
from cutlist.planning.shortage import missing_sheets, most_valuable
from cutlist.planning.watching import GroupObserver, Standing, Watcher
from cutlist.sequencing.sequence import Sequenced, StockLayout, sequence

#: Rounds of packing without a better order before the search ends.
_PATIENCE = 12
#: Solutions of a group compared at a time, in a job of so many panels; fewer in larger ones, since
#: a look at one takes about the square of the panels.
_MOST_CANDIDATES = 32
_SMALL_JOB = 60
_SEED_STEP = 7919


def make_plan(
    job: Job,
    *,
    seed: int = 0,
    budget: Budget | None = None,
    watcher: Watcher | None = None,
    partial: bool = False,
) -> Plan:
    """Plan a job, and audit the plan.

    Parameters
    ----------
    job
        What is asked for.
    seed
        With equal seeds and a budget in steps alone, equal jobs get equal plans.
    budget
        How long to search; the default budget where left out. The search ends by itself once cost
        and settings are proven.
    watcher
        Hears of progress.
    partial
        Where the stock does not suffice, plan the most valuable panels instead of raising.

    Raises
    ------
    CannotCutError
        If a part fits no stock, or the stock does not suffice and the plan may not be partial.
    AuditError
        If the audit refuses the plan.
    StoppedError
        If interrupted before any plan existed.
    """
    return _Planner(job, seed, budget or Budget(), watcher or Watcher(), partial=partial).run()


@dataclass(frozen=True, slots=True)
class _Figures:
    """What progress shows of one group."""

    cost: int
    sheets: int
    bound: int


class _Planner:
    def __init__(
        self, job: Job, seed: int, budget: Budget, watcher: Watcher, *, partial: bool
    ) -> None:
        self._job = job
        self._seed = seed
        self._budget = budget
        self._watcher = watcher
        self._partial = partial
        self._left_out: dict[int, int] = {}
        self._started = time.monotonic()
        self._division = divide(job)
        self._groups = self._division.groups
        self._results: list[Nesting] = []
        self._best: dict[int, _Figures] = {}
        self._solutions: list[dict[Solution, None]] = [{} for _ in self._groups]
        self._sequenced: Sequenced | None = None
        panels = sum(part.qty for part in job.parts)
        affordable = _MOST_CANDIDATES * _SMALL_JOB**2 // panels**2
        self._most = max(1, min(_MOST_CANDIDATES, affordable))

    def run(self) -> Plan:
        self._first_round()
        choice = self._choose(None)
        sequenced = self._sequence(choice)
        idle = 0
        number = 1
        while not self._is_done(sequenced) and idle < _PATIENCE and not self._budget.is_over():
            cheaper = self._another_round(number)
            better = self._choose(None if cheaper else choice)
            idle = idle + 1 if better == choice else 0
            if better != choice:
                choice = better
                sequenced = self._sequence(choice)
            number += 1
        return self._audited(self._assembled(choice, sequenced))

    def _first_round(self) -> None:
        panels = [sum(item.qty for item in group.problem.items) for group in self._groups]
        for index, group in enumerate(self._groups):
            share = panels[index] / sum(panels[index:])
            result = self._first_nesting(index, share)
            self._budget.spend(result.steps)
            self._results.append(result)
            self._remember(index, group, result)

    def _another_round(self, number: int) -> bool:
        """Pack every group once more with another seed; return whether one became cheaper."""
        cheaper = False
        for index, group in enumerate(self._groups):
            if self._budget.is_over():
                break
            if not self._left_out.keys().isdisjoint(group.parts):
                continue
            rule = self._rest_rule(1 / (len(self._groups) - index))
            try:
                result = self._nest(index, self._seed + _SEED_STEP * number, rule)
            except StockTooSmallError:
                # Scarce stock that took luck or long to suffice: the earlier layouts stand.
                continue
            self._budget.spend(result.steps)
            if result.cost < self._results[index].cost:
                self._results[index] = result
                self._solutions[index].clear()
                cheaper = True
            if result.cost == self._results[index].cost:
                self._remember(index, group, result)
        return cheaper

    def _rest_rule(self, share: float) -> Callable[[], StopRule]:
        return lambda: self._budget.rule(share, is_first=False)

    def _first_nesting(self, index: int, share: float) -> Nesting:
        """Pack a group, or as much of it as its stock gives where that is asked for."""
        group = self._groups[index]
        # Where the stock may fall short, half of the time is left to choose what to leave out.
        limited = self._partial and all(b.available is not None for b in group.problem.bins)
        part = share / 2 if limited else share
        try:
            return self._nest(index, self._seed, lambda: self._budget.rule(part, is_first=True))
        except StockTooSmallError as error:
            if not self._partial:
                missing = missing_sheets(group, self._seed)
                raise in_words(self._job, group.parts, error, missing) from error
        except ItemFitsNowhereError as error:
            raise in_words(self._job, group.parts, error) from error
        parts = [self._job.parts[part] for part in group.parts]
        rule = self._budget.rule(share, is_first=True)
        selection = most_valuable(group, parts, self._seed, rule)
        self._left_out |= {
            part: count
            for part, count in zip(group.parts, selection.left_out, strict=True)
            if count
        }
        return selection.nesting

    def _nest(self, index: int, seed: int, rule: Callable[[], StopRule]) -> Nesting:
        return nest_side_by_side(
            self._groups[index].problem,
            seed=seed,
            rule=rule,
            observer=GroupObserver(lambda progress: self._tell(index, progress)),
            is_timed=self._budget.seconds is not None,
        )

    def _remember(self, index: int, group: Group, result: Nesting) -> None:
        for layouts in (result.layouts, *result.alternatives):
            self._solutions[index][_solution(group, layouts)] = None

    def _candidates(self) -> list[list[Solution]]:
        """Return for each group its first solution and the latest ones."""
        kept = []
        for solutions in self._solutions:
            first, *later = solutions
            kept.append([first, *later[max(0, len(later) - self._most + 1) :]])
        return kept

    def _choose(self, best: Choice | None) -> Choice:
        return choose(self._candidates(), self._division.fence, best, self._budget.is_over)

    def _sequence(self, choice: Choice) -> Sequenced:
        self._sequenced = sequence(choice.layouts, self._division.fence)
        return self._sequenced

    def _is_done(self, sequenced: Sequenced) -> bool:
        is_cheapest = all(result.cost == result.bound for result in self._results)
        return is_cheapest and len(sequenced.settings) == sequenced.bound

    def _money(self, costs: int) -> Decimal:
        unit = self._division.money
        return Decimal(0) if unit is None else costs * unit

    def _assembled(self, choice: Choice, sequenced: Sequenced) -> Plan:
        stock = [
            group.stock[entry.layout.stock]
            for group, solution in zip(self._groups, choice.solutions, strict=True)
            for entry in solution
            for _ in range(entry.layout.copies)
        ]
        bound = CostBound(
            cost=self._money(sum(result.bound for result in self._results)),
            is_met=all(result.bound == result.cost for result in self._results),
            sheets=sum(result.sheets_bound for result in self._results),
        )
        plan = assemble(self._job, self._division.grid, stock, sequenced, bound)
        matches = matched(self._job.matches, plan.settings, plan.panels)
        plan = replace(plan, matches=matches)
        if self._left_out:
            parts = self._job.parts
            short = [Shortfall(parts[i].name, self._left_out[i]) for i in sorted(self._left_out)]
            plan = replace(plan, short=tuple(short))
        if self._division.money is None:
            # Without prices every plan costs nothing, and that is proven.
            return replace(plan, bounds=replace(plan.bounds, cost_proven=True))
        return plan

    def _audited(self, plan: Plan) -> Plan:
        findings = audit(plan)
        if findings:
            raise AuditError([str(finding) for finding in findings])
        return plan

    def _tell(self, index: int, progress: Progress) -> None:
        if progress.cost is not None and progress.sheets is not None:
            known = self._best.get(index)
            if known is None or progress.cost < known.cost:
                self._best[index] = _Figures(progress.cost, progress.sheets, progress.bound)
        best = self._best.values()
        is_whole = len(best) == len(self._groups)
        is_priced = is_whole and self._division.money is not None
        self._watcher.heard(
            Standing(
                sheets=sum(figures.sheets for figures in best) if is_whole else None,
                cost=self._money(sum(figures.cost for figures in best)) if is_priced else None,
                bound=self._money(sum(figures.bound for figures in best)) if is_priced else None,
                setups=len(self._sequenced.settings) if self._sequenced else None,
                setups_bound=self._sequenced.bound if self._sequenced else None,
                seconds=time.monotonic() - self._started,
                is_begun=bool(best),
            )
        )


def _solution(group: Group, layouts: Sequence[Layout]) -> Solution:
    def trim(layout: Layout) -> int:
        return group.problem.bins[layout.stock].trim

    return tuple(StockLayout(group.in_job(layout), trim(layout)) for layout in layouts)

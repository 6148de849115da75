"""The main job: divide, nest, choose, sequence, assemble, audit."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil

from cutlist.audit import audit
from cutlist.errors import AuditError, CannotCutError
from cutlist.ledger.matching import matched
from cutlist.model.job import Goal, Job, Sheet
from cutlist.model.plan import Plan, Shortfall, Trade
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.observing import Observer, Progress
from cutlist.nesting.problem import Nesting, Problem
from cutlist.nesting.stopping import FirstOf, StopRule
from cutlist.planning.assemble import CostBound, assemble
from cutlist.planning.break_down import break_down, case_of, refusals, store_sheets, tariff_of
from cutlist.planning.budget import Budget
from cutlist.planning.groups import Group, divide
from cutlist.planning.idle_offcuts import spared
from cutlist.planning.parallel import nest_side_by_side
from cutlist.planning.partial_breakdown import most_valuable_broken
from cutlist.planning.progress import GroupObserver, Standing, Watcher
from cutlist.planning.reasons import in_words
from cutlist.planning.settings_search import Choice, JointSearch
from cutlist.planning.shortage import Selection, missing_sheets, most_valuable
from cutlist.planning.supply import Supply, supply_of
from cutlist.planning.trade_offs import (
    MOST_PANELS,
    Ordered,
    better,
    chosen,
    dearer_choices,
    front_of,
    ordered,
)
from cutlist.planning.transport import why_left_behind
from cutlist.planning.weights import with_charge, with_weights
from cutlist.sequencing.sequence import Sequenced

#: Rounds of searching without fewer settings before the search ends.
_PATIENCE = 32
#: Rounds even where cost and settings are proven already: leftovers may still become larger.
_LEAST_ROUNDS = 6
#: Share of the budget after which the search at the least cost ends, by goal; the rest looks at
#: what a sheet more would spare.
_SEARCH = {Goal.COST: 0.95, Goal.BALANCED: 0.88, Goal.SETUPS: 0.88}
#: Share of the time that is left for settings even where packing took longer than it may, and in
#: large jobs, whose search for settings goes slowly.
_LEAST_SHARE = 0.2
#: Share of what is left for packing that a try to do without an offcut gets.
_SPARING_SHARE = 0.1
_LEAST_SHARE_OF_LARGE = 0.3
#: Share of what is left for packing in which sheets that the store breaks down are laid out whole.
_WHOLE_SHARE = 0.2


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
        self._sequenced: Sequenced | None = None
        self._is_small = sum(part.qty for part in job.parts) <= MOST_PANELS

    def run(self) -> Plan:
        self._first_round()
        self._budget.ensure(_LEAST_SHARE if self._is_small else _LEAST_SHARE_OF_LARGE)
        cheapest = self._fewest_settings()
        dearer = self._dearer(cheapest.choice)
        front = front_of([cheapest, *(ordered(self._division, choice) for choice in dearer)])
        made = chosen(self._job, self._division.money, front)
        plan = self._assembled(made)
        if dearer:
            plan = replace(plan, trades=tuple(self._trade(one, made) for one in front))
        return self._audited(with_charge(with_weights(plan)))

    def _fewest_settings(self) -> Ordered:
        """Search the cheapest layouts for those with the fewest settings."""
        search = JointSearch(
            self._groups,
            self._division.fence,
            [result.layouts for result in self._results],
            seed=self._seed,
            keep=self._least_kept(),
        )
        best = ordered(self._division, search.best) if self._is_small else None
        share = _SEARCH[self._job.goal]
        idle = rounds = 0
        while idle < _PATIENCE and not self._budget.is_over(share):
            if self._is_done(best) and rounds >= _LEAST_ROUNDS:
                break
            rounds += 1
            before, spent = search.best, search.steps
            search.round(lambda: self._budget.is_over(share), self._budget.steps_left(share))
            self._budget.spend(search.steps - spent)
            rank = search.best.rank
            idle += 1
            self._show()
            if (rank.cost, rank.settings) < (before.rank.cost, before.rank.settings):
                idle = 0
                self._note_costs(search)
                if self._is_small:
                    best = better(best, ordered(self._division, search.best))
                    self._sequenced = best.sequenced
        if best is None or best.choice is not search.best:
            best = better(best, ordered(self._division, search.best))
        return best

    def _dearer(self, cheapest: Choice) -> list[Choice]:
        """Look for plans with fewer settings that buy more; none in a large or a partial job."""
        if not self._is_small or self._left_out:
            return []

        def spend(steps: int) -> int | None:
            self._budget.spend(steps)
            return self._budget.steps_left()

        return dearer_choices(
            self._division,
            cheapest,
            seed=self._seed,
            keep=self._least_kept(),
            is_over=self._budget.is_over,
            spend=spend,
        )

    def _trade(self, one: Ordered, made: Ordered) -> Trade:
        supply = self._supply(one.choice)
        bought = (stock for _, stock in supply.workpieces if isinstance(stock, Sheet))
        prices = [stock.price or Decimal(0) for stock in bought]
        return Trade(len(prices), sum(prices, Decimal(0)), one.settings, one is made)

    def _least_kept(self) -> list[tuple[int, int]]:
        """Return each group's least offcut worth keeping in grid units, the longer side first."""
        out = []
        for group in self._groups:
            keep = self._job.least_kept(group.material)
            sides = [ceil(side / self._division.grid.unit) for side in (keep.length, keep.width)]
            out.append((max(sides), min(sides)))
        return out

    def _note_costs(self, search: JointSearch) -> None:
        """Take over what the search for settings made cheaper by chance."""
        for index, (group, result) in enumerate(zip(self._groups, self._results, strict=True)):
            if search.cost(index) < result.cost:
                layouts = search.best.solutions[index]
                sheets = sum(
                    layout.copies for layout in layouts if group.problem.bins[layout.stock].cost
                )
                cost = search.cost(index)
                self._results[index] = replace(result, layouts=layouts, cost=cost, sheets=sheets)
                self._best[index] = _Figures(cost, sheets, result.bound)

    def _first_round(self) -> None:
        if len(self._groups) > 1:
            grid, fence = self._division.grid, self._division.fence
            reasons = refusals(self._job, self._groups, grid, fence)
            if reasons:
                raise CannotCutError(reasons)
        panels = [sum(item.qty for item in group.problem.items) for group in self._groups]
        for index in range(len(self._groups)):
            share = panels[index] / sum(panels[index:])
            result = self._first_nesting(index, share)
            self._budget.spend(result.steps)
            self._results.append(self._sparing(index, result))

    def _first_nesting(self, index: int, share: float) -> Nesting:
        """Pack a group, or as much of it as its stock gives where that is asked for."""
        group = self._groups[index]
        if group.limits is not None:
            return self._broken_down(index, share)
        # Where the stock may fall short, half of the time is left to choose what to leave out.
        part = share / 2 if self._partial and _is_limited(group) else share
        try:
            return self._nest(index, self._seed, lambda: self._budget.rule(part))
        except StockTooSmallError as error:
            if not self._partial:
                raise self._in_words(index, error) from error
        except ItemFitsNowhereError as error:
            raise self._in_words(index, error) from error
        parts = [self._job.parts[part] for part in group.parts]
        rule = self._budget.rule(share)
        selection = most_valuable(group, parts, self._seed, rule)
        self._note_left_out(group, selection)
        return selection.nesting

    def _sparing(self, index: int, result: Nesting) -> Nesting:
        """Leave offcuts in the rack that save no money."""
        group = self._groups[index]
        if group.limits is not None or not self._left_out.keys().isdisjoint(group.parts):
            return result

        def pack(problem: Problem, is_reached: StopRule) -> Nesting:
            found = nest_side_by_side(
                problem,
                seed=self._seed,
                rule=lambda: FirstOf(self._budget.rule(_SPARING_SHARE), is_reached),
                observer=Observer(),
                is_timed=self._budget.seconds is not None,
            )
            self._budget.spend(found.steps)
            return found

        problem, spared_result = spared(group.problem, result, pack)
        self._put_group(index, replace(group, problem=problem))
        return spared_result

    def _put_group(self, index: int, group: Group) -> None:
        self._groups = (*self._groups[:index], group, *self._groups[index + 1 :])
        self._division = replace(self._division, groups=self._groups)

    def _broken_down(self, index: int, share: float) -> Nesting:
        """Pack a group on the blanks that the store makes of its sheets."""
        group = self._groups[index]
        try:
            part = share * _WHOLE_SHARE
            on_whole = self._nest(index, self._seed, lambda: self._budget.rule(part))
            self._budget.spend(on_whole.steps)
            broken, nesting = break_down(
                self._job,
                group,
                self._division.grid,
                self._division.fence,
                on_whole,
                money=self._division.money,
                seed=self._seed,
                budget=self._budget,
                share=share,
                is_late=bool(self._results),
            )
        except (ItemFitsNowhereError, StockTooSmallError) as error:
            is_short = isinstance(error, StockTooSmallError)
            if not (self._partial and is_short and _is_limited(group)):
                raise self._in_words(index, error) from error
            broken, nesting = self._partly_broken_down(group, share)
        self._put_group(index, broken)
        self._best[index] = _Figures(nesting.cost, nesting.sheets, nesting.bound)
        return nesting

    def _partly_broken_down(self, group: Group, share: float) -> tuple[Group, Nesting]:
        """Pack as much of a group on the blanks of its sheets as there is stock for."""
        broken, selection = most_valuable_broken(
            group,
            [self._job.parts[part] for part in group.parts],
            store_sheets(group, self._division.grid, self._division.fence),
            self._division.fence,
            tariff_of(self._job, group, self._division.money),
            seed=self._seed,
            stop=self._budget.rule(share, workers=1),
        )
        self._note_left_out(group, selection)
        return broken, selection.nesting

    def _note_left_out(self, group: Group, selection: Selection) -> None:
        self._left_out |= {
            part: count
            for part, count in zip(group.parts, selection.left_out, strict=True)
            if count
        }

    def _in_words(
        self, index: int, error: ItemFitsNowhereError | StockTooSmallError
    ) -> CannotCutError:
        """Tell why a group cannot be cut, and what would help."""
        group = self._groups[index]
        is_short = isinstance(error, StockTooSmallError)
        missing = missing_sheets(group, self._seed) if is_short else {}
        why = ""
        if group.left_behind:
            lost = list(error.short if isinstance(error, StockTooSmallError) else error.items)
            why = why_left_behind(case_of(self._job, group, self._division.grid, lost))
        told = in_words(
            self._job, group.parts, error, missing, left_behind=group.left_behind, why=why
        )
        # Of sheets that are broken down part is planned only where each runs out.
        helps = group.limits is None or _is_limited(group)
        return told if helps else CannotCutError(told.reasons)

    def _nest(self, index: int, seed: int, rule: Callable[[], StopRule]) -> Nesting:
        return nest_side_by_side(
            self._groups[index].problem,
            seed=seed,
            rule=rule,
            observer=GroupObserver(lambda progress: self._tell(index, progress)),
            is_timed=self._budget.seconds is not None,
        )

    def _is_done(self, best: Ordered | None) -> bool:
        """Say whether cost and settings are proven, and all matches that has to.

        The order of a large job is worked out last.
        """
        is_cheapest = all(result.cost == result.bound for result in self._results)
        if best is None or best.sequenced.apart:
            return False
        return is_cheapest and best.settings == best.sequenced.bound

    def _money(self, costs: int) -> Decimal:
        unit = self._division.money
        return Decimal(0) if unit is None else costs * unit

    def _supply(self, choice: Choice) -> Supply:
        return supply_of(self._groups, choice.solutions)

    def _assembled(self, made: Ordered) -> Plan:
        least = sum(result.bound for result in self._results)
        bound = CostBound(
            cost=self._money(least),
            sheets=sum(result.sheets_bound for result in self._results),
        )
        supply = self._supply(made.choice)
        plan = assemble(self._job, self._division.grid, supply, made.sequenced, bound)
        matches = matched(self._job.matches, plan.settings, plan.panels)
        plan = replace(plan, matches=matches)
        if self._left_out:
            parts = self._job.parts
            short = [Shortfall(parts[i].name, self._left_out[i]) for i in sorted(self._left_out)]
            plan = replace(plan, short=tuple(short))
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
        self._show()

    def _show(self) -> None:
        """Let the watcher hear how the plan stands."""
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


def _is_limited(group: Group) -> bool:
    """Say whether there is only so much of everything that a group is cut from."""
    return all(piece.available is not None for piece in group.problem.bins)

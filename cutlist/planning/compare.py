"""The same parts on each sheet size that could serve, and on the best mix.

Where the job has a store's saw and a vehicle, each is planned with the store's cuts and without.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Protocol

from cutlist.audit import audit
from cutlist.errors import AuditError, CannotCutError, Reason
from cutlist.model.job import Goal, Job, Sheet
from cutlist.model.plan import Bounds, Place, Plan
from cutlist.model.variants import Variant, Varied
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.stopping import WhenAsked
from cutlist.planning.make import make_plan
from cutlist.planning.remedies.transport import goes_in, not_whole
from cutlist.planning.terms.parameters import SEARCHES

__all__ = ["CompareWatcher", "Variant", "compare", "side_by_side"]

#: Seconds between two looks whether to end early.
_LOOK = 0.1
#: Bounds of a plan that took the place of one that was not found: nothing is proven of it.
_NOTHING_PROVEN = Bounds(Decimal(0), cost_proven=False, sheets=0, setups=0, setups_proven=False)


class Planner(Protocol):
    """Makes a plan, as :func:`~cutlist.planning.make.make_plan` does."""

    def __call__(self, job: Job, /, *, seed: int, allowance: Allowance) -> Plan:
        """Return a plan that passed the audit."""
        ...


class CompareWatcher:
    """Does nothing; override to be told. Calls come from several threads, and must not raise."""

    def began(self, variant: Variant) -> None:
        """Hear that the plan of a variant is begun; it has none yet."""

    def ended(self, done: int, of: int) -> None:
        """Hear how many of the plans are done."""


#: Seconds for each plan where no allowance is given.
ROW_SECONDS = 2.0


def _usual_allowance() -> Allowance:
    return Allowance(ROW_SECONDS)


@dataclass(frozen=True, slots=True)
class _Task:
    """A variant still to be planned, and the job that it is planned by."""

    job: Job
    variant: Variant

    @property
    def key(self) -> tuple[Job, tuple[Reason, ...]]:
        """Tell what is asked for apart, and what cannot be from the start."""
        return self.job, self.variant.reasons


def side_by_side(*, is_timed: bool) -> int:
    """Return how many plans to make at once: one plan alone keeps :data:`SEARCHES` cores busy.

    A budget of time buys the less the more share the cores, so those that wait wait. A budget of
    steps buys the same, and cores that a plan leaves idle between its searches are used.
    """
    cores = os.cpu_count() or 1
    return max(1, cores // SEARCHES if is_timed else cores)


def compare(
    job: Job,
    *,
    seed: int = 0,
    allowance: Callable[[], Allowance] = _usual_allowance,
    varied: Sequence[tuple[Varied, Job]] = (),
    watcher: CompareWatcher | None = None,
    at_once: int = 1,
    asked: WhenAsked | None = None,
    plan: Planner = make_plan,
) -> list[Variant]:
    """Plan every material of a job on each of its sheets alone, and on all of them.

    Offcuts on hand are allowed throughout. With equal seeds and budgets in steps alone, equal
    variants come out, however many are planned at once. What comes to the same job, as where the
    value that is varied does not matter, is planned once.

    Parameters
    ----------
    job
        What is asked for.
    allowance
        Makes a fresh one for each plan.
    varied
        The same job with some values changed: each is planned in place of it.
    watcher
        Hears of progress.
    at_once
        Plans made side by side.
    asked
        Ends the comparison early: what is not planned to its end then is left without a plan.
    plan
        Makes each of the plans.

    Returns
    -------
    list
        By material, then by sheets, with the store's cuts before without, then by what is varied.
        No mix is worse, by the job's goal, than one of its sheets alone, nor a plan with the
        store's cuts than the one without.
    """
    ears = watcher or CompareWatcher()
    asked = asked or WhenAsked()
    tasks = _in_order([task for one in varied or [((), job)] for task in _tasks(*one)])
    # The first task of each job, and which of them each task is planned by.
    alone = dict[tuple[Job, tuple[Reason, ...]], _Task]()
    for task in tasks:
        alone.setdefault(task.key, task)
    begun: list[Allowance] = []

    ears.ended(0, len(alone))

    def run(task: _Task) -> Variant:
        ears.began(task.variant)
        own = allowance()
        begun.append(own)
        return _planned(task, plan, seed, own)

    def run_all(pool: ThreadPoolExecutor) -> dict[tuple[Job, tuple[Reason, ...]], Variant]:
        futures = {pool.submit(run, task): key for key, task in alone.items()}
        made: dict[tuple[Job, tuple[Reason, ...]], Variant] = {}
        waiting: set[Future[Variant]] = set(futures)
        while waiting and not asked.was_asked:
            ended, waiting = wait(waiting, timeout=_LOOK, return_when=FIRST_COMPLETED)
            made |= {futures[one]: one.result() for one in ended}
            if ended:
                ears.ended(len(made), len(alone))
        return made

    with ThreadPoolExecutor(max(1, at_once)) as pool:
        try:
            made = run_all(pool)
        finally:
            # The threads end as soon as they notice; those that wait never begin.
            pool.shutdown(wait=False, cancel_futures=True)
            for one in begun:
                one.asked.ask()
    return _no_worse(tasks, [_shared(task, made.get(task.key)) for task in tasks])


def _tasks(varied: Varied, job: Job) -> Iterator[_Task]:
    for key in dict.fromkeys((part.material, part.thickness) for part in job.parts):
        parts = tuple(part for part in job.parts if (part.material, part.thickness) == key)
        offcuts = tuple(cut for cut in job.offcuts if (cut.material, cut.thickness) == key)
        of_material = replace(job, parts=parts, offcuts=offcuts)
        for sheets, is_mix in _choices(job, key):
            names = tuple(sheet.name for sheet in sheets)
            variant = Variant(*key, names, is_mix, None, varied=varied)
            whole = tuple(sheet for sheet in sheets if goes_in(sheet, job))
            if job.store is None or whole == sheets:
                # The store's cuts would change nothing.
                yield _Task(replace(of_material, sheets=sheets), variant)
                continue
            with_cuts = replace(variant, store_cuts=True)
            yield _Task(replace(of_material, sheets=sheets), with_cuts)
            without = replace(variant, store_cuts=False)
            if not whole and not offcuts:
                without = replace(without, reasons=(not_whole(job, sheets),))
            yield _Task(replace(of_material, sheets=whole, store=None), without)


def _choices(job: Job, key: tuple[str, Fraction]) -> Iterator[tuple[tuple[Sheet, ...], bool]]:
    sheets = tuple(sheet for sheet in job.sheets if (sheet.material, sheet.thickness) == key)
    if len(sheets) > 1:
        for sheet in sheets:
            yield (sheet,), False
    yield sheets, True


def _in_order(tasks: Sequence[_Task]) -> list[_Task]:
    """Bring together what differs only in what is varied."""
    keys = [
        (one.variant.material, one.variant.thickness, one.variant.sheets, one.variant.store_cuts)
        for one in tasks
    ]
    materials = list(dict.fromkeys(key[:2] for key in keys))
    ways = list(dict.fromkeys(keys))
    order = sorted(
        range(len(tasks)),
        key=lambda index: (materials.index(keys[index][:2]), ways.index(keys[index])),
    )
    return [tasks[index] for index in order]


def _planned(task: _Task, make: Planner, seed: int, allowance: Allowance) -> Variant:
    if task.variant.reasons:
        return task.variant
    try:
        plan = make(task.job, seed=seed, allowance=allowance)
    except CannotCutError as error:
        return replace(task.variant, reasons=error.reasons)
    return replace(task.variant, plan=plan)


def _shared(task: _Task, made: Variant | None) -> Variant:
    """Give a task the plan made for its job, or none where the comparison ended before."""
    if made is None:
        return replace(task.variant, is_planned=False)
    return replace(task.variant, plan=made.plan, reasons=made.reasons)


def _no_worse(tasks: Sequence[_Task], made: Sequence[Variant]) -> list[Variant]:
    """Give each variant the best of all plans that were made and that its job allows.

    The plan of one sheet alone is a plan of the mix too, and one without the store's cuts a plan
    for a store that may make some: a short search can miss them.
    """
    out = []
    for task, variant in zip(tasks, made, strict=True):
        if not variant.is_planned:
            out.append(variant)
            continue
        best = variant
        for other in made:
            if other.plan is not None and _allows(variant, other, other.plan):
                plan = _as_planned_by(task.job, other.plan, variant.plan)
                if best.plan is None or _is_better(plan, best.plan):
                    best = replace(variant, plan=plan, reasons=())
        if best is not variant and best.plan is not None and (findings := audit(best.plan)):
            raise AuditError([str(finding) for finding in findings])
        out.append(best)
    return out


def _allows(variant: Variant, other: Variant, plan: Plan) -> bool:
    """Say whether the plan made for another variant would do for this one."""
    alike = (variant.material, variant.thickness, variant.varied)
    return (
        variant is not other
        and alike == (other.material, other.thickness, other.varied)
        and {line.sheet for line in plan.buy} <= set(variant.sheets)
        and (
            variant.store_cuts is True
            or all(setting.place is not Place.STORE for setting in plan.settings)
        )
    )


def _as_planned_by(job: Job, plan: Plan, found: Plan | None) -> Plan:
    """Return a plan as one for a job that allows more, with what is proven for that job."""
    bounds = _NOTHING_PROVEN if found is None else found.bounds
    return replace(
        plan,
        job=job,
        bounds=replace(
            plan.bounds,
            cost=bounds.cost,
            cost_proven=bounds.cost == plan.totals.cost,
            sheets=min(bounds.sheets, plan.totals.sheets),
        ),
    )


def _is_better(one: Plan, other: Plan) -> bool:
    """Compare two plans of the same job by its goal."""
    (cost, time, waste), (cost_2, time_2, waste_2) = map(_rank, (one, other))
    if one.job.goal is Goal.SETUPS:
        return (time, cost, waste) < (time_2, cost_2, waste_2)
    if one.job.goal is Goal.COST:
        return (cost, time, waste) < (cost_2, time_2, waste_2)
    price = one.job.price_of(Fraction(1))
    if price is not None:
        worth = Fraction(price)
        return (cost + time[0] * worth, waste) < (cost_2 + time_2[0] * worth, waste_2)
    # As within a plan: each counted in parts of the lesser.
    dear, long = max(Fraction(1), min(cost, cost_2)), max(Fraction(1), min(time[0], time_2[0]))
    return (cost * long + time[0] * dear, waste) < (cost_2 * long + time_2[0] * dear, waste_2)


def _rank(plan: Plan) -> tuple[Fraction, tuple[Fraction, int], Fraction]:
    """Return cost, time and number of set-ups, and waste; without prices the area is the cost."""
    cost = Fraction(plan.totals.cost)
    if plan.buy and all(line.price_each is None for line in plan.buy):
        cost = sum((line.length * line.width * line.count for line in plan.buy), Fraction(0))
    minutes = {saw.name: plan.job.minutes_of(saw) for saw in plan.job.tools}
    time = sum(
        (minutes[setting.tool] for setting in plan.settings if setting.place is Place.SHOP),
        Fraction(0),
    )
    return cost, (time, plan.totals.setups), plan.totals.waste_percent

"""A group whose sheets the store breaks down: from whole layouts to layouts on blanks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutlist.breakdown.answer import Tariff
from cutlist.breakdown.search import BreakDown
from cutlist.breakdown.store_sheets import StoreSheets
from cutlist.errors import CannotCutError, Reason
from cutlist.model.job import Job, Sheet
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.bounds import lower_bound
from cutlist.nesting.layouts.reach import fits
from cutlist.nesting.problem import Nesting
from cutlist.planning.dividing.groups import Division, Group
from cutlist.planning.remedies.remedies import Case
from cutlist.planning.remedies.transport import parts_too_large


def break_down(
    division: Division,
    group: Group,
    nesting: Nesting,
    *,
    seed: int,
    allowance: Allowance,
    has_others: bool = False,
) -> tuple[Group, Nesting]:
    """Choose the sheets of a group and how each is broken down.

    Parameters
    ----------
    division
        The job, its grid and its shop.
    group
        Its problem has whole sheets for bins.
    nesting
        The answer to it.
    seed
        With equal seeds and an allowance of steps alone, equal answers.
    allowance
        What the search may take, and is charged with.
    has_others
        Whether other groups have their answer: who asks to stop then gets the first one of this.

    Returns
    -------
    tuple
        The group with blanks for bins, and layouts on them.

    Raises
    ------
    CannotCutError
        If a part fits no blank that the store can make and the vehicle takes.
    StockTooSmallError, StoppedError
        As of the search.
    """
    job = division.job
    sheets = store_sheets(division, group)
    reasons = _too_large(division, group, sheets)
    if reasons:
        raise CannotCutError(reasons)
    tariff = tariff_of(division, group)
    bound, sheets_bound = _bound(job, group, sheets, nesting, tariff)
    search = BreakDown(
        sheets, division.fence, tariff=tariff, least=bound, seed=seed, allowance=allowance
    )
    found = search.search(nesting.layouts, has_others=has_others)
    broken = group.broken(found.sheets, found.kinds, found.problem, found.nesting.cost)
    answer = replace(
        found.nesting, bound=bound, sheets_bound=sheets_bound, steps=nesting.steps + search.steps
    )
    return broken, answer


def refusals(division: Division) -> list[Reason]:
    """Return why parts of groups that are broken down fit no blank, for all groups in one go."""
    return [
        reason
        for group in division.groups
        if group.limits is not None
        for reason in _too_large(division, group, store_sheets(division, group))
    ]


def _too_large(division: Division, group: Group, sheets: StoreSheets) -> list[Reason]:
    """Return the reasons for the parts of a group that fit no blank."""
    lost = sheets.parts_that_fit_nowhere()
    parts = [division.job.parts[group.parts[item]] for item in lost]
    return parts_too_large(parts, case_of(division, group, lost)) if lost else []


def store_sheets(division: Division, group: Group) -> StoreSheets:
    """Return what the store can make of the sheets of a group."""
    assert group.limits is not None
    grid, fence = division.grid, division.fence
    sizes = [
        (grid.to_int(piece.length), grid.to_int(piece.width), grid.to_int(piece.trim))
        for piece in group.stock
    ]
    stock = [piece if isinstance(piece, Sheet) else None for piece in group.stock]
    least_off = 0 if fence.reach is None else fence.least_off
    return StoreSheets(group.problem, stock, sizes, group.limits, least_off=least_off)


def tariff_of(division: Division, group: Group) -> Tariff:
    """Return what sheets and the store's cuts cost; without prices cuts cost nothing."""
    job, money = division.job, division.money
    costs = tuple(piece.cost for piece in group.problem.bins)
    if job.store is None or money is None:
        return Tariff(costs)
    return Tariff(costs, job.store.free_cuts, int(job.store.cut_price / money))


def _bound(
    job: Job, group: Group, sheets: StoreSheets, nesting: Nesting, tariff: Tariff
) -> tuple[int, int]:
    """Return lower bounds on the cost and on the number of sheets.

    Whole sheets bound both. So do whole sheets each of which costs what the fewest cuts to get it
    in cost as well, less what the free cuts save; where there may be several trips, each with free
    cuts of its own, that is unknown.
    """
    limits = sheets.limits
    problem = group.problem
    cost, number = nesting.bound, nesting.sheets_bound
    # Two panels beside a store's cut lie as far apart as that takes; the bound counts on no more.
    if limits.apart < problem.kerf:
        problem = replace(problem, kerf=limits.apart)
        least = lower_bound(problem)
        cost, number = least.cost, least.sheets
    if tariff.rate and (job.vehicle is None or job.vehicle.max_load_kg is None):
        bins = list(problem.bins)
        for kind, splitter in sheets.splitters.items():
            cuts = splitter.fewest_at_all
            bins[kind] = replace(bins[kind], cost=bins[kind].cost + tariff.rate * cuts)
        charged = lower_bound(replace(problem, bins=tuple(bins))).cost
        cost = max(cost, charged - tariff.rate * tariff.free)
    return cost, number


def case_of(division: Division, group: Group, lost: Sequence[int]) -> Case:
    """Return the case of a group some of whose items have no blank.

    Those that have one are to keep it, but for what an offcut holds.
    """
    problem = group.problem
    offcuts = [
        piece
        for piece, of in zip(problem.bins, group.stock, strict=True)
        if not isinstance(of, Sheet)
    ]
    items = tuple(
        item
        for number, item in enumerate(problem.items)
        if number in lost or not any(fits(problem, item, piece) for piece in offcuts)
    )
    sheets = (*(piece for piece in group.stock if isinstance(piece, Sheet)), *group.left_behind)
    return Case(division.job, sheets, items, division.grid, problem.kerf, group.left_behind)

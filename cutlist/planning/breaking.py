"""A group whose sheets the store breaks down: from whole layouts to layouts on blanks."""

from __future__ import annotations

from dataclasses import replace

from cutlist.errors import CannotCutError
from cutlist.grid import Grid
from cutlist.model.job import Job, Sheet
from cutlist.nesting.bounds import lower_bound
from cutlist.nesting.problem import Nesting
from cutlist.nesting.stopping import Standing
from cutlist.planning.breakdown import BreakDown
from cutlist.planning.budget import Budget
from cutlist.planning.groups import Group
from cutlist.planning.remedies import Case
from cutlist.planning.transport import parts_too_large
from cutlist.sequencing.fence import Fence


def break_down(
    job: Job,
    group: Group,
    grid: Grid,
    fence: Fence,
    nesting: Nesting,
    *,
    seed: int,
    budget: Budget,
    share: float,
) -> tuple[Group, Nesting]:
    """Choose the sheets of a group and how each is broken down.

    Parameters
    ----------
    job, grid, fence
        The job, its grid and its shop.
    group
        Its problem has whole sheets for bins.
    nesting
        The answer to it.
    seed
        With equal seeds and no early end, equal answers.
    budget, share
        What there is left for the search, and how much of it this group gets.

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
    limits = group.limits
    assert limits is not None
    sizes = [
        (grid.to_int(piece.length), grid.to_int(piece.width), grid.to_int(piece.trim))
        for piece in group.stock
    ]
    search = BreakDown(
        group.problem,
        [piece if isinstance(piece, Sheet) else None for piece in group.stock],
        sizes,
        limits,
        fence,
        seed=seed,
    )
    lost = search.parts_that_fit_nowhere()
    if lost:
        sheets = [piece for piece in group.stock if isinstance(piece, Sheet)]
        case = Case(
            job,
            (*sheets, *group.left_behind),
            tuple(group.problem.items[item] for item in lost),
            grid,
            group.problem.kerf,
        )
        parts = [job.parts[group.parts[item]] for item in lost]
        raise CannotCutError(parts_too_large(parts, case))
    rule = budget.rule(share)
    found = search.search(
        nesting.layouts,
        lambda: rule(Standing(search.steps, None, 0)),
        lambda: budget.asked.was_asked,
    )
    # Two panels beside a store's cut lie as far apart as that takes; the bound counts on no more.
    apart = limits.kerf + 2 * limits.accuracy
    bound, sheets_bound = nesting.bound, nesting.sheets_bound
    if apart < group.problem.kerf:
        least = lower_bound(replace(group.problem, kerf=apart))
        bound, sheets_bound = least.cost, least.sheets
    offcuts = [piece for piece in group.stock if not isinstance(piece, Sheet)]
    broken = replace(
        group,
        stock=(*(kind.sheet for kind in found.kinds), *offcuts),
        problem=found.problem,
        sheets=found.sheets,
        kinds=found.kinds,
        base=found.nesting.cost,
    )
    steps = nesting.steps + search.steps
    answer = replace(found.nesting, bound=bound, sheets_bound=sheets_bound, steps=steps)
    return broken, answer

"""Offcuts that save nothing stay in the rack: the same sheets are bought without them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.problem import Nesting, Problem
from cutlist.nesting.stopping import StopRule, WhenReached
from cutlist.planning.terms.parameters import USUAL

#: Packs a problem until the rule, or its allowance, says stop.
Pack = Callable[[Problem, StopRule], Nesting]


def spared(
    problem: Problem,
    found: Nesting,
    pack: Pack,
    most_tries: int = USUAL.packing.most_tries,
) -> tuple[Problem, Nesting]:
    """Return the problem without the offcuts that can be spared, and its plan of the same cost.

    An offcut is a bin without cost. All that the plan uses are left out at once, and if that costs
    more, the larger ones singly. Those that it does not use are left out too, lest a later search
    for fewer settings cuts them up. Bins keep their numbers; those left out have none available.

    Parameters
    ----------
    problem
        The whole problem.
    found
        Its cheapest plan so far. The bounds are kept: they hold for the whole problem.
    pack
        Packs a problem; its answer may be dearer than asked for.
    most_tries
        Offcuts tried singly where not all can be spared.
    """
    used = {layout.stock for layout in found.layouts}
    free = [b for b in used if problem.bins[b].cost == 0]
    free.sort(key=lambda b: (-problem.bins[b].length * problem.bins[b].width, b))
    tries = [tuple(free)] if free and found.cost else []
    if tries and len(free) > 1:
        tries += [(b,) for b in free[:most_tries]]
    for left_out in tries:
        less = _without(problem, left_out)
        try:
            plan = pack(less, WhenReached(found.cost))
        except (StockTooSmallError, ItemFitsNowhereError):
            continue
        if plan.cost <= found.cost:
            problem = less
            found = replace(
                plan,
                bound=found.bound,
                sheets_bound=found.sheets_bound,
                steps=found.steps + plan.steps,
            )
            if left_out is tries[0]:
                break
    used = {layout.stock for layout in found.layouts}
    idle = (b for b, one in enumerate(problem.bins) if one.cost == 0 and b not in used)
    return _without(problem, tuple(idle)), found


def _without(problem: Problem, left_out: tuple[int, ...]) -> Problem:
    bins = tuple(
        replace(one, available=0) if number in left_out else one
        for number, one in enumerate(problem.bins)
    )
    return replace(problem, bins=bins)

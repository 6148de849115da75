"""A lower bound on settings over all orders *and* all equivalent ways to take the layouts apart.

The order search peels strips one at a time, with the child at the fence. The same layout may also
be divided in other ways: the waste first or last, several strips together, measured from the far
side, a grid by its rows instead of its columns, factory edges cleaned sooner or later. So nothing
is said here about which cut has to come before which; what is counted is the distances that cannot
be done without.

Follow one row of panels across everything that lies beside it. Whatever tree the sheet is cut by,
the cuts that cross the row's line take that line apart, from a piece that holds all of the row and
perhaps more (:mod:`~cutlist.sequencing.surroundings` tells what), down to single panels. Each of
them stands at the length of one of the two pieces it makes. So the distances of any tree hold, for
each run, one of the sets that suffice for it (:mod:`~cutlist.sequencing.splits`), and the fewest
distances that hold a sufficient set for every run are a bound (:mod:`~cutlist.sequencing.cover`).

It is enough to look at the distances that are a panel's size or serve more than once. Let a tree
use a distance ``v`` for nothing but to part a piece into groups A, kept, and B. Make A's cuts on
the whole piece instead, each with B added to what remains: A's last panel, which came out as the
remainder, now has to be cut off at its own size, and then B is left as before. That takes ``v``
away and adds one panel's size. If waste is kept with A, B has it beside it in the end, and the same
holds for B's last panel. A clean-up cut or a cut through waste whose distance serves nothing else
can set one panel free, too, by what it leaves; the same exchange holds, and the clean-up itself is
not counted. So a set without such distances is never larger. A panel beyond reach has no cut of its
own, so beside one every distance is looked at.

Where such a cut is made at a distance that serves elsewhere, all that it may leave is looked at.
Not covered is waste divided several times over so that what remains at last happens to suit another
distance. Runs with very many ways to take them apart are left out, which only lowers the bound.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Layout
from cutlist.sequencing.cover import fewest_elements
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.parameters import USUAL, TreeBoundParameters, never
from cutlist.sequencing.splits import LookAllowance, SplitRun, Splits, TooManySplitsError
from cutlist.sequencing.surroundings import runs_of


def bound_over_trees(
    layouts: Iterable[tuple[Layout, EdgeTrims[int]]],
    fence: Fence,
    *,
    is_over: Callable[[], bool] = never,
    parameters: TreeBoundParameters = USUAL.bound,
) -> int:
    """Return a lower bound on the settings of layouts, whatever the cut trees and the order.

    Parameters
    ----------
    layouts
        The distinct layouts, each with the trims to clean off the edges of its stock.
    fence
        The shop; all its blades are as wide.
    is_over
        Asked now and then; True ends the work once a part of the runs was looked at.
    parameters
        What it is tuned by.
    """
    runs = sorted(
        dict.fromkeys(runs_of(layouts, fence, parameters)),
        key=lambda run: (run.num_states, run.sizes, run.counts, sorted(run.starts)),
    )
    # What a part of the runs cannot do without all of them cannot. The more there are the more
    # distances serve more than one, and the less is proven with the same allowance.
    some = [number for number in parameters.runs if number < len(runs)]
    bound = 0
    for number in (*some, len(runs)):
        bound = max(bound, _bound(runs[:number], fence, parameters))
        if is_over():
            break
    return bound


def _bound(runs: Sequence[SplitRun], fence: Fence, parameters: TreeBoundParameters) -> int:
    shared = _shared(runs, fence)
    index = {distance: number for number, distance in enumerate(sorted(shared))}
    families = []
    allowance = LookAllowance(parameters.cuts)
    for run in runs:
        try:
            sets = Splits(run, index, allowance, parameters.sets).smallest()
        except TooManySplitsError:
            continue
        if sets and sets != (0,):
            families.append(sets)
    return fewest_elements(families, parameters)


def _shared(runs: Iterable[SplitRun], fence: Fence) -> set[int]:
    """Return the distances worth using: those of single pieces, and those that serve twice."""
    reach = fence.farthest()
    uses: dict[int, set[object]] = {}
    wanted: set[int] = set()
    for run in runs:
        has_long = reach is not None and run.sizes[-1] > reach
        wanted.update(run.sizes)
        for distance, use in run.distances():
            uses.setdefault(distance, set()).add(use)
            if has_long:
                wanted.add(distance)
    wanted.update(distance for distance, users in uses.items() if len(users) > 1)
    return {d for d in wanted if d > 0 and (reach is None or d <= reach)}

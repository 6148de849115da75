"""The runs of a layout: the pieces of each strip, with everything that may lie beside them.

A strip is usually cut from a piece that is no larger than itself. It may also be cut while there is
more beside it along its axis:

* the waste of the strip that its own column stands in, and so on outwards: where rows are divided
  first, right across the waste, each of them keeps a piece of it;
* a column beside its own, where both can be divided across at one place: kerf meets kerf;
* all columns beside its own, where every row of its own can be divided at one place;
* the trims of stock with factory edges. They and the waste next to them are of no fixed size, as
  a clean-up cut may take any amount off.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import combinations, product
from math import prod

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.parameters import USUAL, TreeBoundParameters
from cutlist.sequencing.splits import SplitRun
from cutlist.sequencing.strips import extent, slack_of

#: For each axis the stuff that may lie beside, or not; None where too little is known of it.
Beside = dict[Axis, tuple[tuple[tuple[int, ...], ...], ...] | None]


def runs_of(
    layouts: Iterable[tuple[Layout, EdgeTrims[int]]],
    fence: Fence,
    parameters: TreeBoundParameters = USUAL.bound,
) -> Iterator[SplitRun]:
    """Yield the runs of layouts, each with the trims to clean off the edges of its stock.

    Runs with too many choices are left out.
    """
    for layout, trims in layouts:
        # Of unlike ends the larger is more than enough for both.
        largest = {axis: max(trims.along(axis)) for axis in Axis}
        beside: Beside = {
            axis: (((-margin,), ()),) if margin else () for axis, margin in largest.items()
        }
        yield from _runs(layout.root, beside, fence, parameters)


def _runs(
    tree: Strip | Cell, beside: Beside, fence: Fence, parameters: TreeBoundParameters
) -> Iterator[SplitRun]:
    if isinstance(tree, Cell):
        return
    axis, kerf = tree.axis, fence.kerf
    slack = slack_of(tree, kerf)
    own = ((slack,),) if slack else ()
    around = beside[axis]
    if not all(map(_is_firm, tree.children)):
        # A strip that is wider than its panels need may be cut to any width that holds them.
        around = None
    if around is not None:
        run = _run(tree, own, around, fence, parameters)
        if run is not None:
            yield run
        waste: tuple[tuple[tuple[int, ...], ...], ...] = ((own[0], ()),) if own else ()
        around = (*around, *waste)
    for child in tree.children:
        if isinstance(child, Strip):
            inside = dict(beside)
            others = _columns_beside(child, tree, kerf, parameters.places)
            inside[axis] = None if around is None or others is None else (*around, *others)
            yield from _runs(child, inside, fence, parameters)


def _is_firm(tree: Strip | Cell) -> bool:
    """Say whether a panel is as wide as the whole of what lies in a strip."""
    return isinstance(tree, Cell) or any(isinstance(child, Cell) for child in tree.children)


def _run(
    strip: Strip,
    own: tuple[tuple[int, ...], ...],
    around: tuple[tuple[tuple[int, ...], ...], ...],
    fence: Fence,
    parameters: TreeBoundParameters,
) -> SplitRun | None:
    counts = Counter(extent(child, strip.axis) for child in strip.children)
    reach = fence.farthest()
    has_long = not _is_within(max(counts), reach)
    if prod(len(choices) for choices in around) > parameters.starts:
        return None
    starts = set()
    for chosen in product(*around):
        stuff = [one for some in (*own, *chosen) for one in some]
        if has_long and any(not _is_within(abs(one) - fence.kerf, reach) for one in stuff):
            # Waste beyond reach comes off in steps of any size.
            return None
        starts.add(tuple(sorted(stuff)))
    sizes = tuple(sorted(counts))
    numbers = tuple(counts[size] for size in sizes)
    run = SplitRun(sizes, numbers, fence.kerf, frozenset(starts))
    return run if run.num_states <= parameters.states else None


def _is_within(distance: int, reach: int | None) -> bool:
    return reach is None or distance <= reach


def _columns_beside(
    column: Strip, strip: Strip, kerf: int, most: int
) -> tuple[tuple[tuple[int, ...], ...], ...] | None:
    """Return what the other children of a strip may leave beside the rows of one of them.

    For each of them the choices, nothing being one; None where they are too many to tell.
    """
    others = list(strip.children)
    others.remove(column)
    is_open = _is_divisible_along(column, kerf, most)
    places = _places(column, kerf, most)
    found = []
    for other in others:
        if not is_open:
            if isinstance(other, Cell):
                continue
            there = _places(other, kerf, most)
            if places is not None and there is not None and not places & there:
                continue
        choices: list[tuple[int, ...]] = [(), (extent(other, strip.axis) + kerf,)]
        for row in other.children if isinstance(other, Strip) else ():
            if isinstance(row, Strip):
                if any(isinstance(child, Strip) for child in row.children):
                    return None
                stuff = [extent(child, strip.axis) + kerf for child in row.children]
                slack = slack_of(row, kerf)
                choices.append(tuple(sorted([*stuff, *([slack] if slack else [])])))
        found.append(tuple(dict.fromkeys(choices)))
    return tuple(found)


def _is_divisible_along(column: Strip, kerf: int, most: int) -> bool:
    """Say whether one cut may go through all rows of a column at once, along its other axis."""
    common: set[int] | None = None
    for row in column.children:
        if isinstance(row, Cell):
            return False
        places = _places(row, kerf, most)
        if places is not None:
            common = places if common is None else common & places
    return common is None or bool(common)


def _places(strip: Strip, kerf: int, most: int) -> set[int] | None:
    """Return where a strip can be divided in two, waste being one of its pieces.

    Each place is the distance from an end to the blade; None for too many.
    """
    sizes = [extent(child, strip.axis) for child in strip.children]
    if len(sizes) > most:
        return None
    slack = slack_of(strip, kerf)
    places = set()
    for number in range(len(sizes) + 1):
        for group in set(combinations(sorted(sizes), number)):
            length = sum(group) + (number - 1) * kerf
            if number and (number < len(sizes) or slack):
                places.add(length)
            if slack and number < len(sizes):
                places.add(length + slack)
    return {place for place in places if place > 0}

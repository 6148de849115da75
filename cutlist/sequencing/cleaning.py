"""Clean-up cuts that cost no setting of their own.

A piece may be cleaned at any distance that leaves room for what is to be cut from it: the layout's
waste may go with the factory edge. So where a distance that is set anyway lies between what is
needed and what is there, the clean-up is made at it. Or some of the children come off together at
such a distance, a little too wide, with the factory edge at the fence: both pieces then have a
clean edge to work from. Where neither helps, a new distance is chosen that serves as many pieces
of stock as possible.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import prod

from cutlist.model.edges import EdgeTrims
from cutlist.model.job import SawKind
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.parameters import USUAL, CleaningParameters
from cutlist.sequencing.runs import along_of
from cutlist.sequencing.strips import extent, needed, slack_of
from cutlist.sequencing.tools import Tool

#: The least and the largest distance that would do, both included.
Range = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Way:
    """A way to clean factory edges.

    Parameters
    ----------
    thrifty
        Axes along which they are cleaned at distances that are set anyway, where waste may go with
        them; else they are cleaned first and with as little taken off as possible.
    guide
        Number of a saw with a guide that takes the edges of whole stock off, measured from the
        edge itself: one setting for both axes and all stock. None for no such saw.
    """

    thrifty: frozenset[Axis] = frozenset()
    guide: int | None = None


def ways(fence: Fence, *, is_trimmed: bool, is_quick: bool = False) -> tuple[Way, ...]:
    """Return the ways worth trying; the first is the plain one.

    A quick look at layouts leaves out the ways that may save a setting now and then.
    """
    if not is_trimmed:
        return (Way(),)
    thrifty = [Way(frozenset(axes)) for axes in ((Axis.Y,), (Axis.X,), tuple(Axis))]
    guided = [
        Way(guide=number)
        for number, tool in enumerate(fence.tools)
        if tool.kind in (SawKind.TRACK_SAW, SawKind.CIRCULAR_SAW)
    ]
    return (Way(), *([] if is_quick else thrifty), *guided[:1])


def guided_distance(
    tree: Strip | Cell, axis: Axis, ends: tuple[int, int], along: int, fence: Fence, tool: Tool
) -> int | None:
    """Return where the guide lies from the low edge to take its margin off; None without room.

    A thin strip is no danger beside a guide, as it is between fence and blade (common practice).
    """
    distance = tool.up(max(fence.sliver, ends[0] - tool.kerf))
    more = distance + tool.kerf - ends[0]
    slack = extent(tree, axis) - needed(tree, axis, fence.kerf, fence.layout_reach)
    across = extent(tree, axis) + ends[1]
    is_safe = not tool.hazards(along, across, distance)
    return distance if is_safe and tool.reaches(distance) and more <= slack else None


def narrowed(tree: Strip | Cell, axis: Axis, by: int) -> Strip | Cell:
    """Return a tree with so much of its waste along an axis given up."""
    if not by:
        return tree
    assert isinstance(tree, Strip), "a panel gives nothing up"
    children = tree.children
    if tree.axis is not axis:
        children = tuple(narrowed(child, axis, by) for child in children)
    size = extent(tree, axis) - by
    if axis is Axis.X:
        return replace(tree, length=size, children=children)
    return replace(tree, width=size, children=children)


def best_in(distances: Iterable[int], span: Range, mark: int) -> int | None:
    """Return the largest distance within a range, so that the least waste is given up.

    A distance between two marks of the fence serves only where the range holds no mark.
    """
    step = 1 if last_in(span, mark) % mark else mark
    return max((d for d in distances if span[0] <= d <= span[1] and not d % step), default=None)


def last_in(span: Range, mark: int) -> int:
    """Return the last mark within a range; its end where it holds none."""
    last = span[1] - span[1] % mark
    return last if last >= span[0] else span[1]


@dataclass(frozen=True, slots=True)
class _Need:
    """An axis of a piece of stock to be given a clean edge at a distance in one of ``ranges``.

    ``others`` are the ranges of its strips, for each of them those that would do; empty where
    the strips cannot be cleaned one by one. ``mark`` is that of the fence.
    """

    ranges: tuple[Range, ...]
    mark: int
    others: tuple[tuple[Range, ...], ...] = ()

    def is_met(self, distances: Iterable[int]) -> bool:
        known = tuple(distances)
        if any(best_in(known, span, self.mark) is not None for span in self.ranges):
            return True
        return bool(self.others) and all(
            any(best_in(known, span, self.mark) is not None for span in spans)
            for spans in self.others
        )


def clean_up_distances(
    stock: Sequence[tuple[Layout, EdgeTrims[int]]],
    sizes: Iterable[int],
    axes: Collection[Axis],
    fence: Fence,
    chooser: Chooser,
    parameters: CleaningParameters = USUAL.cleaning,
) -> frozenset[int]:
    """Return the distances to make clean-ups at: those in use, and the new ones that are needed.

    Parameters
    ----------
    stock
        Each layout with the trims of its stock.
    sizes
        Distances that are set anyway.
    axes
        Along which edges are cleaned so.
    fence
        The shop.
    chooser
        Says what is within reach.
    parameters
        What the choice is tuned by.
    """
    found = set(sizes)
    needs = [
        _need(layout.root, axis, trims, fence, chooser, parameters.most_groups)
        for layout, trims in stock
        for axis in sorted(axes)
        if trims.along(axis)[0]
    ]
    open_needs = [need for need in needs if not need.is_met(found)]
    while open_needs:
        spans = {span for need in open_needs for span in need.ranges}
        ends = sorted({last_in(span, fence.common_mark) for span in spans}, reverse=True)
        if not ends:
            break
        best = max(ends, key=lambda end: sum(need.is_met((end,)) for need in open_needs))
        found.add(best)
        left = [need for need in open_needs if not need.is_met(found)]
        if len(left) == len(open_needs):
            break
        open_needs = left
    return frozenset(found)


def _need(
    root: Strip | Cell,
    axis: Axis,
    trims: EdgeTrims[int],
    fence: Fence,
    chooser: Chooser,
    most: int,
) -> _Need:
    ends = trims.along(axis)
    along = along_of(root, axis, trims)
    whole = clean_up_range(root, axis, ends[1], along, fence, chooser)
    ranges: tuple[Range, ...] = () if whole is None else (whole,)
    others: list[tuple[Range, ...]] = []
    if isinstance(root, Strip) and root.axis is axis:
        ranges += tuple(rough_ranges(root, ends[0], along, fence, chooser, most))
    elif isinstance(root, Strip):
        others = [
            tuple(_strip_ranges(child, axis, ends, fence, chooser, most)) for child in root.children
        ]
    return _Need(ranges, fence.common_mark, tuple(others))


def _strip_ranges(
    tree: Strip | Cell,
    axis: Axis,
    ends: tuple[int, int],
    fence: Fence,
    chooser: Chooser,
    most: int,
) -> Iterator[Range]:
    other = Axis.Y if axis is Axis.X else Axis.X
    along = extent(tree, other)
    whole = clean_up_range(tree, axis, ends[1], along, fence, chooser)
    if whole is not None:
        yield whole
    if isinstance(tree, Strip) and tree.axis is axis:
        yield from rough_ranges(tree, ends[0], along, fence, chooser, most)


def clean_up_range(
    tree: Strip | Cell, axis: Axis, high: int, along: int, fence: Fence, chooser: Chooser
) -> Range | None:
    """Return the distances at which a piece's low end may be cleaned, ``high`` at the other."""
    least = needed(tree, axis, fence.kerf, fence.layout_reach) + high
    most = extent(tree, axis) + high
    farthest = chooser.farthest(along)
    if farthest is not None:
        most = min(most, farthest)
    return (least, most) if least <= most else None


def rough_ranges(
    strip: Strip,
    low: int,
    along: int,
    fence: Fence,
    chooser: Chooser,
    most: int = USUAL.cleaning.most_groups,
) -> Iterator[Range]:
    """Yield the distances at which some children of a strip may come off oversize first."""
    farthest = chooser.farthest(along)
    sizes = [extent(child, strip.axis) for child in strip.children]
    if farthest is not None and max(sizes) > farthest:
        return
    slack = slack_of(strip, fence.kerf)
    for used, _ in groups(sizes, fence.kerf, most):
        least, most = used + low, used + low + slack
        if farthest is not None:
            most = min(most, farthest)
        if least <= most:
            yield least, most


def groups(
    sizes: Sequence[int], kerf: int, most: int = USUAL.cleaning.most_groups
) -> Iterator[tuple[int, Counter[int]]]:
    """Yield what some of the children take up together, and which sizes they are.

    Each size is a group by itself; where there are more than ``most`` others, no others.
    """
    counts = Counter(sizes)
    if prod(count + 1 for count in counts.values()) > most:
        yield from ((size, Counter((size,))) for size in counts)
        return
    for taken in product(*(range(count + 1) for count in counts.values())):
        group = Counter(dict(zip(counts, taken, strict=True)))
        if any(taken):
            yield sum(size * n for size, n in group.items()) + (sum(taken) - 1) * kerf, group

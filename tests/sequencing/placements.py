"""All ways to cut a placement of panels apart, by exhaustive search on the sheet itself.

Nothing is known here of strips: a sheet is panels at places, a cut goes through a piece from edge
to edge without touching a panel, along the edge of a panel on one side of the blade at least.
Rows before columns or columns before rows, groups, waste first or last: all is the same. A piece
with a factory edge may also be cut at a distance that is some panel's size, or where the margin
ends, to clean that edge or between panels. Waste alone is not divided.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product
from random import Random

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.strips import extent, slack_of

#: A panel's place in its piece: low and high end along x, low and high end along y.
Place = tuple[int, int, int, int]


@dataclass(frozen=True, slots=True)
class Slab:
    """A piece with panels in it, one end of each axis at 0.

    ``raw`` tells which of its edges are a factory's: low and high along x, low and high along y;
    such a piece may be cut anywhere at one of the ``shared`` distances.
    """

    kerf: int
    sides: tuple[int, int]
    panels: frozenset[Place]
    trim: int = 0
    raw: tuple[bool, bool, bool, bool] = (False, False, False, False)
    shared: tuple[int, ...] = ()

    @property
    def is_done(self) -> bool:
        """Whether the piece is a panel."""
        (panel,) = self.panels if len(self.panels) == 1 else [None]
        return panel == (0, self.sides[0], 0, self.sides[1]) and not any(self.raw)


def placed(
    layout: Layout, kerf: int, random: Random, trim: int = 0, shared: tuple[int, ...] = ()
) -> Slab:
    """Return a sheet of the layout, the children of each strip and its waste in a random order."""
    panels: set[Place] = set()

    def put(tree: Strip | Cell, x: int, y: int) -> None:
        if isinstance(tree, Cell):
            panels.add((x, x + tree.length, y, y + tree.width))
            return
        slack = slack_of(tree, kerf)
        children: list[Strip | Cell | None] = [*tree.children, *([None] if slack else [])]
        random.shuffle(children)
        for child in children:
            step = slack if child is None else extent(child, tree.axis) + kerf
            if child is not None:
                put(child, x, y)
            x, y = (x + step, y) if tree.axis is Axis.X else (x, y + step)

    put(layout.root, trim, trim)
    sides = (layout.root.length + 2 * trim, layout.root.width + 2 * trim)
    return Slab(kerf, sides, frozenset(panels), trim, (trim > 0,) * 4, shared)


@lru_cache(maxsize=300_000)
def splits(slab: Slab) -> frozenset[tuple[int, frozenset[Slab]]]:
    """Return every way to cut a piece once: the distance, and the pieces still to be cut."""
    found = set()
    for axis in (0, 1):
        side = slab.sides[axis]
        spans = [panel[2 * axis : 2 * axis + 2] for panel in slab.panels]
        flush = {high for _, high in spans} | {low - slab.kerf for low, _ in spans}
        starts = set(flush)
        if slab.raw[2 * axis] or slab.raw[2 * axis + 1]:
            starts |= {slab.trim - slab.kerf, side - slab.trim, *slab.shared}
            starts |= {side - slab.kerf - distance for distance in slab.shared}
        for start in starts:
            end = start + slab.kerf
            if end <= 0 or start >= side or any(a < end and start < b for a, b in spans):
                continue
            if slab.kerf == 0 and not 0 < start < side:
                continue
            low = _part(slab, axis, 0, start)
            high = _part(slab, axis, end, side)
            if start not in flush and not _cleans(slab, axis, low, high):
                continue
            after = frozenset(s for s in (low, high) if s is not None and not s.is_done)
            for distance in (start, side - end):
                if 0 < distance < side:
                    found.add((distance, after))
    return frozenset(found)


def _cleans(slab: Slab, axis: int, low: Slab | None, high: Slab | None) -> bool:
    """Say whether a cut between waste and panels makes their edge clean; or parts panels."""
    if low is None and high is not None:
        return slab.raw[2 * axis] and not high.raw[2 * axis]
    if high is None and low is not None:
        return slab.raw[2 * axis + 1] and not low.raw[2 * axis + 1]
    return True


def _part(slab: Slab, axis: int, start: int, end: int) -> Slab | None:
    inside = [p for p in slab.panels if p[2 * axis] >= start and p[2 * axis + 1] <= end]
    if not inside:
        return None
    raw = list(slab.raw)
    # A new edge is clean once all of the margin is off, the blade's width with it.
    if start > 0:
        raw[2 * axis] = raw[2 * axis] and start < slab.trim
    if end < slab.sides[axis]:
        raw[2 * axis + 1] = raw[2 * axis + 1] and slab.sides[axis] - end < slab.trim
    moved = set()
    for panel in inside:
        ends = list(panel)
        ends[2 * axis] -= start
        ends[2 * axis + 1] -= start
        moved.add((ends[0], ends[1], ends[2], ends[3]))
    sides = list(slab.sides)
    sides[axis] = end - start
    ends_raw = (raw[0], raw[1], raw[2], raw[3])
    whole = (sides[0], sides[1])
    return replace(slab, sides=whole, panels=frozenset(moved), raw=ends_raw)


@lru_cache(maxsize=300_000)
def outcomes(slab: Slab, distance: int) -> frozenset[frozenset[Slab]]:
    """Return what may be left of a piece after any number of cuts at one distance."""
    found = {frozenset((slab,))}
    for size, after in splits(slab):
        if size == distance:
            for choice in product(*(outcomes(part, distance) for part in after)):
                found.add(frozenset().union(*choice))
    return frozenset(one for one in found if not any(other < one for other in found))


def can_finish(slabs: frozenset[Slab], settings: int, reach: int | None = None) -> bool:
    """Whether some way to cut the pieces apart needs at most so many settings."""
    seen: dict[frozenset[Slab], int] = {}

    def search(bench: frozenset[Slab], left: int) -> bool:
        if not bench:
            return True
        if left == 0 or seen.get(bench, -1) >= left:
            return False
        seen[bench] = left
        distances = {size for slab in bench for size, _ in splits(slab)}
        for distance in sorted(distances):
            if reach is not None and distance > reach:
                continue
            choices = [outcomes(slab, distance) for slab in bench]
            if left == 1:
                if all(frozenset() in choice for choice in choices):
                    return True
                continue
            for choice in product(*choices):
                after: frozenset[Slab] = frozenset().union(*choice)
                if after != bench and search(after, left - 1):
                    return True
        return False

    return search(slabs, settings)

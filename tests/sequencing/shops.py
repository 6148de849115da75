"""Random shops of fence, stop and guide in millimetres, and random layouts to cut there."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.sawing import Device
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.problem import Bin, Problem
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout
from cutlist.sequencing.tools import Tool

#: What ends of an axis may carry: clean, alike, or the low one the cleaner.
TRIMS = ((0, 0), (6, 6), (10, 10), (0, 8), (3, 12))


@dataclass(frozen=True, slots=True)
class Work:
    """Layouts to cut in a shop; ``parts`` are the sizes of the parts by index."""

    fence: Fence
    layouts: tuple[StockLayout, ...]
    parts: tuple[tuple[int, int], ...]

    @property
    def sheets(self) -> list[StockLayout]:
        """Return the layout of each piece of stock."""
        return [entry for entry in self.layouts for _ in range(entry.layout.copies)]

    @property
    def has_guide(self) -> bool:
        """Whether a guide is in the shop."""
        return any(tool.device is Device.GUIDE for tool in self.fence.tools)


def table_saw(kerf: int, reach: int | None) -> Tool:
    """Return a fence with the limits of common practice."""
    return Tool(kerf, reach, smallest_piece=300, steady_edge=600, thinnest_strip=10, weight=3)


def sled(kerf: int) -> Tool:
    """Return a stop with the limits of common practice."""
    return Tool(
        kerf,
        1200,
        device=Device.STOP,
        longest_cut=600,
        largest_pieces=((1500, 600), (2500, 300)),
        weight=2,
    )


def guide(kerf: int, *, repeats: bool = False) -> Tool:
    """Return a guided saw, set anew for every cut unless it ``repeats``."""
    return Tool(
        kerf,
        device=Device.GUIDE,
        smallest_piece=200,
        serves_one_cut=not repeats,
        weight=5,
    )


def random_shop(random: Random, *, has_guide: bool, kerfs_alike: bool, keeps: bool) -> Fence:
    """Return a table saw, mostly with a sled, with or without a guide."""
    kerf = 3

    def blade() -> int:
        return kerf if kerfs_alike else random.choice((2, kerf))

    reach = random.choice((None, 300, 500, 762, 1300))
    tools = [table_saw(blade(), reach)]
    if random.random() < 0.8:
        tools.append(sled(tools[0].kerf if random.random() < 0.5 else blade()))
    if has_guide:
        tools.append(guide(blade(), repeats=random.random() < 0.1))
        # What a guide reaches no layout has to heed.
        reach = None
    random.shuffle(tools)
    return Fence(
        max(tool.kerf for tool in tools),
        reach,
        tools=tuple(tools),
        keeps_remainders=keeps,
        sliver=1,
        least_waste=random.choice((1, 50)),
    )


def random_work(random: Random, fence: Fence, *, trims: tuple[int, int] | None = None) -> Work:
    """Return up to three layouts that the fence's reach allows, with the ends of both axes so."""
    parts: dict[tuple[int, int], int] = {}
    entries: list[StockLayout] = []
    wanted = random.randint(1, 3)
    while len(entries) < wanted:
        length, width = random.choice(((2440, 1220), (1220, 1220), (1220, 610), (900, 500)))
        x, y = (random.choice(TRIMS), random.choice(TRIMS)) if trims is None else (trims, trims)
        if random.random() < 0.5:
            length, width = random.randint(250, length), random.randint(250, width)
        found = dict(parts)
        root = _tree(random, length, width, fence.kerf, None, random.randint(0, 3), found)
        layout = Layout(0, root, random.choice((1, 1, 2)))
        trim = max(x + y)
        problem = Problem((), (Bin(length, width, 1, None, trim),), fence.kerf, fence.layout_reach)
        is_clean_first = fence.layout_reach is None or max(x + y) == 0 or min(x + y) > fence.kerf
        if is_clean_first and is_reachable(problem, layout):
            parts = found
            entries.append(StockLayout(layout, EdgeTrims(*x, *y)))
    return Work(fence, tuple(entries), tuple(parts))


def _tree(
    random: Random,
    length: int,
    width: int,
    kerf: int,
    above: Axis | None,
    depth: int,
    parts: dict[tuple[int, int], int],
) -> Strip | Cell:
    axis = random.choice([axis for axis in Axis if axis is not above])
    room = length if axis is Axis.X else width
    if depth == 0 or room < 60:
        return Cell(parts.setdefault((length, width), len(parts)), length, width)
    sizes: list[int] = []
    left = room
    for _ in range(random.randint(1, 4)):
        usual = [
            size for size in (60, 100, 120, 250, 300, 396, 564, 720, 900, 1500) if size <= left
        ]
        size = random.choice(usual) if usual and random.random() < 0.8 else random.randint(1, left)
        if random.random() < 0.15:
            size = left
        sizes.append(size)
        left -= size + kerf
        if left < 20:
            break
    children = [
        _tree(
            random,
            size if axis is Axis.X else length,
            width if axis is Axis.X else size,
            kerf,
            axis,
            depth - 1,
            parts,
        )
        for size in sizes
    ]
    return Strip(axis, length, width, tuple(children))

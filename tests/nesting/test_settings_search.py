"""The search for layouts that need fewer settings: sound, no dearer, and the same every time."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.settings_search import SettingsSearch, cut_forest
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, glance
from cutlist.sequencing.strips import extent, slack_of

CABINETS = Problem(
    (
        Item(720, 560, 4, False),
        Item(564, 560, 4, False),
        Item(564, 554, 6, True),
        Item(500, 120, 8, True),
        Item(476, 120, 8, True),
    ),
    (Bin(2440, 1220, 60),),
    kerf=3,
)
SEVERAL = Problem(
    CABINETS.items, (Bin(2440, 1220, 60), Bin(1220, 1220, 35), Bin(800, 600, 0, 2)), kerf=3
)
TRIMMED = Problem(CABINETS.items, (Bin(2428, 1208, 60, trim=6),), kerf=3, reach=1300)
#: One saw that nothing limits.
SHOP = Fence(CABINETS.kerf).shop()
PROBLEMS = {"one size": CABINETS, "several": SEVERAL, "trim and reach": TRIMMED}


def searched(
    problem: Problem, steps: int = 3000, seed: int = 1, *, larger: bool = False
) -> tuple[tuple[Layout, ...], tuple[Layout, ...], SettingsSearch]:
    """Return the layouts of packing alone, those found from them, and the search."""
    shop = Fence(problem.kerf, problem.reach).shop()
    first = nest(problem, seed=1, stop=AfterSteps(3000)).layouts
    search = SettingsSearch(problem, first, shop, seed=seed, keep=(300, 100))
    found = search.search(cut_forest([], shop), steps, lambda: False, larger=larger)
    return first, found, search


def cost(problem: Problem, layouts: tuple[Layout, ...]) -> int:
    """Return what layouts cost."""
    return sum(layout.copies * problem.bins[layout.stock].cost for layout in layouts)


@pytest.mark.parametrize("name", PROBLEMS)
@pytest.mark.parametrize("larger", [False, True])
def test_sound_and_no_dearer(name: str, larger: bool) -> None:
    """What is found is a whole solution and costs no more than the layouts it began with."""
    problem = PROBLEMS[name]
    first, found, search = searched(problem, larger=larger)
    assert check_layouts(problem, found) == []
    assert cost(problem, found) == search.cost <= cost(problem, first)
    assert search.steps == 3000


def room_to_shrink(node: Strip | Cell, axis: Axis, kerf: int) -> int:
    """Return by how much a node is longer along an axis than its panels need."""
    if isinstance(node, Cell):
        return 0
    if node.axis is axis:
        return slack_of(node, kerf)
    return min(room_to_shrink(child, axis, kerf) for child in node.children)


def wide_strips(
    node: Strip | Cell, kerf: int, reach: int | None = None
) -> Iterator[tuple[int, int]]:
    """Yield for each strip wider than need be its width, and what is left over beside it.

    Beside one that the fence does not reach across waste has to stay as wide as it is.
    """
    if isinstance(node, Cell):
        return
    is_long = reach is not None and any(extent(c, node.axis) > reach for c in node.children)
    for child in node.children:
        if isinstance(child, Strip) and room_to_shrink(child, node.axis, kerf) and not is_long:
            yield extent(child, node.axis), slack_of(node, kerf)
        yield from wide_strips(child, kerf, reach)


@pytest.mark.parametrize("name", PROBLEMS)
def test_strips_are_wide_for_a_reason(name: str) -> None:
    """A strip is wider than its panels only at a part's size, or to use up what is left."""
    problem = PROBLEMS[name]
    sizes = {side for item in problem.items for side in (item.length, item.width)}
    wide = 0
    for seed in range(6):
        _, found, _ = searched(problem, 1000, seed)
        for layout in found:
            for size, left in wide_strips(layout.root, problem.kerf, problem.reach):
                wide += 1
                assert size in sizes or left == 0
    assert wide or name != "several"


def test_off_the_scale_no_strip_is_wide_to_match() -> None:
    """Where no part's size is on the scale, no strip with something beside it is wide."""
    first = nest(CABINETS, seed=1, stop=AfterSteps(3000)).layouts
    search = SettingsSearch(CABINETS, first, SHOP, seed=3, keep=(300, 100), scale=7919)
    found = search.search(cut_forest([], SHOP), 2000, lambda: False)
    kerf = CABINETS.kerf
    assert all(left == 0 for one in found for _, left in wide_strips(one.root, kerf))


def test_fewer_settings() -> None:
    """The seven dimensions of the cabinets need no more settings than there are of them."""
    first, found, _ = searched(CABINETS, 8000)
    fence = Fence(CABINETS.kerf)
    before = glance([StockLayout(layout) for layout in first], fence)
    after = glance([StockLayout(layout) for layout in found], fence)
    sizes = {side for item in CABINETS.items for side in (item.length, item.width)}
    assert len(sizes) == 7
    assert after.setups <= len(sizes) < before.setups


def test_what_others_need_is_free() -> None:
    """A distance set for another material anyway is preferred to one of its own."""
    problem = Problem((Item(30, 20, 2, True),), (Bin(100, 100, 1),), kerf=1)
    other = Problem((Item(100, 20, 1, False),), (Bin(100, 100, 1),), kerf=1)
    others = nest(other, seed=0, stop=AfterSteps(10)).layouts
    first = nest(problem, seed=0, stop=AfterSteps(10)).layouts
    shop = Fence(1).shop()
    search = SettingsSearch(problem, first, shop, seed=0, keep=(1, 1))
    found = search.search(cut_forest([(other, others)], shop), 500, lambda: False)
    together = [StockLayout(layout) for layout in (*others, *found)]
    assert glance(together, Fence(1)).setups == 2


def test_same_seed_same_layouts() -> None:
    """Equal seeds and steps give equal layouts; another seed goes another way."""
    assert searched(SEVERAL)[1] == searched(SEVERAL)[1]
    assert searched(SEVERAL)[1] != searched(SEVERAL, seed=2)[1]


def test_ends_when_over() -> None:
    """Once it is over, no further step is taken and the layouts are still whole."""
    first = nest(CABINETS, seed=1, stop=AfterSteps(1000)).layouts
    search = SettingsSearch(CABINETS, first, SHOP, seed=1, keep=(300, 100))
    found = search.search(cut_forest([], SHOP), 10_000, lambda: True)
    assert search.steps == 0
    assert check_layouts(CABINETS, found) == []

"""Tidier orders: as many settings, all pieces finished, the fence moving on in one direction."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given, settings

from cutlist.model.layout import Axis
from cutlist.sequencing.forest import Branch, Forest
from cutlist.sequencing.order import order_settings
from cutlist.sequencing.tidy import tidied
from cutlist.sequencing.tools import setting_of, tool_and_distance
from tests.sequencing.forests import DONE, Task, add_task, follows, forests


def changes(order: tuple[int, ...]) -> int:
    """Count how often the fence changes its direction."""
    moves = [b > a for a, b in pairwise(order)]
    return sum(a != b for a, b in pairwise(moves))


@pytest.mark.slow
@given(forests(cuts=9, settings=5))
@settings(max_examples=200, deadline=None)
def test_no_setting_more_and_no_change_more(tasks: tuple[Task, ...]) -> None:
    """The same settings in another order finish everything with no more changes of direction."""
    forest = Forest()
    roots = [add_task(forest, task) for task in tasks]
    found = order_settings(forest, roots).settings
    tidy = tidied(forest, roots, found)
    assert Counter(tidy) == Counter(found)
    assert follows(tasks, tidy)
    assert changes(tidy) <= changes(found)


def test_distances_fall_where_nothing_binds_them() -> None:
    """Cuts that may come in any order are made from the largest distance down."""
    forest = Forest()
    row = Task(tuple((distance, DONE) for distance in (5, 9, 2, 7)), DONE)
    assert tidied(forest, [add_task(forest, row)], (5, 9, 2, 7)) == (9, 7, 5, 2)


def test_rips_stay_together() -> None:
    """Rips are not mixed with crosscuts for the sake of one direction throughout."""
    forest = Forest()
    rips = [Branch(distance, forest.waste) for distance in (8, 4)]
    crosscuts = [Branch(distance, forest.waste) for distance in (6, 2)]
    roots = [
        forest.work(Axis.Y, rips, forest.waste),
        forest.work(Axis.X, crosscuts, forest.waste),
    ]
    for order in ((8, 2, 4, 6), (8, 6, 4, 2)):
        tidy = tidied(forest, roots, order)
        assert {8, 4} in (set(tidy[:2]), set(tidy[2:]))


def test_one_device_as_long_as_it_can() -> None:
    """Fence and stop are not taken in turns where nothing asks for it."""
    forest = Forest()
    fence = [Branch(setting_of(0, distance), forest.waste) for distance in (8, 4)]
    stop = [Branch(setting_of(1, distance), forest.waste) for distance in (6, 2)]
    roots = [forest.work(Axis.Y, fence, forest.waste), forest.work(Axis.X, stop, forest.waste)]
    mixed = (fence[0], stop[0], fence[1], stop[1])
    tidy = tidied(forest, roots, tuple(branch.setting for branch in mixed))
    assert [tool_and_distance(setting) for setting in tidy] == [(0, 8), (0, 4), (1, 6), (1, 2)]


def test_what_comes_before_stays_before() -> None:
    """An order that is asked for is kept, whatever the distances."""
    forest = Forest()
    inner = forest.work(Axis.X, [Branch(9, forest.waste)], forest.waste)
    root = forest.work(Axis.Y, [Branch(3, inner)], forest.waste)
    assert tidied(forest, [root], (3, 9)) == (3, 9)

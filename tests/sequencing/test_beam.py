"""The compiled search for an order against the exact one, and within its limits."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from cutlist.sequencing.beam import Beam
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.order import order_settings
from cutlist.sequencing.parameters import USUAL, OrderParameters
from tests.sequencing.forests import Task, add_task, chain, fewest, follows, forests

#: The exact search never begins, and every job is a large one.
LARGE = replace(USUAL.order, exact_settings=0, beam_effort=0)


def never() -> bool:
    """Say that there is no end to the time."""
    return False


def opened(tasks: tuple[Task, ...]) -> tuple[Forest, list[int]]:
    """Return a forest of tasks, and its nodes that are to be finished."""
    forest = Forest()
    roots = dict.fromkeys(add_task(forest, task) for task in tasks)
    return forest, [root for root in roots if forest.nodes[root].branches]


def random_chains(seed: int, number: int, letters: str = "ABCDEFGHIJKL") -> tuple[Task, ...]:
    """Return chains of cuts at random settings, no two in a row at the same."""
    rng = Random(seed)
    return tuple(chain("".join(rng.sample(letters, 6))) for _ in range(number))


@pytest.mark.slow
@given(forests(cuts=9, settings=4), st.integers(1, 5))
@settings(max_examples=120, deadline=None)
def test_sound_orders_and_bounds(tasks: tuple[Task, ...], width: int) -> None:
    """Whatever its width an order finishes all, and the bound is no more than the fewest."""
    forest, start = opened(tasks)
    assume(start)
    beam = Beam(forest, start, width=width)
    found = beam.run(never)
    assert follows(tasks, found)
    assert beam.bound_to_begin_with <= fewest(tasks) <= len(found)


@pytest.mark.parametrize("width", [1, 3])
@pytest.mark.parametrize("states", [0, 40])
def test_an_order_however_little_may_be_looked_at(width: int, states: int) -> None:
    """Beyond its states the search ends with some order; one that must not finish has none."""
    tasks = random_chains(1, 30)
    forest, start = opened(tasks)
    parameters = OrderParameters(beam_states=states, least_states=0, states_between_looks=1)
    assert follows(tasks, Beam(forest, start, width=width, parameters=parameters).run(never))
    assert Beam(forest, start, width=width, parameters=parameters).try_to(never) is None


def test_time_that_is_over() -> None:
    """Once the time is over a job of any size is ordered all the same, with a sound bound."""
    tasks = random_chains(2, 40)
    forest, start = opened(tasks)
    order = order_settings(forest, start, is_over=lambda: True, parameters=LARGE)
    assert follows(tasks, order.settings)
    assert order.bound <= len(order_settings(forest, start, parameters=LARGE).settings)


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(3))
def test_a_large_job_gets_as_good_an_order_as_a_small_one(seed: int) -> None:
    """Followed by more and more states a large job ends where a small one does, and repeatably."""
    tasks = random_chains(seed, 25)
    orders = [order_settings(*opened(tasks), parameters=LARGE).settings for _ in range(2)]
    assert orders[0] == orders[1]
    assert follows(tasks, orders[0])
    usual = replace(USUAL.order, exact_settings=0)
    assert len(orders[0]) <= len(order_settings(*opened(tasks), parameters=usual).settings)


def test_more_nodes_than_there_was_room_for() -> None:
    """Where a forest grows far beyond what it began with the search goes on with more room."""
    tasks = random_chains(3, 300, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    forest, start = opened(tasks)
    assert follows(tasks, Beam(forest, start, width=2).run(never))


def test_without_pairs() -> None:
    """With more settings than pairs are kept of, orders are found without them."""
    tasks = random_chains(4, 20)
    forest, start = opened(tasks)
    found = Beam(forest, start, parameters=OrderParameters(most_paired=1)).run(never)
    assert follows(tasks, found)

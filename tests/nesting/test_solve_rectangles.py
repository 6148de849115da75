"""The search beside a general library for packing rectangles, rectpack."""

from __future__ import annotations

from random import Random

import pytest

from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from tests.benchmarks.rectangles import VARIANTS, Library

JOBS = 200
STEPS = 1500


def small_job(random: Random) -> Problem:
    """Draw a job of some 4 to 16 panels, all turnable or none, for one or two sizes of sheets."""
    turnable = random.random() < 0.5
    sheets = [Bin(random.randint(60, 120), random.randint(50, 100), random.randint(3, 9))]
    if random.random() < 0.3:
        sheets.append(Bin(random.randint(50, 140), random.randint(50, 140), random.randint(3, 9)))
    longest, widest = sheets[0].length, sheets[0].width
    items = tuple(
        Item(
            random.randint(8, random.choice((longest // 2, longest))),
            random.randint(8, random.choice((widest // 2, widest))),
            random.randint(1, 4),
            turnable,
        )
        for _ in range(random.randint(3, 6))
    )
    return Problem(items, tuple(sheets), random.choice((0, 2, 3)))


@pytest.mark.slow
def test_rectpack_is_never_better() -> None:
    """On 200 random jobs none of its 18 guillotine variants buys for less, with little search."""
    assert len(VARIANTS) == 18
    library = Library(cache=None)
    random = Random(1)
    cheaper = 0
    for _ in range(JOBS):
        problem = small_job(random)
        theirs = library.cost(problem)
        ours = nest(problem, seed=1, stop=AfterSteps(STEPS)).cost
        assert theirs is not None
        assert ours <= theirs, problem
        cheaper += ours < theirs
    assert cheaper >= 5

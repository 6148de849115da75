"""Choosing among solutions of equal cost the one with the fewest settings."""

from __future__ import annotations

from itertools import product

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.planning.choose import Choice, Solution, choose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, glance


def row(*sizes: int) -> Solution:
    """Return a sheet cut into strips of these sizes, with waste."""
    cells = tuple(Cell(0, size, 5) for size in sizes)
    return (StockLayout(Layout(0, Strip(Axis.X, 200, 5, cells))),)


SIZES = st.lists(st.integers(3, 12), min_size=1, max_size=5)
SOLUTIONS = st.lists(SIZES.map(lambda sizes: row(*sizes)), min_size=1, max_size=4)


@given(st.lists(SOLUTIONS, min_size=1, max_size=3), st.booleans())
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_never_worse(candidates: list[list[Solution]], again: bool) -> None:
    """What is chosen is among the candidates and needs no more settings than what came first."""
    fence = Fence(1)
    first = tuple(solutions[0] for solutions in candidates)
    start = Choice(first, glance([e for s in first for e in s], fence))
    chosen = choose(candidates, fence, start if again else None)
    assert chosen.settings <= start.settings
    assert chosen.settings == glance(chosen.layouts, fence)
    for solution, solutions in zip(chosen.solutions, candidates, strict=True):
        assert solution in solutions
    fewest = min(
        glance([entry for solution in mix for entry in solution], fence)
        for mix in product(*candidates)
    )
    assert fewest <= chosen.settings


def test_one_group_gets_its_best() -> None:
    """With one group the solution with the fewest settings is found, the first of equals."""
    chosen = choose([[row(3, 4, 5), row(6, 7), row(4, 6), row(9, 8, 7)]], Fence(1), None)
    assert chosen == Choice((row(6, 7),), 2)


def test_groups_share_settings() -> None:
    """A group's solution is chosen for the settings that the other group needs anyway."""
    chosen = choose([[row(6, 7)], [row(3, 4), row(7, 6)]], Fence(1), None)
    assert chosen == Choice((row(6, 7), row(7, 6)), 2)


def test_best_so_far_stays_among_equals() -> None:
    """A choice is kept where nothing beats it."""
    best = Choice((row(8, 9),), 2)
    assert choose([[row(6, 7), row(8, 9)]], Fence(1), best) is best


def test_stops_when_over() -> None:
    """Once it is over the best so far is returned at once."""
    chosen = choose([[row(3, 4, 5), row(6)]], Fence(1), None, lambda: True)
    assert chosen.solutions == (row(3, 4, 5),)

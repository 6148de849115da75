"""A relaxed choice made whole: within stock and budget, whole parts first."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn
from numpy.typing import NDArray

from cutlist.nesting.columns.rounding import rounded


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A relaxed choice: columns with their uses, and what they have to meet."""

    columns: list[tuple[int, NDArray[np.int32]]]
    uses: NDArray[np.float64]
    demand: NDArray[np.int64]
    stock: NDArray[np.int64]
    costs: list[int]
    areas: NDArray[np.int64]

    def rounded(self, budget: int | None = None, wanted: float = 0.97) -> list[tuple[int, int]]:
        """Return it in whole numbers."""
        return rounded(
            self.columns,
            self.uses,
            self.demand,
            self.stock,
            self.costs,
            self.areas,
            budget,
            wanted,
        )

    def cost(self, uses: list[tuple[int, int]]) -> int:
        """Return what a choice costs."""
        return sum(self.costs[self.columns[c][0]] * times for c, times in uses)


@st.composite
def choices(draw: DrawFn) -> Relaxed:
    """Draw uses in quarters of up to six columns with three items on one to three bins."""
    bins = draw(st.integers(1, 3))
    number = draw(st.integers(1, 6))
    counts = st.lists(st.integers(0, 4), min_size=3, max_size=3).filter(any)
    columns = [
        (draw(st.integers(0, bins - 1)), np.array(draw(counts), np.int32)) for _ in range(number)
    ]
    quarters = st.lists(st.integers(0, 14), min_size=number, max_size=number)
    return Relaxed(
        columns,
        np.array(draw(quarters)) / 4,
        np.array(draw(st.lists(st.integers(0, 20), min_size=3, max_size=3)), np.int64),
        np.array(draw(st.lists(st.integers(0, 6), min_size=bins, max_size=bins)), np.int64),
        draw(st.lists(st.integers(0, 9), min_size=bins, max_size=bins)),
        np.array(draw(st.lists(st.integers(1, 50), min_size=3, max_size=3)), np.int64),
    )


@pytest.mark.slow
@given(choices(), st.none() | st.integers(0, 60), st.sampled_from((0.0, 0.5, 0.97, 1.0)))
def test_never_more_than_the_stock_or_the_budget(
    choice: Relaxed, budget: int | None, wanted: float
) -> None:
    """Each column once, at least one of it, no bin beyond its stock, all within the budget."""
    uses = choice.rounded(budget, wanted)
    assert len({c for c, _ in uses}) == len(uses)
    assert all(times >= 1 for _, times in uses)
    used = np.zeros(len(choice.stock), np.int64)
    for c, times in uses:
        used[choice.columns[c][0]] += times
        assert times <= np.floor(choice.uses[c]) + 1
    assert (used <= choice.stock).all()
    assert budget is None or choice.cost(uses) <= budget


@given(choices(), st.sampled_from((0.0, 0.97)))
def test_whole_parts_are_kept(choice: Relaxed, wanted: float) -> None:
    """With stock and money enough every column is used at least as often as its whole part."""
    ample = Relaxed(
        choice.columns,
        choice.uses,
        choice.demand,
        np.full(len(choice.stock), 100),
        choice.costs,
        choice.areas,
    )
    times = dict(ample.rounded(None, wanted))
    for c, share in enumerate(choice.uses.tolist()):
        assert times.get(c, 0) >= int(share)
        assert times.get(c, 0) == share or times.get(c, 0) in (int(share), int(share) + 1)


#: Two columns of three panels of one item each, and one of both: used 2½, ¾ and ½ times.
BY_HAND = Relaxed(
    [
        (0, np.array([3, 0], np.int32)),
        (0, np.array([0, 3], np.int32)),
        (0, np.array([1, 1], np.int32)),
    ],
    np.array([2.5, 0.75, 0.5]),
    np.array([8, 3], np.int64),
    np.array([100], np.int64),
    [10],
    np.array([5, 7], np.int64),
)


def test_by_hand() -> None:
    """Two of the first; then the second, whose three panels are all wanted.

    Two panels of the first item are left then: the first column would hold three, one too many;
    the last holds one of the second item, of which none is left. Where a share of two thirds
    counts as most, the first column is taken a third time, and nothing is left to the last.
    """
    assert BY_HAND.rounded() == [(0, 2), (1, 1)]
    assert BY_HAND.rounded(None, 2 / 3) == [(0, 3), (1, 1)]
    # Whatever is left over is used where nothing need be wanted.
    assert BY_HAND.rounded(None, 0.0) == [(0, 3), (1, 1), (2, 1)]


def test_budget_and_stock_by_hand() -> None:
    """Three bins are all that 39 buys, and all that a stock of three gives; for 40 it is four."""
    assert BY_HAND.rounded(39, 0.0) == [(0, 2), (1, 1)]
    assert BY_HAND.rounded(40, 0.0) == [(0, 3), (1, 1)]
    few = Relaxed(BY_HAND.columns, BY_HAND.uses, BY_HAND.demand, np.array([3]), [10], BY_HAND.areas)
    assert few.rounded(None, 0.0) == [(0, 2), (1, 1)]


@pytest.mark.parametrize(("budget", "uses"), [(19, [(0, 1)]), (9, []), (20, [(0, 2)])])
def test_whole_parts_within_the_budget(budget: int, uses: list[tuple[int, int]]) -> None:
    """Where even the whole parts cost more than there is, so many are kept as it buys."""
    assert BY_HAND.rounded(budget) == uses


def test_a_share_that_is_whole_but_for_rounding() -> None:
    """Two less a hair, as a solver returns it, is two."""
    near = Relaxed([(0, np.array([1], np.int32))], np.array([2 - 1e-9]), *_one_item())
    assert near.rounded() == [(0, 2)]


def _one_item() -> tuple[NDArray[np.int64], NDArray[np.int64], list[int], NDArray[np.int64]]:
    """Return demand, stock, costs and areas of a single item, of which there is enough."""
    return np.array([5]), np.array([9]), [1], np.array([4])

"""Tests of the cheapest bins that satisfy covering inequalities."""

from __future__ import annotations

from itertools import product

from hypothesis import given, reject
from hypothesis import strategies as st

from cutlist.nesting.bounds.cover import CoverRow, cheapest

_KINDS = st.integers(1, 3)


@st.composite
def covers(draw: st.DrawFn) -> tuple[list[int], list[int | None], list[CoverRow]]:
    """Return costs, limits and rows small enough to enumerate."""
    kinds = draw(_KINDS)
    costs = draw(st.lists(st.integers(0, 9), min_size=kinds, max_size=kinds))
    limits = draw(st.lists(st.sampled_from([None, 0, 1, 2, 3]), min_size=kinds, max_size=kinds))
    rows = [
        CoverRow(
            tuple(draw(st.lists(st.integers(0, 6), min_size=kinds, max_size=kinds))),
            draw(st.integers(0, 12)),
        )
        for _ in range(draw(st.integers(1, 3)))
    ]
    return costs, limits, rows


def _enumerated(costs: list[int], limits: list[int | None], rows: list[CoverRow]) -> int | None:
    """Try all numbers of bins; 12 of a kind satisfy whatever that kind can satisfy."""
    best: int | None = None
    for counts in product(*(range((12 if limit is None else limit) + 1) for limit in limits)):
        if all(
            sum(c * n for c, n in zip(row.capacities, counts, strict=True)) >= row.total
            for row in rows
        ):
            cost = sum(c * n for c, n in zip(costs, counts, strict=True))
            best = cost if best is None else min(best, cost)
    return best


@given(covers())
def test_equals_enumeration(cover: tuple[list[int], list[int | None], list[CoverRow]]) -> None:
    """With a large enough search the result is the optimum, None where there is none."""
    costs, limits, rows = cover
    assert cheapest(costs, limits, rows, nodes=100_000) == _enumerated(costs, limits, rows)


@given(covers(), st.integers(0, 5))
def test_short_search_stays_below(
    cover: tuple[list[int], list[int | None], list[CoverRow]], nodes: int
) -> None:
    """A search cut short may be weaker, but is never above the optimum."""
    costs, limits, rows = cover
    least = _enumerated(costs, limits, rows)
    bound = cheapest(costs, limits, rows, nodes=nodes)
    if least is None:
        reject()
    assert bound is not None
    assert bound <= least


def test_two_rows_together_prove_more_than_each() -> None:
    """One row asks for the first kind, one for the second; only together they ask for both."""
    rows = [CoverRow((1, 0), 1), CoverRow((0, 1), 1)]
    assert [cheapest([4, 5], [None, None], [row]) for row in rows] == [4, 5]
    assert cheapest([4, 5], [None, None], rows) == 9

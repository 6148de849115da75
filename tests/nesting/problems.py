"""Random packing problems for property tests."""

from __future__ import annotations

from hypothesis import strategies as st

from cutlist.nesting.problem import Bin, Item, Problem


@st.composite
def problems(draw: st.DrawFn, *, reach: bool = False) -> Problem:
    """Return a problem whose every item fits its first bin, which has no limit."""
    kerf = draw(st.integers(0, 4))
    length, width = draw(st.integers(20, 120)), draw(st.integers(20, 120))
    trim = draw(st.sampled_from([0, 0, 1, kerf, kerf + 1, 7]))
    bins = [Bin(length, width, draw(st.integers(1, 50)), None, trim)]
    for _ in range(draw(st.integers(0, 2))):
        bins.append(
            Bin(
                draw(st.integers(10, 150)),
                draw(st.integers(10, 150)),
                draw(st.sampled_from([0, 0, 5, 30, 90])),
                draw(st.integers(1, 3)),
                draw(st.sampled_from([0, 2])),
            )
        )
    items = [
        Item(
            draw(st.integers(1, length)),
            draw(st.integers(1, width)),
            draw(st.integers(1, 5)),
            draw(st.booleans()),
        )
        for _ in range(draw(st.integers(1, 7)))
    ]
    limit = draw(st.integers(5, 100)) if reach else None
    return Problem(tuple(items), tuple(bins), kerf, limit)

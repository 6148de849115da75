"""The integer grid of a job."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.errors import LengthError
from cutlist.units.grid import MAX_COUNT, Grid

#: Marks of a sixty-fourth of an inch and of a tenth of a millimetre, in inches.
LENGTHS = st.lists(
    st.integers(0, 96 * 64).map(lambda marks: Fraction(marks, 64))
    | st.integers(0, 24384).map(lambda marks: Fraction(marks, 254)),
    max_size=20,
)


@pytest.mark.parametrize(
    ("lengths", "unit"),
    [
        (["96", "48", "1/8"], "1/8"),
        (["2440", "1220", "3.2"], "0.8"),
        (["6", "10", "15"], "1"),
        (["6", "10", "14"], "2"),
        (["1/64", "5/1270"], "1/8128"),  # 1/64 in and 0.1 mm, in inches: lcm(64, 254) = 8128
        (["0", "3/4"], "3/4"),
        (["0"], "1"),
        ([], "1"),
    ],
)
def test_unit_is_the_greatest_common_divisor(lengths: list[str], unit: str) -> None:
    """The grid is the coarsest that holds all lengths."""
    assert Grid.of(map(Fraction, lengths)).unit == Fraction(unit)


@given(LENGTHS)
def test_lengths_survive_the_grid(lengths: list[Fraction]) -> None:
    """Every length becomes a whole number and comes back exactly; no coarser grid would do."""
    grid = Grid.of(lengths)
    steps = [grid.to_int(length) for length in lengths]
    assert [grid.to_length(step) for step in steps] == lengths
    for factor in (2, 3, 5, 7):
        assert not any(steps) or any(step % factor for step in steps)


@given(LENGTHS, st.fractions(Fraction(1, 50), 50, max_denominator=50))
def test_scaling_lengths_scales_the_grid(lengths: list[Fraction], factor: Fraction) -> None:
    """The same job in other units lies on the same whole numbers."""
    grid, scaled = Grid.of(lengths), Grid.of(length * factor for length in lengths)
    assert [scaled.to_int(length * factor) for length in lengths] == [
        grid.to_int(length) for length in lengths
    ]


def test_refuses_what_lies_between() -> None:
    """A length off the grid is refused, not rounded."""
    with pytest.raises(ValueError, match="not a multiple"):
        Grid(Fraction(1, 8)).to_int(Fraction(1, 16))


def test_guards_the_largest_count() -> None:
    """The longest length may be the largest count of steps, and not one more."""
    assert Grid.of([Fraction(1), Fraction(MAX_COUNT)]).to_int(Fraction(MAX_COUNT)) == MAX_COUNT
    with pytest.raises(LengthError, match="too fine"):
        Grid.of([Fraction(1), Fraction(MAX_COUNT + 1)])

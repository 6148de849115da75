"""Lengths of the rack as text: exact, and in the way the trade writes them."""

from __future__ import annotations

import csv
import io
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from cutlist.model.edges import Edge
from cutlist.model.rack import RackGrain
from cutlist.rack.text import COLUMNS, exact_text, list_text
from cutlist.reading.rack_list import read_rack_list
from cutlist.units.lengths import convert, read_length
from cutlist.units.system import Units
from tests.rack.racks import piece

INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    ("mm", "inch_rack", "mm_rack"),
    [
        # 1 in is 25.4 mm exactly (international agreement of 1959).
        (INCH * Fraction(189, 8), "23 5/8 in", "23 5/8 in"),
        (Fraction(600), "600 mm", "600 mm"),
        (INCH * 40, "40 in", "1016 mm"),
        (INCH / 3, "1/3 in", "1/3 in"),
        (INCH / 64, "1/64 in", "1/64 in"),
        (Fraction(1, 10), "0.1 mm", "0.1 mm"),
        (Fraction(0), "0 in", "0 mm"),
        # As a fraction of an inch that would be 10/381.
        (Fraction(2, 3), "2/3 mm", "2/3 mm"),
        (Fraction(1, 1009), "1/1009 mm", "1/1009 mm"),
    ],
)
def test_lengths_as_they_are_written(mm: Fraction, inch_rack: str, mm_rack: str) -> None:
    """A length is on the rule of the rack's unit where it can be, else of whichever writes it."""
    assert exact_text(mm, Units.INCH) == inch_rack
    assert exact_text(mm, Units.MM) == mm_rack


@given(
    st.fractions(0, 100_000, max_denominator=1000) | st.integers(0, 6_000_000).map(Fraction),
    st.sampled_from(list(Units)),
)
@example(Fraction(12345, 64) * INCH, Units.MM)
def test_lengths_are_read_again_exactly(mm: Fraction, units: Units) -> None:
    """What is written is read back to the very same length, whatever the unit asked for."""
    mm = mm % 100_000
    assert convert(read_length(exact_text(mm, units), units), units, Units.MM) == mm


LENGTHS = st.fractions(Fraction(1, 10), 3000, max_denominator=2000)


@pytest.mark.slow
@given(st.lists(st.tuples(LENGTHS, LENGTHS, LENGTHS), max_size=4), st.sampled_from(list(Units)))
def test_a_list_is_read_again_exactly(
    sizes: list[tuple[Fraction, Fraction, Fraction]], units: Units
) -> None:
    """Every piece of a list comes back as it was, sevenths and metric inches included."""
    pieces = [
        piece(
            f'a, "{number}" é=1',
            (length, width),
            trim=trim % (min(length, width) / 2),
            edges=(Edge.LEFT, Edge.UPPER) if trim % (min(length, width) / 2) else (),
            grain=RackGrain.NONE if number % 2 else RackGrain.LENGTH,
        )
        for number, (length, width, trim) in enumerate(sizes)
    ]
    path = Path("list.csv")
    text = list_text(pieces, units)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("cutlist.reading.rack_list.load_bytes", lambda _: text.encode())
        assert read_rack_list(path, units) == tuple(pieces)


def test_other_readers_find_the_same_cells() -> None:
    """The list is what the standard library's reader of comma-separated text takes it for."""
    text = list_text([piece("door, left", (INCH * 40, INCH * Fraction(45, 2)))], Units.INCH)
    rows = list(csv.DictReader(io.StringIO(text)))
    assert list(rows[0]) == list(COLUMNS)
    assert rows[0]["name"] == "door, left"
    assert rows[0]["size"] == "40 in x 22 1/2 in"
    assert rows[0]["thickness"] == "18 mm"

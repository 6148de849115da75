"""Groups of parts to match: which size they share."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.job import Match
from cutlist.units.system import Units
from tests.reading.jobs import job_of

if TYPE_CHECKING:
    from pathlib import Path

CASE = """\
job: Case
units: in
saw: {kerf: 1/8}
sheets: [{name: full, material: ply, thickness: 3/4, size: 96 x 48}]
parts:
  - {name: side,  material: ply, size: 34 1/2 x 23 1/4, qty: 2, match: depth}
  - {name: floor, material: ply, size: 30 x 23 1/4, match: {length: inner width, width: depth}}
  - {name: brace, material: ply, size: 4 x 30, match: inner width}
  - {name: door,  material: ply, size: 12 x 18, qty: 2, match: {width: doors}}
"""


def test_the_common_size_is_found(tmp_path: Path) -> None:
    """Whichever way round the parts lie, their common size is what matches; groups in order."""
    assert job_of(CASE, tmp_path).matches == (
        Match("depth", Fraction(93, 4), ("side", "floor")),
        Match("inner width", Fraction(30), ("floor", "brace")),
        Match("doors", Fraction(18), ("door",)),
    )


def test_one_part_says_which_side(tmp_path: Path) -> None:
    """Of two parts of the same size one names the side; the other follows."""
    text = CASE.replace("size: 30 x 23 1/4, match: {length", "size: 23 1/4 x 30, match: {width")
    text = text.replace("inner width, width: depth}", "inner width}")
    text = text.replace("match: depth}", "match: {length: a pair}}")
    text = text.replace("12 x 18, qty: 2, match: {width: doors}", "18 x 34 1/2, match: a pair")
    assert job_of(text, tmp_path).matches[0] == Match("a pair", Fraction(69, 2), ("side", "door"))


def test_the_same_size_in_two_units_matches(tmp_path: Path) -> None:
    """30 in and 762 mm are one size: an inch is 25.4 mm."""
    job = job_of(CASE.replace("size: 4 x 30", "size: 4 in x 762 mm"), tmp_path)
    assert job.matches[1].distance == 30


def test_a_square_part_matches_by_either_side(tmp_path: Path) -> None:
    """A square part shares one size only, so that no side has to be named."""
    text = CASE.replace("12 x 18, qty: 2, match: {width: doors}", "12 x 12, qty: 2, match: doors")
    assert job_of(text, tmp_path).matches[2] == Match("doors", Fraction(12), ("door",))


def test_without_the_keys_nothing_is_asked(tmp_path: Path) -> None:
    """A job that names no group has no matches, and no second unit."""
    text = "\n".join(line.split(", match")[0] + "}" if "match" in line else line
                     for line in CASE.splitlines())  # fmt: skip
    job = job_of(text, tmp_path)
    assert (job.matches, job.also_in) == ((), None)
    assert job_of(text + "\nalso_in: mm\n", tmp_path).also_in is Units.MM

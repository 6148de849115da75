"""Stock as the job file tells of it: what comes off its edges, and whether it has a grain."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from cutlist.errors import JobFileError
from cutlist.model.edges import EdgeTrims
from cutlist.telling.understood import describe
from tests.reading.jobs import job_of

if TYPE_CHECKING:
    from pathlib import Path

JOB = """\
job: Shelf
units: mm
saw: {{kerf: 3}}
sheets: [{{name: full, material: ply, thickness: 18, size: 2440 x 1220{sheet}}}]
offcuts: [{{name: scrap, material: ply, thickness: 18, size: 600 x 300{offcut}}}]
parts: [{{name: shelf, material: ply, size: {size}, grain: length}}]
"""


def text(offcut: str = "", sheet: str = "", size: str = "400 x 200") -> str:
    """Return a job whose stock has some more keys."""
    return JOB.format(offcut=offcut, sheet=sheet, size=size)


@pytest.mark.parametrize(
    ("key", "trim", "edges"),
    [
        ("", 0, None),
        (", trim: 6", 6, None),
        (", trim: {}", 0, None),
        (", trim: {left: 6, right: 6, upper: 6, lower: 6}", 6, None),
        (", trim: {left: 6}", 0, (6, 0, 0, 0)),
        (", trim: {upper: 2, lower: 1 cm}", 0, (0, 0, 10, 2)),
        (", trim: {left: 6, right: 2, lower: 2, upper: 2}", 2, (6, 2, 2, 2)),
    ],
)
def test_what_comes_off_each_edge(
    key: str, trim: int, edges: tuple[int, ...] | None, tmp_path: Path
) -> None:
    """One length is for all edges; told by edge, those that are not named are clean."""
    (offcut,) = job_of(text(key), tmp_path).offcuts
    assert offcut.trim == trim
    assert offcut.edges == (None if edges is None else EdgeTrims(*map(Fraction, edges)))
    assert offcut.trims == EdgeTrims(*map(Fraction, edges or (trim,) * 4))


@pytest.mark.parametrize(
    ("offcut", "sheet", "path", "message"),
    [
        (", trim: {top: 6}", "", "offcuts[1].trim.top", "there is no key 'top' here"),
        (", trim: {left: wide}", "", "offcuts[1].trim.left", "this is not a length"),
        (", trim: {left: -6}", "", "offcuts[1].trim.left", "a length cannot be negative"),
        (", trim: [6, 6]", "", "offcuts[1].trim", "one value is wanted here"),
        (", trim: {left: 590, right: 10}", "", "offcuts[1].trim", "leaves nothing of 600 × 300"),
        ("", ", trim: {left: 6}", "sheets[1].trim", "one value is wanted here"),
        (", grain: width", "", "offcuts[1].grain", "this is none of length, none"),
    ],
)
def test_faults(offcut: str, sheet: str, path: str, message: str, tmp_path: Path) -> None:
    """Each fault is told at its own key, and alone."""
    with pytest.raises(JobFileError) as caught:
        job_of(text(offcut, sheet), tmp_path)
    (fault,) = caught.value.faults
    assert (fault.path, message in fault.message) == (path, True), fault.message


@pytest.mark.parametrize(
    ("offcut", "sheet", "expected"),
    [
        ("", "", (True, True)),
        (", grain: length", ", grain: length", (True, True)),
        (", grain: none", "", (True, False)),
        ("", ", grain: none", (False, False)),
    ],
)
def test_grain_is_a_matter_of_the_material(
    offcut: str, sheet: str, expected: tuple[bool, bool], tmp_path: Path
) -> None:
    """A sheet without a grain says so for all of its material, an offcut for itself alone."""
    job = job_of(text(offcut, sheet), tmp_path)
    assert (job.sheets[0].has_grain, job.offcuts[0].has_grain) == expected


def test_a_part_fits_turned_where_there_is_no_grain(tmp_path: Path) -> None:
    """A part too long across the sheet is sound where the material has no grain, and only there."""
    with pytest.raises(JobFileError, match="1 fault"):
        job_of(text(size="300 x 2000"), tmp_path)
    assert job_of(text(sheet=", grain: none", size="300 x 2000"), tmp_path).parts
    with pytest.raises(JobFileError, match="1 fault"):
        job_of(text(", grain: none", size="300 x 2000"), tmp_path)


def test_what_is_understood_is_said(tmp_path: Path) -> None:
    """The summary tells of each edge what comes off, and that a material has no grain."""
    said = "\n".join(describe(job_of(text(", trim: {left: 6, upper: 2}"), tmp_path), 200))
    assert "left 6 mm, upper 2 mm" in said
    assert "no grain" not in said
    said = "\n".join(describe(job_of(text(sheet=", grain: none"), tmp_path), 200))
    assert "2440 × 1220 mm, no grain" in said


def test_an_edge_counts_for_the_step(tmp_path: Path) -> None:
    """What comes off one edge is cut as exactly as anything else: it may have no common step."""
    key = ", trim: {left: 6 990/991, right: 6 996/997, upper: 5 982/983}"
    with pytest.raises(JobFileError) as caught:
        job_of(text(key, size="400 x 200 970/971"), tmp_path)
    assert caught.value.faults[0].path.startswith(("offcuts[1].trim.", "parts[1].size"))

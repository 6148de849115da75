"""The smallest offcut worth keeping, for all materials or for each."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.model.job import DEFAULT_KEEP_FROM, Job, KeepFrom
from cutlist.reading import read_job
from cutlist.telling.understood import describe
from cutlist.units.system import Units

JOB = """\
job: Bench
units: mm
saw: {kerf: 3}
sheets: [{name: full, material: birch ply, thickness: 18, size: 2440 x 1220}]
offcuts: [{name: scrap, material: MDF, thickness: 12, size: 500 x 300}]
parts: [{name: shelf, material: birch ply, size: 600 x 300}]
"""


def read(line: str, folder: Path) -> Job:
    """Read the job with a line more."""
    path = folder / "job.yaml"
    path.write_text(JOB + line + "\n", encoding="utf-8")
    return read_job(path)


def size(length: int, width: int) -> KeepFrom:
    """Return a size worth keeping."""
    return KeepFrom(Fraction(length), Fraction(width))


@pytest.mark.parametrize(
    ("line", "ply", "mdf"),
    [
        ("", DEFAULT_KEEP_FROM[Units.MM], DEFAULT_KEEP_FROM[Units.MM]),
        ("keep_from: 200 x 50", size(200, 50), size(200, 50)),
        ("keep_from: [200, 50]", size(200, 50), size(200, 50)),
        (
            "keep_from: [{material: MDF, size: 400 x 90}]",
            DEFAULT_KEEP_FROM[Units.MM],
            size(400, 90),
        ),
        (
            "keep_from: [{material: MDF, size: 400 x 90}, {size: [70, 60]}]",
            size(70, 60),
            size(400, 90),
        ),
    ],
)
def test_sizes_by_material(line: str, ply: KeepFrom, mdf: KeepFrom, tmp_path: Path) -> None:
    """A size holds for all, an entry with a material for that, one without for the rest."""
    job = read(line, tmp_path)
    assert (job.least_kept("birch ply"), job.least_kept("MDF")) == (ply, mdf)
    told = "  offcuts of MDF are kept from 400 × 90 mm"
    assert (told in describe(job)) == ("MDF" in line)


@pytest.mark.parametrize(
    ("line", "path", "message"),
    [
        ("keep_from: 200", "keep_from", "a size is a length and a width"),
        (
            "keep_from: [{material: MFD, size: 4 x 9}]",
            "keep_from[1].material",
            "nothing in",
        ),
        ("keep_from: [{size: 4 x 9}, {size: 5 x 9}]", "keep_from[2]", "is given twice"),
        ("keep_from: [{material: MDF}]", "keep_from[1].size", "the key size is missing"),
        ("keep_from: [{material: MDF, size: 0 x 1}]", "keep_from[1].size", "more than 0"),
        ("keep_from: {size: 4 x 9}", "keep_from", "one value is wanted here"),
    ],
)
def test_faults(line: str, path: str, message: str, tmp_path: Path) -> None:
    """Each fault stands at its entry."""
    with pytest.raises(JobFileError) as caught:
        read(line, tmp_path)
    (fault,) = caught.value.faults
    assert fault.path == path
    assert message in fault.message

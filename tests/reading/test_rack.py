"""A job that names a rack sees the pieces that serve it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError, RackError
from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.rack import RackGrain
from cutlist.rack import add, file
from cutlist.reading import read_job
from cutlist.telling.understood import describe
from cutlist.units.system import Units
from tests.rack.racks import DAY, empty, piece

JOB = """\
job: Bench
units: mm
saw: {kerf: 3}
sheets: [{name: full, material: birch ply, thickness: 18, size: 2440 x 1220}]
offcuts: rack.db
parts:
  - {name: shelf, material: birch ply, size: 600 x 300, qty: 2}
"""


def written(folder: Path, text: str = JOB) -> Path:
    """Write a job beside its rack and return its path."""
    path = folder / "bench.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_job_sees_what_serves_it(tmp_path: Path) -> None:
    """Of the rack a job sees its materials in the thicknesses of its sheets and parts."""
    rack = empty(tmp_path)
    thin = replace(piece("thin"), thickness=Fraction(12))
    bare = piece("no more than trim", (40, 30), trim=20)
    pieces = [piece("a", trim=5), thin, piece("mdf", material="MDF"), bare]
    add(rack, pieces, day=DAY)
    job = read_job(written(tmp_path))
    assert [(one.name, one.trim) for one in job.offcuts] == [("a", Fraction(5))]
    assert job.rack is not None
    assert [one.name for one in job.rack.offcuts] == [one.name for one in pieces]
    assert f"  rack {rack}: 4 offcuts, of which 1 may serve" in "\n".join(
        line for line in describe(job, 200)
    )
    text = JOB.replace("qty: 2}", "qty: 2, thickness: 12}")
    assert [one.name for one in read_job(written(tmp_path, text)).offcuts] == ["a", "thin"]


def test_edges_and_grain_come_with_a_piece(tmp_path: Path) -> None:
    """What comes off which edges of a piece, and whether it has a grain, the job takes over."""
    edges = (Edge.LEFT, Edge.UPPER)
    marked = piece("a", (700, 400), trim=5, edges=edges, grain=RackGrain.NONE)
    # Something is left of this one only because nothing comes off its right edge.
    narrow = piece("b", (39, 400), trim=20, edges=(Edge.LEFT,))
    add(empty(tmp_path), [marked, narrow, piece("c", trim=5)], day=DAY)
    first, second, third = read_job(written(tmp_path)).offcuts
    assert first.edges == EdgeTrims(left=Fraction(5), upper=Fraction(5))
    assert (first.trim, first.has_grain) == (Fraction(0), False)
    assert second.trims.inside(second.length, second.width) == (Fraction(19), Fraction(400))
    assert second.has_grain
    assert (third.edges, third.trim) == (None, Fraction(5))


def test_a_material_of_the_rack_alone(tmp_path: Path) -> None:
    """Of a material without sheets every thickness on the rack is seen."""
    add(empty(tmp_path), [piece("a"), piece("b", material="MDF")], day=DAY)
    job = read_job(written(tmp_path, JOB + "  - {name: back, material: MDF, size: 100 x 100}\n"))
    assert [one.name for one in job.offcuts] == ["a", "b"]
    assert job.parts[1].thickness == 18


def test_lengths_are_exact_in_either_unit(tmp_path: Path) -> None:
    """A piece measured in inches is exact in a job in millimetres, and the other way about."""
    size = (Fraction(254, 10) * Fraction(121, 3), Fraction(500))
    add(empty(tmp_path, Units.INCH), [piece("a", size)], day=DAY)
    job = read_job(written(tmp_path))
    assert (job.offcuts[0].length, job.offcuts[0].width) == size
    inches = JOB.replace("units: mm", "units: in").replace("18,", "18 mm,")
    inches = inches.replace("2440 x 1220", "96 x 48").replace("600 x 300", "20 x 10")
    job = read_job(written(tmp_path, inches.replace("kerf: 3", "kerf: 1/8")))
    assert (job.offcuts[0].length, job.offcuts[0].width) == (
        Fraction(121, 3),
        500 / Fraction(254, 10),
    )


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("offcuts: away.db", "there is no rack; make one: cutlist offcuts new"),
        ("offcuts: bench.yaml", "not an offcut rack"),
        ("offcuts: {name: a}", "offcuts is a list"),
    ],
)
def test_faults_of_the_path(line: str, message: str, tmp_path: Path) -> None:
    """What is no rack is told at the key, and is the only fault."""
    with pytest.raises(JobFileError) as caught:
        read_job(written(tmp_path, JOB.replace("offcuts: rack.db", line)))
    (fault,) = caught.value.faults
    assert message in fault.message
    assert (fault.line, fault.path) == (5, "offcuts")


def test_a_name_that_a_sheet_has(tmp_path: Path) -> None:
    """A piece named as one of the sheets is told; the plan could not tell the two apart."""
    add(empty(tmp_path), [piece("full")], day=DAY)
    with pytest.raises(JobFileError) as caught:
        read_job(written(tmp_path))
    (fault,) = caught.value.faults
    assert fault.path == "offcuts: full.name"
    assert "the name full is taken" in fault.message


def test_a_rack_that_cannot_be_read_now(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A rack that fails is no fault of the job."""

    def fail(*_: object) -> None:
        raise RackError("busy")

    empty(tmp_path)
    monkeypatch.setattr(file, "on_rack", fail)
    with pytest.raises(RackError, match="busy"):
        read_job(written(tmp_path))

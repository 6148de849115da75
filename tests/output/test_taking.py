"""Taking a plan whose work is done, from its documents to the rack."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path

import pytest

from cutlist.errors import RackError, RackFileError, WriteError
from cutlist.output.taking import take_plan, waiting_plan
from cutlist.output.writing import BOOKING, write_documents
from cutlist.rack import read_rack, remove, undo
from cutlist.reading import read_job
from tests.rack.plans import JOB, job, planned
from tests.rack.racks import DAY, names


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with a job, its rack, and its plan written to ``out``."""
    paths = write_documents(planned(job(tmp_path)), tmp_path / "out", ("json",), day=DAY)
    assert [path.name for path in paths] == ["plan.json"]
    return tmp_path


def test_planning_changes_nothing(tmp_path: Path) -> None:
    """However often a job is planned and written, not a byte of its rack changes."""
    asked = job(tmp_path)
    before = (tmp_path / "rack.db").read_bytes()
    for _ in range(2):
        write_documents(planned(asked), tmp_path / "out", ("json",), day=DAY)
        waiting_plan(asked, tmp_path / "out")
    assert (tmp_path / "rack.db").read_bytes() == before


def test_a_plan_is_taken_once(folder: Path) -> None:
    """The rack changes as the plan says; a second time is refused, until it was undone."""
    asked, rack = job(folder), folder / "rack.db"
    booking, change = take_plan(asked, folder / "out", day=DAY)
    assert "strip" not in names(rack)
    assert names(rack) == [one.name for one in change.entered]
    assert [one.length for one in change.entered] == [one.length for one in booking.entering]
    assert {one.job for one in change.entered} == {"Bench"}
    with pytest.raises(RackError, match="taken already") as caught:
        take_plan(asked, folder / "out", day=DAY)
    assert caught.value.exit_status == 1
    undo(rack)
    assert names(rack) == ["strip"]
    take_plan(asked, folder / "out", day=DAY)


def test_a_piece_that_is_gone(folder: Path) -> None:
    """A plan whose piece left the rack meanwhile is refused, and the rack stays."""
    remove(folder / "rack.db", ["strip"], day=DAY)
    before = read_rack(folder / "rack.db")
    with pytest.raises(RackError, match="no longer on the rack: strip"):
        take_plan(job(folder), folder / "out", day=DAY)
    assert read_rack(folder / "rack.db") == before


def test_a_job_that_was_changed(folder: Path) -> None:
    """A plan is that of the job file as it was."""
    path = folder / "bench.yaml"
    path.write_text(JOB + "# a word more\n", encoding="utf-8")
    with pytest.raises(RackFileError, match="changed since this plan was made") as caught:
        take_plan(read_job(path), folder / "out", day=DAY)
    assert caught.value.exit_status == 2


def test_a_job_without_a_rack(folder: Path) -> None:
    """A job that names no rack has nothing to take; its plan clears away that of a rack."""
    path = folder / "bench.yaml"
    path.write_text(JOB.replace("offcuts: rack.db\n", ""), encoding="utf-8")
    asked = read_job(path)
    with pytest.raises(RackFileError, match="names no offcut rack"):
        take_plan(asked, folder / "out", day=DAY)
    write_documents(planned(asked), folder / "out", ("json",), day=DAY)
    assert not (folder / "out" / BOOKING).exists()
    with pytest.raises(RackFileError, match="made without a rack, or not written to its end"):
        take_plan(job(folder), folder / "out", day=DAY)


def test_no_plan_at_all(tmp_path: Path) -> None:
    """Where no plan lies nothing waits."""
    asked = job(tmp_path)
    assert waiting_plan(asked, tmp_path / "out") is None
    with pytest.raises(RackFileError, match="there is no plan here"):
        take_plan(asked, tmp_path / "out", day=DAY)


@pytest.mark.slow
@pytest.mark.parametrize("document", ["plan.json", "rack.json"])
def test_killed_while_writing(document: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If a kill falls between two documents, the plan before is not taken for the new one."""
    put = Path.replace

    def killed(self: Path, target: Path) -> Path:
        if target.name == document:
            raise KeyboardInterrupt
        return put(self, target)

    monkeypatch.setattr(Path, "replace", killed)
    with pytest.raises(KeyboardInterrupt):
        write_documents(planned(job(folder), 50), folder / "out", ("json",), day=DAY)
    with pytest.raises(RackFileError, match="not written to its end"):
        take_plan(job(folder), folder / "out", day=DAY)
    assert names(folder / "rack.db") == ["strip"]


@pytest.mark.slow
@pytest.mark.parametrize("document", ["plan.json", "rack.json"])
def test_a_full_disk_leaves_the_plan_before(
    document: str, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the disk has no room for a new plan, the one before stays, and can be taken."""
    asked = job(folder)
    again = planned(asked, 100)
    before = {path.name: path.read_bytes() for path in (folder / "out").iterdir()}
    beside = tempfile.mkstemp

    def full(*, prefix: str, dir: Path) -> tuple[int, str]:  # noqa: A002
        if prefix == f".{document}.":
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return beside(prefix=prefix, dir=dir)

    monkeypatch.setattr(tempfile, "mkstemp", full)
    with pytest.raises(WriteError, match=document):
        write_documents(again, folder / "out", ("json",), day=DAY)
    assert {path.name: path.read_bytes() for path in (folder / "out").iterdir()} == before
    take_plan(asked, folder / "out", day=DAY)
    assert "strip" not in names(folder / "rack.db")

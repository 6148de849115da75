"""The file of a rack: made once, told from other files, not touched by reading."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from cutlist.errors import RackError, RackFileError
from cutlist.rack import add, file, make_rack, read_rack
from cutlist.units.system import Units
from tests.rack.racks import DAY, empty, piece


def test_a_new_rack_is_empty(tmp_path: Path) -> None:
    """A rack is made with its unit and nothing on it."""
    path = empty(tmp_path, Units.INCH)
    rack = read_rack(path)
    assert (rack.file, rack.units, rack.offcuts) == (str(path), Units.INCH, ())


def test_a_rack_is_not_made_twice(tmp_path: Path) -> None:
    """Making a rack where one is leaves that as it is."""
    path = empty(tmp_path)
    add(path, [piece("a")], day=DAY)
    with pytest.raises(RackFileError, match="there is a rack already"):
        make_rack(path, Units.MM)
    assert len(read_rack(path).offcuts) == 1


def test_what_a_kill_leaves_of_making_a_rack_is_no_hindrance(tmp_path: Path) -> None:
    """An empty file is no rack, and may become one."""
    path = tmp_path / "rack.db"
    path.touch()
    with pytest.raises(RackFileError, match="not an offcut rack"):
        read_rack(path)
    make_rack(path, Units.MM)
    assert read_rack(path).offcuts == ()


@pytest.mark.parametrize("content", [b"job: a\n", b"x" * 5000, b"SQLite format 3\0" + b"y" * 4080])
def test_other_files_are_refused(content: bytes, tmp_path: Path) -> None:
    """A file that is no database, or a damaged one, is told to be no rack and stays as it is."""
    path = tmp_path / "other"
    path.write_bytes(content)
    for attempt in (read_rack, lambda path: add(path, [piece()], day=DAY)):
        with pytest.raises(RackFileError, match="not an offcut rack"):
            attempt(path)
    assert path.read_bytes() == content


def test_databases_of_others_are_refused(tmp_path: Path) -> None:
    """A database that is no rack is told to be none."""
    path = tmp_path / "other.db"
    with closing(sqlite3.connect(path)) as database:
        database.execute("CREATE TABLE rack (units TEXT)")
    with pytest.raises(RackFileError, match="not an offcut rack"):
        read_rack(path)


def test_no_rack_is_made_by_reading(tmp_path: Path) -> None:
    """A rack that is not there, or is a folder, is told so; nothing comes into being."""
    with pytest.raises(RackFileError, match="there is no rack; make one: cutlist offcuts new"):
        read_rack(tmp_path / "rack.db")
    with pytest.raises(RackFileError, match="not a file"):
        read_rack(tmp_path)
    with pytest.raises(RackError, match="cannot be opened"):
        make_rack(tmp_path / "away" / "rack.db", Units.MM)
    assert list(tmp_path.iterdir()) == []


def test_reading_leaves_the_file_as_it_is(tmp_path: Path) -> None:
    """Not a byte is changed by reading, and no other file is left beside the rack."""
    path = empty(tmp_path)
    add(path, [piece("a"), piece("b")], day=DAY)
    before = path.read_bytes(), path.stat().st_mtime_ns
    assert len(read_rack(path).offcuts) == 2
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert [one.name for one in tmp_path.iterdir()] == ["rack.db"]


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root writes all")
def test_a_rack_that_cannot_be_written(tmp_path: Path) -> None:
    """A rack without leave to write can be read, and says that it cannot be changed."""
    path = empty(tmp_path)
    path.chmod(0o444)
    assert read_rack(path).offcuts == ()
    with pytest.raises(RackError, match="cannot be written; the rack is as it was"):
        add(path, [piece()], day=DAY)


def test_a_rack_in_use_is_waited_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A command that holds the rack for too long is told of; reading goes on meanwhile."""
    monkeypatch.setattr(file, "_PATIENCE", 0.1)
    path = empty(tmp_path)
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        database.execute("BEGIN IMMEDIATE")
        with pytest.raises(RackError, match="another command is at the rack"):
            add(path, [piece()], day=DAY)
        assert read_rack(path).offcuts == ()


def test_the_disk_has_the_change_before_it_is_told(tmp_path: Path) -> None:
    """Changes are written through to the disk (SQLite: PRAGMA synchronous, 3 is EXTRA)."""
    with file.transaction(empty(tmp_path), writing=False) as database:
        assert database.execute("PRAGMA synchronous").fetchone() == (3,)
        assert database.execute("PRAGMA journal_mode").fetchone() == ("delete",)

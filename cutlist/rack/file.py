"""The file of a rack: making it, opening it, what is on it.

An SQLite database. A change is one transaction: after a kill or a power cut at any moment the
file holds either all of it or nothing of it, and SQLite sees to that when the file is next opened,
with the help of a second file, ``NAME-journal``, that may be left beside it and has to stay there.
A writer locks the rack for the moment of its change; others wait for it.

Nothing is ever deleted. A piece moves in and out with a change; an undone change does not count.
"""

from __future__ import annotations

import datetime
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from typing import Final

from cutlist.errors import RackError, RackFileError
from cutlist.model.edges import Edge
from cutlist.model.rack import Rack, RackGrain, RackOffcut
from cutlist.units.system import Units

__all__ = ["make_rack", "moved", "on_rack", "read_rack", "transaction"]

#: Says in the head of the file that the database is a rack, and in which form.
_APPLICATION: Final = 0x0FFC0752
_FORM: Final = 1
#: Seconds that a command waits for others to finish their change.
_PATIENCE: Final = 30.0

_SCHEMA: Final = (
    "CREATE TABLE rack (units TEXT NOT NULL)",
    """CREATE TABLE change (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        day TEXT NOT NULL,
        kind TEXT NOT NULL,
        job TEXT NOT NULL DEFAULT '',
        plan TEXT NOT NULL DEFAULT '',
        state TEXT NOT NULL DEFAULT 'done' CHECK (state IN ('done', 'undone', 'dropped')))""",
    """CREATE TABLE offcut (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        name TEXT NOT NULL, material TEXT NOT NULL, thickness TEXT NOT NULL,
        length TEXT NOT NULL, width TEXT NOT NULL, grain TEXT NOT NULL,
        trim TEXT NOT NULL, edges TEXT NOT NULL, day TEXT NOT NULL, job TEXT NOT NULL)""",
    """CREATE TABLE move (
        change INTEGER NOT NULL REFERENCES change, offcut INTEGER NOT NULL REFERENCES offcut,
        step INTEGER NOT NULL CHECK (step IN (1, -1)), PRIMARY KEY (change, offcut))""",
)
_PIECE: Final = """
    SELECT offcut.number, name, material, thickness, length, width, grain, trim, edges,
        offcut.day, offcut.job
    FROM offcut JOIN move ON move.offcut = offcut.number"""
_ON_RACK: Final = f"""{_PIECE} JOIN change ON change.number = move.change
    WHERE change.state = 'done'
    GROUP BY offcut.number HAVING sum(move.step) = 1 ORDER BY offcut.number"""
_MOVED: Final = f"{_PIECE} WHERE move.change = ? AND move.step = ? ORDER BY offcut.number"


def make_rack(path: Path, units: Units) -> None:
    """Make an empty rack.

    Raises
    ------
    RackFileError
        If something else stands there already.
    RackError
        If the disk refuses.
    """
    with _told(path, "no rack was made"), _connected(path, mode="rwc") as database:
        database.execute("BEGIN IMMEDIATE")
        # An empty file is what a kill may leave of an earlier attempt.
        if database.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]:
            raise RackFileError(f"{path}: there is a rack already")
        for statement in _SCHEMA:
            database.execute(statement)
        database.execute("INSERT INTO rack VALUES (?)", (units.value,))
        database.execute(f"PRAGMA application_id = {_APPLICATION}")
        database.execute(f"PRAGMA user_version = {_FORM}")
        database.execute("COMMIT")


def read_rack(path: Path) -> Rack:
    """Read what is on a rack; the file stays as it is.

    Raises
    ------
    RackFileError
        If it is not there, or not a rack.
    RackError
        If it cannot be read.
    """
    with transaction(path, writing=False) as database:
        return on_rack(database, path)


def on_rack(database: sqlite3.Connection, path: Path) -> Rack:
    """Read what is on a rack within a transaction."""
    (units,) = database.execute("SELECT units FROM rack").fetchone()
    states = database.execute("SELECT number, state FROM change ORDER BY number DESC").fetchall()
    # Numbers are not given twice and a dropped change stays dropped: the pair is never seen again
    # unless the rack is what it was then.
    last = next((number for number, state in states if state == "done"), 0)
    newest = states[0][0] if states else 0
    offcuts = tuple(_offcut(row) for row in database.execute(_ON_RACK))
    return Rack(str(path), Units(units), f"{last} of {newest}", offcuts)


def moved(database: sqlite3.Connection, change: int, step: int) -> tuple[RackOffcut, ...]:
    """Read which pieces a change put on the rack (``step`` 1) or took off it (-1)."""
    return tuple(_offcut(row) for row in database.execute(_MOVED, (change, step)))


def _offcut(row: tuple[int, str, str, str, str, str, str, str, str, str, str]) -> RackOffcut:
    number, name, material, thickness, length, width, grain, trim, edges, day, job = row
    return RackOffcut(
        name=name,
        material=material,
        thickness=Fraction(thickness),
        length=Fraction(length),
        width=Fraction(width),
        grain=RackGrain(grain),
        trim=Fraction(trim),
        edges=tuple(Edge(edge) for edge in edges.split()),
        day=datetime.date.fromisoformat(day),
        job=job,
        number=number,
    )


@contextmanager
def transaction(path: Path, *, writing: bool) -> Iterator[sqlite3.Connection]:
    """Open a rack; what is done inside happens as a whole, or not at all where it raises.

    Raises
    ------
    RackFileError
        If it is not there, or not a rack.
    RackError
        If another command holds it for too long, or the disk refuses.
    """
    if not path.exists():
        raise RackFileError(f"{path}: there is no rack; make one: cutlist offcuts new {path}")
    if not path.is_file():
        raise RackFileError(f"{path}: this is not a file")
    with _told(path), _connected(path, mode="rw") as database:
        database.execute("BEGIN IMMEDIATE" if writing else "BEGIN")
        (kind,) = database.execute("PRAGMA application_id").fetchone()
        (form,) = database.execute("PRAGMA user_version").fetchone()
        if (kind, form) != (_APPLICATION, _FORM):
            raise RackFileError(f"{path}: this file is not an offcut rack")
        yield database
        database.execute("COMMIT" if writing else "ROLLBACK")


@contextmanager
def _connected(path: Path, *, mode: str) -> Iterator[sqlite3.Connection]:
    address = f"{path.absolute().as_uri()}?mode={mode}"
    database = sqlite3.connect(address, uri=True, timeout=_PATIENCE, isolation_level=None)
    try:
        # Everything down to the folder's entry is on the disk before a change counts as made.
        database.execute("PRAGMA synchronous = EXTRA")
        database.execute("PRAGMA foreign_keys = ON")
        yield database
    finally:
        # Closing takes back whatever was not committed.
        database.close()


@contextmanager
def _told(path: Path, outcome: str = "the rack is as it was") -> Iterator[None]:
    """Turn the database's errors into this package's; a test holds the table to its codes."""
    try:
        yield
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorname", "")
        family = "_".join(code.split("_")[:2])
        if family in {"SQLITE_NOTADB", "SQLITE_CORRUPT"}:
            raise RackFileError(
                f"{path}: this file is not an offcut rack, or is damaged"
            ) from error
        reason = _REASONS.get(family, str(error))
        raise RackError(f"{path}: {reason}; {outcome}") from error


_REASONS: Final = {
    "SQLITE_BUSY": "another command is at the rack and does not finish",
    "SQLITE_FULL": "the disk is full",
    "SQLITE_IOERR": "the disk refuses to be read or written, or is full",
    "SQLITE_READONLY": "the file or its folder cannot be written",
    "SQLITE_CANTOPEN": "the file or its folder cannot be opened",
    "SQLITE_PERM": "the file cannot be opened",
}

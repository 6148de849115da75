"""Changes of a rack: each is whole, noted, and can be undone, the last one first."""

from __future__ import annotations

import datetime
import re
import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from cutlist.errors import RackError, RackFileError
from cutlist.model.rack import Booking, RackOffcut
from cutlist.rack.file import moved, on_rack, transaction

__all__ = ["Change", "add", "history", "redo", "remove", "replace_all", "take", "undo"]

_NAMED_BY_RACK: Final = re.compile(r"rack (\d{1,9})", re.ASCII)


@dataclass(frozen=True, slots=True)
class Change:
    """One change: what came onto the rack and what left it, by name.

    ``kind`` is ``add``, ``remove``, ``import`` or ``take``; ``is_undone`` tells that it does not
    count any more, ``is_final`` that it cannot be made again either.
    """

    number: int
    day: datetime.date
    kind: str
    job: str
    entered: tuple[RackOffcut, ...]
    left: tuple[RackOffcut, ...]
    is_undone: bool = False
    is_final: bool = False


def add(path: Path, offcuts: Sequence[RackOffcut], *, day: datetime.date) -> Change:
    """Put pieces on the rack; one without a name gets the next free ``rack N``.

    Raises
    ------
    RackFileError
        If a name is taken, or given twice; nothing is put there then.
    """
    with transaction(path, writing=True) as database:
        return _change(database, path, "add", day, entering=offcuts)


def remove(path: Path, names: Iterable[str], *, day: datetime.date) -> Change:
    """Take pieces off the rack by name.

    Raises
    ------
    RackFileError
        If one of them is not there; all stay then.
    """
    with transaction(path, writing=True) as database:
        there = {offcut.name: offcut for offcut in on_rack(database, path).offcuts}
        wanted = list(dict.fromkeys(names))
        missing = [name for name in wanted if name not in there]
        if missing:
            raise RackFileError(f"{path}: not on the rack: {', '.join(missing)}")
        return _change(database, path, "remove", day, leaving=[there[name] for name in wanted])


def replace_all(
    path: Path, offcuts: Sequence[RackOffcut], *, day: datetime.date, keeping: bool
) -> Change | None:
    """Put pieces on the rack, and take everything else off it unless ``keeping``.

    A piece that is there just so stays untouched. None is returned where nothing changes.

    Raises
    ------
    RackFileError
        If two pieces would have one name; nothing changes then.
    """
    with transaction(path, writing=True) as database:
        there = {_bare(offcut): offcut for offcut in on_rack(database, path).offcuts}
        wanted = [_bare(offcut) for offcut in offcuts]
        entering = [offcut for offcut in wanted if offcut not in there]
        leaving = [] if keeping else [one for bare, one in there.items() if bare not in wanted]
        if not entering and not leaving:
            return None
        return _change(database, path, "import", day, entering=entering, leaving=leaving)


def take(path: Path, booking: Booking, *, day: datetime.date) -> Change:
    """Do to the rack what a plan does, once its work is done.

    Raises
    ------
    RackError
        If the plan was taken before, or a piece that it uses is no longer there.
    """
    with transaction(path, writing=True) as database:
        before = database.execute(
            "SELECT day FROM change WHERE plan = ? AND state = 'done'", (booking.plan,)
        ).fetchone()
        if before is not None:
            raise RackError(
                f"{path}: this plan was taken already, on {before[0]}; to build the job once more, "
                "plan it again"
            )
        there = {(offcut.number, offcut.name): offcut for offcut in on_rack(database, path).offcuts}
        wanted = [(one.number, one.name) for one in booking.leaving]
        gone = [name for number, name in wanted if (number, name) not in there]
        if gone:
            raise RackError(
                f"{path}: the plan cuts up what is no longer on the rack: {', '.join(gone)}; "
                "plan again, or look into its history"
            )
        return _change(
            database,
            path,
            "take",
            day,
            entering=[replace(one, name="", day=day) for one in booking.entering],
            leaving=[there[one] for one in wanted],
            job=booking.job,
            plan=booking.plan,
        )


def undo(path: Path) -> Change | None:
    """Undo the last change that counts and return it; None where there is none."""
    return _turn(path, "done", "undone", "DESC")


def redo(path: Path) -> Change | None:
    """Make the change again that was undone last; None where there is none.

    A change made after an undo drops what was undone for good.
    """
    return _turn(path, "undone", "done", "ASC")


def history(path: Path) -> tuple[Change, ...]:
    """Tell every change there ever was, the first one first."""
    with transaction(path, writing=False) as database:
        numbers = [row[0] for row in database.execute("SELECT number FROM change ORDER BY number")]
        return tuple(_told(database, number) for number in numbers)


def _turn(path: Path, state: str, to: str, order: str) -> Change | None:
    with transaction(path, writing=True) as database:
        row = database.execute(
            f"SELECT number FROM change WHERE state = ? ORDER BY number {order} LIMIT 1", (state,)
        ).fetchone()
        if row is None:
            return None
        database.execute("UPDATE change SET state = ? WHERE number = ?", (to, row[0]))
        return _told(database, row[0])


def _bare(offcut: RackOffcut) -> RackOffcut:
    return replace(offcut, number=0)


def _change(
    database: sqlite3.Connection,
    path: Path,
    kind: str,
    day: datetime.date,
    *,
    entering: Sequence[RackOffcut] = (),
    leaving: Sequence[RackOffcut] = (),
    job: str = "",
    plan: str = "",
) -> Change:
    gone = {offcut.number for offcut in leaving}
    names = {o.name for o in on_rack(database, path).offcuts if o.number not in gone}
    named = _named(database, entering)
    for offcut in named:
        if offcut.name in names:
            raise RackFileError(f"{path}: the name {offcut.name} is taken on the rack")
        names.add(offcut.name)
    database.execute("UPDATE change SET state = 'dropped' WHERE state = 'undone'")
    number = database.execute(
        "INSERT INTO change (day, kind, job, plan) VALUES (?, ?, ?, ?)",
        (day.isoformat(), kind, job, plan),
    ).lastrowid
    moves = [(number, offcut.number, -1) for offcut in leaving]
    moves += [(number, _insert(database, offcut, day), 1) for offcut in named]
    database.executemany("INSERT INTO move VALUES (?, ?, ?)", moves)
    assert number is not None
    return _told(database, number)


def _named(database: sqlite3.Connection, offcuts: Sequence[RackOffcut]) -> list[RackOffcut]:
    """Give a name to each piece without one; a name is not given again after its piece is gone."""
    every = [row[0] for row in database.execute("SELECT name FROM offcut")]
    every += [offcut.name for offcut in offcuts]
    used = [int(match[1]) for name in every if (match := _NAMED_BY_RACK.fullmatch(name))]
    last = max(used, default=0)
    out = []
    for offcut in offcuts:
        if not offcut.name:
            last += 1
        out.append(offcut if offcut.name else replace(offcut, name=f"rack {last}"))
    return out


def _insert(database: sqlite3.Connection, offcut: RackOffcut, day: datetime.date) -> int:
    number = database.execute(
        "INSERT INTO offcut"
        " (name, material, thickness, length, width, grain, trim, edges, day, job)"
        " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        (
            offcut.name,
            offcut.material,
            str(offcut.thickness),
            str(offcut.length),
            str(offcut.width),
            offcut.grain.value,
            str(offcut.trim),
            " ".join(offcut.edges),
            (offcut.day or day).isoformat(),
            offcut.job,
        ),
    ).lastrowid
    assert number is not None
    return number


def _told(database: sqlite3.Connection, number: int) -> Change:
    day, kind, job, state = database.execute(
        "SELECT day, kind, job, state FROM change WHERE number = ?", (number,)
    ).fetchone()
    return Change(
        number=number,
        day=datetime.date.fromisoformat(day),
        kind=kind,
        job=job,
        entered=moved(database, number, 1),
        left=moved(database, number, -1),
        is_undone=state != "done",
        is_final=state == "dropped",
    )

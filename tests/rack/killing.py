"""Kills a writer of the rack at random moments, again and again, and looks at what is left.

``python -m tests.rack.killing COUNT [SEED]`` does it COUNT times. After each kill the rack has to
hold what every change that was reported as made has left, and of the one under way all or nothing.
"""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import sys
import tempfile
import time
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from cutlist.model.rack import Booking, Leaving
from cutlist.rack import add, history, make_rack, read_rack, redo, remove, take, undo
from cutlist.units.system import Units
from tests.rack.racks import DAY, piece

_LONGEST_SECONDS = 0.04
_WORK = ("add", "add", "remove", "undo", "redo", "take")


@dataclass
class Model:
    """What the rack ought to hold: the names after each change, and after each undone one."""

    done: list[tuple[str, ...]] = field(default_factory=lambda: [()])
    undone: list[tuple[str, ...]] = field(default_factory=list)

    def after(self, work: str) -> Model:
        """Return the model once ``work`` is done; a word, then the names it moves."""
        kind, *moved = work.split()
        done, undone = list(self.done), list(self.undone)
        if kind == "undo" and len(done) > 1:
            undone.append(done.pop())
        elif kind == "redo" and undone:
            done.append(undone.pop())
        elif kind in {"add", "remove", "take"}:
            there = done[-1]
            gone = moved if kind == "remove" else moved[:1] if kind == "take" else []
            new = moved if kind == "add" else []
            done.append((*(name for name in there if name not in gone), *new))
            undone = []
        return Model(done, undone)

    def fits(self, path: Path) -> bool:
        """Tell whether a rack holds just this, and has as many changes that count."""
        made = sum(not change.is_undone for change in history(path))
        there = tuple(one.name for one in read_rack(path).offcuts)
        return sorted(there) == sorted(self.done[-1]) and made == len(self.done) - 1


def run(count: int, seed: int, folder: Path) -> tuple[int, int, int]:
    """Kill so many writers.

    Returned is how many changes were made, how many were cut short, and how many of these had
    begun to write, which a journal left behind shows.
    """
    rng = random.Random(seed)
    path, log = folder / "rack.db", folder / "log"
    make_rack(path, Units.MM)
    model, made, short, begun = Model(), 0, 0, 0
    for number in range(count):
        log.write_bytes(b"")
        child = os.fork()
        if not child:
            _write(path, log, random.Random(seed * 100_003 + number), number)
        time.sleep(rng.uniform(0.0, _LONGEST_SECONDS))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        begun += path.with_name("rack.db-journal").exists()
        lines = log.read_text().splitlines()
        for work, state in zip(lines[::2], lines[1::2], strict=False):
            assert state == "made"
            model = model.after(work)
            made += 1
        if len(lines) % 2:
            short += 1
            whole = model.after(lines[-1])
            model = whole if whole.fits(path) else model
        assert model.fits(path), f"kill {number} left something else"
        if number % 25 == 0:
            with closing(sqlite3.connect(path)) as database:
                assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    return made, short, begun


def _write(path: Path, log: Path, rng: random.Random, number: int) -> None:
    """Change the rack without end; say before each change what it will be, and when it is made."""
    try:
        with log.open("ab", buffering=0) as file:
            step = 0
            while True:
                there = read_rack(path).offcuts
                kind = rng.choice(_WORK)
                first = rng.choice(there) if there else None
                name = f"{number}-{step}"
                if kind in {"remove", "take"} and first is None:
                    kind = "add"
                moved = {
                    "add": f" {name} {name}b",
                    "remove": f" {first.name}" if first else "",
                    "take": f" {first.name if first else ''} rack{number}-{step}",
                }.get(kind, "")
                file.write(f"{kind}{moved}\n".encode())
                _change(path, kind, moved.split())
                file.write(b"made\n")
                step += 1
    finally:
        os._exit(1)


def _change(path: Path, kind: str, moved: list[str]) -> None:
    if kind == "add":
        add(path, [piece(name) for name in moved], day=DAY)
    elif kind == "remove":
        remove(path, moved, day=DAY)
    elif kind == "undo":
        undo(path)
    elif kind == "redo":
        redo(path)
    else:
        numbers = {one.name: one.number for one in read_rack(path).offcuts}
        leaving = (Leaving(numbers[moved[0]], moved[0]),)
        take(path, Booking(moved[1], "job", "", leaving, ()), day=DAY)


if __name__ == "__main__":
    asked = int(sys.argv[1])
    with tempfile.TemporaryDirectory(dir=os.environ.get("RACK_FOLDER")) as scratch:
        start = int(sys.argv[2]) if len(sys.argv) > 2 else 0
        figures = run(asked, start, Path(scratch))
    sys.stdout.write(
        f"{asked} kills: {figures[0]} changes made, {figures[1]} cut short, "
        f"{figures[2]} of them while writing; nothing lost\n"
    )

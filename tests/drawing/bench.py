"""A small bench that makes consistent plans for tests: strips are ripped, then crosscut.

It stands in for the planner: it decides nothing, it only books pieces, cuts and settings.
"""

from __future__ import annotations

import string
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from itertools import count

from cutlist.model.job import Grain, Job, KeepFrom, Offcut, Part, Saw, Sheet
from cutlist.model.plan import (
    Bounds,
    Cut,
    Direction,
    Leftover,
    Panel,
    Piece,
    Plan,
    Purchase,
    Purpose,
    SawSetup,
    Totals,
    Workpiece,
)
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.drawing.tools import set_ups, shop_figures

Number = int | str | Fraction


def exact(value: Number) -> Fraction:
    """Read ``3``, ``3/8`` or ``23 5/8`` as a fraction."""
    if isinstance(value, str):
        return sum((Fraction(term) for term in value.split()), Fraction(0))
    return Fraction(value)


@dataclass
class Task:
    """A cut waiting for its piece; ``then`` are the tasks for ``kept``."""

    direction: Direction
    distance: Fraction
    purpose: Purpose
    then: list[Task] = field(default_factory=list)
    part: str | None = None


def letters(index: int) -> str:
    """Name the workpiece of an index from 0: A, B … Z, AA, AB."""
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        text = string.ascii_uppercase[rest] + text
    return text


class Bench:
    """Collects workpieces and their cuts, then gives the plan."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.workpieces: list[Workpiece] = []
        self.queues: list[tuple[Piece, list[Task]]] = []
        self.copies: dict[str, int] = {}
        self.panels: list[Panel] = []
        self.leftovers: list[Leftover] = []
        self.children: dict[str, int] = {}
        self.family: dict[str, tuple[str, Direction]] = {}
        self.stock: dict[str, Workpiece] = {}

    def stock_piece(self, name: str, trim: bool = True) -> None:
        """Put one sheet or offcut of the job on the bench."""
        stock: tuple[Sheet | Offcut, ...] = (*self.job.sheets, *self.job.offcuts)
        found = next(one for one in stock if one.name == name)
        piece = letters(len(self.workpieces))
        work = Workpiece(
            piece,
            name,
            isinstance(found, Sheet),
            found.material,
            found.thickness,
            found.length,
            found.width,
            found.trim if trim else Fraction(0),
        )
        self.workpieces.append(work)
        self.stock[piece] = work

    def strips(self, stock: str, rows: list[tuple[Number, list[tuple[str, Number]]]]) -> None:
        """Take one sheet: rip a strip for each row, crosscut panels of (part, length) from it."""
        self.stock_piece(stock)
        work = self.workpieces[-1]
        tasks = []
        if work.trim:
            taken, mark = work.trim + self.job.saw.kerf, self.job.saw.scale or Fraction(1)
            trimmed = (work.width - taken) // mark * mark
            tasks.append(Task(Direction.RIP, trimmed, Purpose.CLEAN_UP))
            ends = (work.length - taken) // mark * mark
            tasks.append(Task(Direction.CROSSCUT, ends, Purpose.CLEAN_UP))
        for width, cells in rows:
            crosscuts = [
                Task(Direction.CROSSCUT, exact(size), Purpose.PART, part=part)
                for part, size in cells
            ]
            tasks.append(Task(Direction.RIP, exact(width), Purpose.PART, then=crosscuts))
        whole = Piece(work.piece, Fraction(0), Fraction(0), work.length, work.width)
        self.queues.append((whole, tasks))

    def _name(self, parent: str, direction: Direction) -> str:
        family, way = self.family.get(parent, ("", direction))
        if not family or way is not direction:
            family = parent
        self.children[family] = self.children.get(family, 0) + 1
        count = self.children[family]
        ends_in_letter = family[-1].isalpha()
        name = family + (str(count) if ends_in_letter else letters(count - 1).lower())
        self.family[name] = (family, direction)
        return name

    def _divide(self, piece: Piece, task: Task) -> tuple[Piece, Piece | None]:
        kerf, size = self.job.saw.kerf, task.distance
        rip = task.direction is Direction.RIP
        total = piece.width if rip else piece.length
        far = task.purpose is Purpose.CLEAN_UP
        rest_size = total - size - kerf
        assert total >= size, (piece, task)
        shift = total - size if far else Fraction(0)
        rest_shift = Fraction(0) if far else size + kerf
        kept = self._part_of(piece, task.direction, shift, size)
        if rest_size <= 0:
            return kept, None
        return kept, self._part_of(piece, task.direction, rest_shift, rest_size)

    def _part_of(self, piece: Piece, way: Direction, shift: Fraction, size: Fraction) -> Piece:
        name = self._name(piece.name, way)
        if way is Direction.RIP:
            return Piece(name, piece.x, piece.y + shift, piece.length, size)
        return Piece(name, piece.x + shift, piece.y, size, piece.width)

    def _settle(self, piece: Piece, part: str | None, stock: str) -> None:
        if part is not None:
            self.copies[part] = self.copies.get(part, 0) + 1
            asked = next(p for p in self.job.parts if p.name == part)
            turned = (piece.length, piece.width) != (asked.length, asked.width)
            self.panels.append(Panel(part, self.copies[part], piece, turned))
            return
        work = self.stock[stock]
        least = self.job.keep_from or KeepFrom(work.length / 6, work.width / 6)
        keep = piece.length >= least.length and piece.width >= least.width
        self.leftovers.append(Leftover(piece, work.material, work.thickness, keep))

    def _runs(self) -> list[tuple[Fraction, list[tuple[Piece, Task, Piece, Piece | None]]]]:
        open_tasks: list[tuple[str, Piece, list[Task]]] = [
            (piece.name, piece, tasks) for piece, tasks in self.queues
        ]
        done: list[tuple[Fraction, list[tuple[Piece, Task, Piece, Piece | None]]]] = []
        while any(tasks for _, _, tasks in open_tasks):
            waiting: dict[Fraction, int] = {}
            for _, _, tasks in open_tasks:
                if tasks:
                    waiting[tasks[0].distance] = waiting.get(tasks[0].distance, 0) + 1
            clean = [t[0].distance for _, _, t in open_tasks if t and t[0].purpose != Purpose.PART]
            best = max(clean) if clean else max(waiting, key=lambda d: (waiting[d], d))
            batch: list[tuple[Piece, Task, Piece, Piece | None]] = []
            todo, open_tasks = open_tasks, []
            while todo:
                stock, piece, tasks = todo.pop(0)
                if not tasks or tasks[0].distance != best:
                    open_tasks.append((stock, piece, tasks))
                    continue
                task, later = tasks[0], tasks[1:]
                kept, rest = self._divide(piece, task)
                batch.append((piece, task, kept, rest))
                if task.purpose is Purpose.CLEAN_UP:
                    todo.insert(0, (stock, kept, later))
                    if rest:
                        self._settle(rest, None, stock)
                    continue
                if task.then:
                    if task.then[0].distance == kept.length:  # comes out exact: no cut
                        self._settle(kept, task.then[0].part, stock)
                    else:
                        todo.insert(0, (stock, kept, task.then))
                else:
                    self._settle(kept, task.part, stock)
                if rest is None:
                    assert not later, (piece, later)
                elif later:
                    todo.insert(0, (stock, rest, later))
                else:
                    self._settle(rest, None, stock)
            done.append((best, batch))
        return done

    def plan(self) -> Plan:
        """Cut everything, most wanted distance first, and give the plan."""
        settings: list[SawSetup] = []
        for distance, batch in self._runs():
            cuts = [
                (Cut(0, piece.name, task.direction, task.purpose, kept, rest), piece)
                for piece, task, kept, rest in batch
            ]
            settings += set_ups(self.job, distance, cuts, len(settings) + 1)
        numbers = count(1)
        numbered = tuple(
            replace(one, cuts=tuple(replace(cut, number=next(numbers)) for cut in one.cuts))
            for one in settings
        )
        return instructed(self._finish(numbered))

    def _finish(self, settings: tuple[SawSetup, ...]) -> Plan:
        cuts = sum(len(one.cuts) for one in settings)
        buy = []
        for sheet in self.job.sheets:
            bought = sum(1 for w in self.workpieces if w.bought and w.stock == sheet.name)
            if bought:
                buy.append(
                    Purchase(
                        sheet.name,
                        sheet.material,
                        sheet.thickness,
                        sheet.length,
                        sheet.width,
                        bought,
                        sheet.price,
                        (sheet.price or Decimal(0)) * bought,
                    )
                )
        sheet_area = sum((w.length * w.width for w in self.workpieces), Fraction(0))
        part_area = sum((p.piece.length * p.piece.width for p in self.panels), Fraction(0))
        kept = sum((o.piece.length * o.piece.width for o in self.leftovers if o.keep), Fraction(0))
        totals = Totals(
            sheets=sum(p.count for p in buy),
            cost=sum((p.cost for p in buy), Decimal(0)),
            cuts=cuts,
            parts=len(self.panels),
            part_area=part_area,
            sheet_area=sheet_area,
            kept_offcut_area=kept,
            waste_percent=100 * (sheet_area - part_area - kept) / sheet_area,
            **shop_figures(self.job, settings),
        )
        bounds = Bounds(
            cost=totals.cost,
            cost_proven=True,
            sheets=totals.sheets,
            setups=max(min(1, len(settings)), len({s.distance for s in settings}) - 1),
            setups_proven=not settings,
        )
        return Plan(
            self.job,
            tuple(buy),
            totals,
            bounds,
            tuple(self.workpieces),
            settings,
            tuple(self.panels),
            tuple(self.leftovers),
        )


def make_part(
    name: str,
    length: Number,
    width: Number,
    qty: int,
    grain: Grain = Grain.ANY,
    material: str = "birch ply",
    thickness: Number = "3/4",
) -> Part:
    """Shorten the writing of a part."""
    return Part(name, material, exact(thickness), exact(length), exact(width), qty, grain)


INCH_SAW = Saw(Fraction(1, 8), None, Fraction(1, 32))
MM_SAW = Saw(Fraction(16, 5), None, Fraction(1, 2))
__all__ = ["INCH_SAW", "MM_SAW", "Bench", "Units", "exact", "make_part"]

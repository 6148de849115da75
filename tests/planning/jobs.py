"""Small jobs for the tests of planning, written in few words."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Grain, Job, Offcut, Part, Saw, Sheet
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.planning.make import make_plan
from cutlist.units.system import Units

PLY = "birch ply"
THICKNESS = Fraction(18)


def sheet(
    name: str = "full",
    size: tuple[int, int] = (2440, 1220),
    price: str | None = "60",
    in_stock: int | None = None,
    trim: int = 0,
    material: str = PLY,
) -> Sheet:
    """Return a sheet to buy."""
    length, width = map(Fraction, size)
    cost = None if price is None else Decimal(price)
    return Sheet(name, material, THICKNESS, length, width, cost, in_stock, Fraction(trim))


def offcut(name: str, size: tuple[int, int], qty: int = 1, material: str = PLY) -> Offcut:
    """Return an offcut on hand."""
    return Offcut(name, material, THICKNESS, Fraction(size[0]), Fraction(size[1]), qty)


def part(
    name: str,
    size: tuple[int | Fraction, int | Fraction],
    qty: int = 1,
    grain: Grain = Grain.ANY,
    material: str = PLY,
) -> Part:
    """Return a line of the cut list."""
    return Part(name, material, THICKNESS, Fraction(size[0]), Fraction(size[1]), qty, grain)


def job(
    parts: Sequence[Part],
    sheets: Sequence[Sheet] = (sheet(),),
    offcuts: Sequence[Offcut] = (),
    *,
    kerf: Fraction | int = 3,
    reach: int | None = None,
    scale: Fraction | None = None,
) -> Job:
    """Return a job in millimetres."""
    saw = Saw(Fraction(kerf), None if reach is None else Fraction(reach), scale)
    return Job("bench", Units.MM, saw, tuple(sheets), tuple(parts), tuple(offcuts))


def planned(asked: Job, steps: int = 400, seed: int = 0) -> Plan:
    """Plan a job with a budget of steps alone, so that the plan is the same each time."""
    return make_plan(asked, seed=seed, allowance=Allowance(steps=steps))

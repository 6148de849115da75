"""Small sound plans written out by hand, each with the twist that its name tells.

Every place, size and figure stands here as worked out on paper: nothing is computed by the code
under test.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal

from cutlist.model.job import (
    Grain,
    Job,
    KeepFrom,
    Match,
    Offcut,
    Part,
    Saw,
    SawKind,
    Sheet,
)
from cutlist.model.matches import Matched
from cutlist.model.plan import (
    Bounds,
    Cut,
    Plan,
    Totals,
    Workpiece,
)
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.audit.guided_plans import along_a_guide
from tests.audit.making import (
    BREAK_DOWN,
    CLEAN_UP,
    CROSSCUT,
    PART,
    RIP,
    ROUGH,
    bought,
    box,
    by_device,
    f,
    leftovers,
    line,
    panel,
    setting,
)
from tests.audit.store_plans import heavy_boards, store_and_vehicle

__all__ = [
    "BREAK_DOWN",
    "CLEAN_UP",
    "CROSSCUT",
    "PART",
    "RIP",
    "ROUGH",
    "SOUND",
    "bought",
    "box",
    "by_device",
    "f",
    "leftovers",
    "line",
    "panel",
    "setting",
]


#: A shop with a table saw and a sled that carries long strips.
TABLE = Saw(f("1/8"), f(36), f("1/32"), smallest_piece=f(12), thinnest_strip=f("3/8"))
SLED = Saw(
    f("1/8"), f(48), f("1/32"), "sled", SawKind.SLED, f(24), ((f(97), f(24)),), smallest_piece=f(6)
)


def plain() -> Plan:
    """Four panels in two strips of one sheet."""
    sheet = Sheet("birch full", "birch ply", f("45/64"), f(96), f(48), Decimal("74.00"), 5)
    a1, a2 = box("A1", 0, 0, 96, 14.5), box("A2", 0, 14.625, 96, 33.375)
    a2a, a2b = box("A2a", 0, 14.625, 96, 14.5), box("A2b", 0, 29.25, 96, 18.75)
    a1a, a1b = box("A1a", 0, 0, 34.5, 14.5), box("A1b", 34.625, 0, 61.375, 14.5)
    a2a1 = box("A2a1", 0, 14.625, 34.5, 14.5)
    a2a2 = box("A2a2", 34.625, 14.625, 61.375, 14.5)
    a1b1, a1b2 = box("A1b1", 34.625, 0, 30, 14.5), box("A1b2", 64.75, 0, 31.25, 14.5)
    a2a2a = box("A2a2a", 34.625, 14.625, 30, 14.5)
    a2a2b = box("A2a2b", 64.75, 14.625, 31.25, 14.5)
    return Plan(
        job=Job(
            "Market-stall counter",
            Units.INCH,
            Saw(f("1/8"), f(36), f("1/32")),
            (sheet,),
            (
                Part("end", "birch ply", f("45/64"), f(34.5), f(14.5), 2, Grain.LENGTH),
                Part("shelf", "birch ply", f("45/64"), f(30), f(14.5), 2, Grain.LENGTH),
            ),
            saws=(TABLE, SLED),
            sha256="0" * 64,
        ),
        buy=(line(sheet, 1, "74.00"),),
        totals=Totals(
            1,
            Decimal("74.00"),
            3,
            6,
            4,
            f(1870.5),
            f(4608),
            f(2706.25),
            f("3125/4608"),
            by_device(fence=1, stop=2),
            0,
            f(13),
        ),
        bounds=Bounds(Decimal("74.00"), True, 1, 3, True),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(
                1,
                14.5,
                0.125,
                Cut(1, "A", RIP, PART, a1, a2),
                Cut(2, "A2", RIP, PART, a2a, a2b),
            ),
            setting(
                2,
                34.5,
                0.125,
                Cut(3, "A1", CROSSCUT, PART, a1a, a1b),
                Cut(4, "A2a", CROSSCUT, PART, a2a1, a2a2),
                tool="sled",
            ),
            setting(
                3,
                30,
                0.125,
                Cut(5, "A1b", CROSSCUT, PART, a1b1, a1b2),
                Cut(6, "A2a2", CROSSCUT, PART, a2a2a, a2a2b),
                tool="sled",
            ),
        ),
        panels=(
            panel("end", 1, a1a),
            panel("end", 2, a2a1),
            panel("shelf", 1, a1b1),
            panel("shelf", 2, a2a2a),
        ),
        leftovers=leftovers(sheet, True, a2b, a1b2, a2a2b),
    )


def trimmed_edges() -> Plan:
    """All four factory edges lose 5 mm; the saw reaches little more than half the sheet."""
    sheet = Sheet("small board", "melamine", f(16), f(1000), f(500), Decimal(20), None, f(5))
    a1, a2 = box("A1", 0, 0, 1000, 495), box("A2", 0, 498, 1000, 2)
    a1a, a1b = box("A1a", 0, 255, 1000, 240), box("A1b", 0, 0, 1000, 252)
    a1c, a1d = box("A1c", 0, 12, 1000, 240), box("A1d", 0, 0, 1000, 9)
    top1, top2 = box("B1", 0, 255, 500, 240), box("B2", 503, 255, 497, 240)
    low1, low2 = box("C1", 0, 12, 500, 240), box("C2", 503, 12, 497, 240)
    doors = (
        box("D1", 100, 255, 400, 240),
        box("D2", 503, 255, 400, 240),
        box("D3", 100, 12, 400, 240),
        box("D4", 503, 12, 400, 240),
    )
    ends = (
        box("E1", 0, 255, 97, 240),
        box("E2", 906, 255, 94, 240),
        box("E3", 0, 12, 97, 240),
        box("E4", 906, 12, 94, 240),
    )
    return Plan(
        job=Job(
            "Workshop cabinet",
            Units.MM,
            Saw(f(3), f(600), f(0.5)),
            (sheet,),
            (Part("door", "melamine", f(16), f(400), f(240), 4, Grain.LENGTH),),
            keep_from=KeepFrom(f(200), f(90)),
        ),
        buy=(line(sheet, 1, "20"),),
        totals=Totals(
            1,
            Decimal(20),
            4,
            9,
            4,
            f(384000),
            f(500000),
            f(91680),
            f(4.864),
            by_device(fence=2, stop=2),
            0,
            f(19),
        ),
        bounds=Bounds(Decimal(20), True, 1, 2, False),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(1, 495, 3, Cut(1, "A", RIP, CLEAN_UP, a1, a2)),
            setting(
                2, 240, 3, Cut(2, "A1", RIP, PART, a1a, a1b), Cut(3, "A1b", RIP, PART, a1c, a1d)
            ),
            setting(
                3,
                500,
                3,
                Cut(4, "A1a", CROSSCUT, ROUGH, top1, top2),
                Cut(5, "A1c", CROSSCUT, ROUGH, low1, low2),
                tool="sled",
            ),
            setting(
                4,
                400,
                3,
                Cut(6, "B1", CROSSCUT, PART, doors[0], ends[0]),
                Cut(7, "B2", CROSSCUT, PART, doors[1], ends[1]),
                Cut(8, "C1", CROSSCUT, PART, doors[2], ends[2]),
                Cut(9, "C2", CROSSCUT, PART, doors[3], ends[3]),
                tool="sled",
            ),
        ),
        panels=tuple(panel("door", i, piece) for i, piece in enumerate(doors, start=1)),
        leftovers=leftovers(sheet, True, *ends) + leftovers(sheet, False, a2, a1d),
    )


def turned_panels() -> Plan:
    """Lay a part with its width along the grain, and a free one the same way."""
    sheet = Sheet("half", "oak ply", f("3/4"), f(60), f(40), Decimal(50))
    a1, a2 = box("A1", 0, 0, 10, 40), box("A2", 10.125, 0, 49.875, 40)
    a3, a4 = box("A3", 10.125, 0, 10, 40), box("A4", 20.25, 0, 39.75, 40)
    a5, a6 = box("A5", 20.25, 0, 20, 40), box("A6", 40.375, 0, 19.625, 40)
    return Plan(
        job=Job(
            "Reading nook",
            Units.INCH,
            Saw(f("1/8"), None, f("1/32")),
            (sheet,),
            (
                Part("rail", "oak ply", f("3/4"), f(40), f(10), 2, Grain.WIDTH),
                Part("shelf", "oak ply", f("3/4"), f(40), f(20), 1, Grain.ANY),
            ),
        ),
        buy=(line(sheet, 1, "50"),),
        totals=Totals(
            1, Decimal(50), 2, 3, 3, f(1600), f(2400), f(785), f("5/8"), by_device(fence=2), 0, f(9)
        ),
        bounds=Bounds(Decimal(50), True, 1, 2, True),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(
                1,
                10,
                0.125,
                Cut(1, "A", CROSSCUT, PART, a1, a2),
                Cut(2, "A2", CROSSCUT, PART, a3, a4),
            ),
            setting(2, 20, 0.125, Cut(3, "A4", CROSSCUT, PART, a5, a6)),
        ),
        panels=(
            panel("rail", 1, a1, turned=True),
            panel("rail", 2, a3, turned=True),
            panel("shelf", 1, a5, turned=True),
        ),
        leftovers=leftovers(sheet, True, a6),
    )


def two_materials() -> Plan:
    """Two materials; an offcut on hand is a panel uncut; a remainder comes out exact."""
    ply = Sheet("ply", "birch ply", f(18), f(1200), f(600), Decimal("31.50"))
    mdf = Sheet("mdf", "MDF", f(12), f(800), f(603), None, 2)
    rack = Offcut("rack 3", "birch ply", f(18), f(500), f(300), 1)
    a1, a2 = box("A1", 0, 0, 1200, 300), box("A2", 0, 303, 1200, 297)
    a1a, a1b = box("A1a", 0, 0, 500, 300), box("A1b", 503, 0, 697, 300)
    b1, b2 = box("B1", 0, 0, 800, 300), box("B2", 0, 303, 800, 300)
    return Plan(
        job=Job(
            "Bench drawers",
            Units.MM,
            Saw(f(3), None, f(0.5)),
            (ply, mdf),
            (
                Part("side", "birch ply", f(18), f(500), f(300), 2, Grain.LENGTH),
                Part("back", "MDF", f(12), f(800), f(300), 2),
            ),
            (rack,),
        ),
        buy=(line(ply, 1, "31.50"), line(mdf, 1, "0")),
        totals=Totals(
            2,
            Decimal("31.50"),
            2,
            3,
            4,
            f(780000),
            f(1352400),
            f(565500),
            f("6900/13524"),
            by_device(fence=1, stop=1),
            0,
            f(8),
        ),
        bounds=Bounds(Decimal("31.50"), True, 2, 2, True),
        workpieces=(
            *bought(ply, "A"),
            *bought(mdf, "B"),
            Workpiece("C", "rack 3", False, "birch ply", f(18), f(500), f(300), f(0)),
        ),
        setups=(
            setting(1, 300, 3, Cut(1, "A", RIP, PART, a1, a2), Cut(2, "B", RIP, PART, b1, b2)),
            setting(2, 500, 3, Cut(3, "A1", CROSSCUT, PART, a1a, a1b), tool="sled"),
        ),
        panels=(
            panel("side", 1, a1a),
            panel("side", 2, box("C", 0, 0, 500, 300)),
            panel("back", 1, b1),
            panel("back", 2, b2),
        ),
        leftovers=leftovers(ply, True, a2, a1b),
    )


def blade_takes_the_rest() -> Plan:
    """One cut leaves less than a kerf, the other exactly a kerf: neither has a rest."""
    sheet = Sheet("blank", "ash ply", f("1/2"), f(24.125), f(12.0625), Decimal(9))
    a1 = box("A1", 0, 0, 24.125, 12)
    a2 = box("A2", 0.125, 0, 24, 12)
    return Plan(
        job=Job(
            "Stool",
            Units.INCH,
            Saw(f("1/8")),
            (sheet,),
            (Part("seat", "ash ply", f("1/2"), f(24), f(12)),),
        ),
        buy=(line(sheet, 1, "9"),),
        totals=Totals(
            1,
            Decimal(9),
            2,
            2,
            1,
            f(288),
            f(24.125) * f(12.0625),
            f(0),
            f("38500/37249"),
            by_device(fence=1, stop=1),
            0,
            f(7),
        ),
        bounds=Bounds(Decimal(9), True, 1, 1, False),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(1, 12, 0.125, Cut(1, "A", RIP, PART, a1, None)),
            setting(2, 24, 0.125, Cut(2, "A1", CROSSCUT, PART, a2, None), tool="sled"),
        ),
        panels=(panel("seat", 1, a2),),
        leftovers=(),
    )


def matching() -> Plan:
    """Match ends and shelves by their width, and the two ends by their length as well.

    Both widths come from setting 1, the ends' lengths from setting 2.
    """
    plan = plain()
    job = replace(
        plan.job,
        matches=(
            Match("depth", f(14.5), ("end", "shelf")),
            Match("ends", f(34.5), ("end",)),
        ),
    )
    matches = (Matched("depth", f(14.5), 4, (1,), 0), Matched("ends", f(34.5), 2, (2,), 0))
    return replace(plan, job=job, matches=matches)


def matching_apart() -> Plan:
    """Cut the two ends at two visits to their length, the shelves' length in between."""
    plan = plain()
    first, ends, shelves = plan.settings
    settings = (
        first,
        setting(2, 34.5, 0.125, ends.cuts[0], tool="sled"),
        setting(3, 30, 0.125, replace(shelves.cuts[0], number=4), tool="sled"),
        setting(4, 34.5, 0.125, replace(ends.cuts[1], number=5), tool="sled"),
        setting(5, 30, 0.125, replace(shelves.cuts[1], number=6), tool="sled"),
    )
    return replace(
        plan,
        job=replace(plan.job, matches=(Match("ends", f(34.5), ("end",)),)),
        totals=replace(
            plan.totals, setups=5, setups_by_device=by_device(fence=1, stop=4), minutes=f(17)
        ),
        bounds=replace(plan.bounds, setups_proven=False),
        setups=settings,
        matches=(Matched("ends", f(34.5), 2, (2, 4), 0),),
    )


def _sound(make: Callable[[], Plan]) -> Callable[[], Plan]:
    """Return the maker of a plan that also says what is said at the saw."""
    return lambda: instructed(make())


SOUND = {
    make.__name__: _sound(make)
    for make in (
        plain,
        trimmed_edges,
        turned_panels,
        two_materials,
        blade_takes_the_rest,
        store_and_vehicle,
        matching,
        matching_apart,
        heavy_boards,
        along_a_guide,
    )
}
"""All of them, by name."""

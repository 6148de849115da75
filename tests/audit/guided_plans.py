"""A sound plan with cuts along a guide, written out by hand."""

from __future__ import annotations

from decimal import Decimal

from cutlist.model.job import Grain, Job, Part, Saw, Sheet
from cutlist.model.plan import Bounds, Cut, Plan, Totals
from cutlist.units.system import Units
from tests.audit.making import (
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


def along_a_guide() -> Plan:
    """Part a board wider than the fence reaches along a guide, laid anew for each cut.

    The first cut is measured from the board's own straight end, which comes off its piece later.
    """
    sheet = Sheet("wide board", "birch ply", f(18), f(2000), f(900), Decimal(60), None, f(10))
    a1, a2 = box("A1", 0, 0, 660, 900), box("A2", 663, 0, 1337, 900)
    b1, b2 = box("B1", 663, 0, 650, 900), box("B2", 1316, 0, 684, 900)
    c1, c2 = box("C1", 1316, 0, 650, 900), box("C2", 1969, 0, 31, 900)
    d1, d2 = box("D1", 10, 0, 650, 900), box("D2", 0, 0, 7, 900)
    rows = ((d1, 10), (b1, 663), (c1, 1316))
    trimmed = tuple(box(f"E{i}", x, 10, 650, 890) for i, (_, x) in enumerate(rows, start=1))
    edges = tuple(box(f"F{i}", x, 0, 650, 7) for i, (_, x) in enumerate(rows, start=1))
    tops = tuple(box(f"G{i}", x, 10, 650, 550) for i, (_, x) in enumerate(rows, start=1))
    rests = tuple(box(f"H{i}", x, 563, 650, 337) for i, (_, x) in enumerate(rows, start=1))
    return Plan(
        job=Job(
            "Lids",
            Units.MM,
            Saw(f(3), f(600), f(0.5)),
            (sheet,),
            (Part("lid", "birch ply", f(18), f(650), f(550), 3, Grain.LENGTH),),
        ),
        buy=(line(sheet, 1, "60"),),
        totals=Totals(
            1,
            Decimal(60),
            8,
            10,
            3,
            f(1072500),
            f(1800000),
            f(657150),
            f("70350/18000"),
            by_device(fence=1, guide=7),
            0,
            f(48),
        ),
        bounds=Bounds(Decimal(60), True, 1, 2, False),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(1, 660, 3, Cut(1, "A", CROSSCUT, ROUGH, a1, a2), tool="guided saw"),
            setting(2, 650, 3, Cut(2, "A2", CROSSCUT, PART, b1, b2), tool="guided saw"),
            setting(3, 650, 3, Cut(3, "B2", CROSSCUT, PART, c1, c2), tool="guided saw"),
            setting(4, 650, 3, Cut(4, "A1", CROSSCUT, PART, d1, d2), tool="guided saw"),
            *(
                setting(
                    number,
                    890,
                    3,
                    Cut(number, piece.name, RIP, CLEAN_UP, trimmed[number - 5], edges[number - 5]),
                    tool="guided saw",
                )
                for number, (piece, _) in enumerate(rows, start=5)
            ),
            setting(
                8,
                550,
                3,
                *(Cut(8 + i, trimmed[i].name, RIP, PART, tops[i], rests[i]) for i in range(3)),
            ),
        ),
        panels=tuple(panel("lid", i, piece) for i, piece in enumerate(tops, start=1)),
        leftovers=(
            *leftovers(sheet, True, *rests),
            *leftovers(sheet, False, c2, d2, *edges),
        ),
    )

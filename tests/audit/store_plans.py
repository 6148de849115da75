"""Sound plans with a trip to the store, written out by hand."""

from __future__ import annotations

from decimal import Decimal

from cutlist.model.job import Grain, Job, Offcut, Part, Saw, Sheet, Store, Vehicle
from cutlist.model.plan import Bounds, Cut, Place, Plan, Totals, Workpiece
from cutlist.model.weights import Density, Lift, Trip, Weight
from cutlist.units.system import Units
from tests.audit.making import (
    BREAK_DOWN,
    CLEAN_UP,
    CROSSCUT,
    PART,
    RIP,
    bought,
    box,
    by_device,
    f,
    leftovers,
    line,
    panel,
    setting,
)


def store_and_vehicle() -> Plan:
    """Halve the sheet at the store for the vehicle; the rough edges come off at the shop."""
    sheet = Sheet("full", "birch ply", f("3/4"), f(96), f(48), Decimal(74))
    a1, a2 = box("A1", 0, 0, 48, 48), box("A2", 48.125, 0, 47.875, 48)
    b1, b2 = box("B1", 0, 0, 47.75, 48), box("B2", 47.875, 0, 0.125, 48)
    c1, c2 = box("C1", 0, 0, 47, 48), box("C2", 47.125, 0, 0.625, 48)
    d1, d2 = box("D1", 49, 0, 47, 48), box("D2", 48.125, 0, 0.75, 48)
    e1, e2 = box("E1", 0, 0, 47, 23), box("E2", 0, 23.125, 47, 24.875)
    f1, f2 = box("F1", 0, 23.125, 47, 23), box("F2", 0, 46.25, 47, 1.75)
    g1, g2 = box("G1", 49, 25, 47, 23), box("G2", 49, 0, 47, 24.875)
    h1, h2 = box("H1", 49, 1.875, 47, 23), box("H2", 49, 0, 47, 1.75)
    return Plan(
        job=Job(
            "Workshop cabinet",
            Units.INCH,
            Saw(f("1/8"), f(48), f("1/32")),
            (sheet,),
            (Part("side", "birch ply", f("3/4"), f(47), f(23), 4, Grain.LENGTH),),
            store=Store(f("1/8"), f("1/8"), 2, 0, Decimal("0.50")),
            vehicle=Vehicle(f(60), f(48)),
        ),
        buy=(line(sheet, 1, "74"),),
        totals=Totals(
            1,
            Decimal("74.50"),
            3,
            8,
            4,
            f(4324),
            f(4608),
            f(0),
            f("28400/4608"),
            by_device(fence=3),
            1,
            f(16),
        ),
        bounds=Bounds(Decimal(74), False, 1, 2, False),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(
                1,
                48,
                0.125,
                Cut(1, "A", CROSSCUT, BREAK_DOWN, a1, a2),
                place=Place.STORE,
                tool="panel saw",
            ),
            setting(2, 47.75, 0.125, Cut(2, "A1", CROSSCUT, CLEAN_UP, b1, b2)),
            setting(
                3,
                47,
                0.125,
                Cut(3, "B1", CROSSCUT, PART, c1, c2),
                Cut(4, "A2", CROSSCUT, PART, d1, d2),
            ),
            setting(
                4,
                23,
                0.125,
                Cut(5, "C1", RIP, PART, e1, e2),
                Cut(6, "E2", RIP, PART, f1, f2),
                Cut(7, "D1", RIP, PART, g1, g2),
                Cut(8, "G2", RIP, PART, h1, h2),
            ),
        ),
        panels=tuple(panel("side", i, piece) for i, piece in enumerate((e1, f1, g1, h1), start=1)),
        leftovers=leftovers(sheet, False, b2, c2, d2, f2, h2),
    )


def heavy_boards() -> Plan:
    """Take whole boards home in two trips: two of 44.652 kg, and one of 27.9075 kg with shelves.

    2.44 m × 1.22 m × 20 mm at 750 kg/m³ is 44.652 kg; 1.22 m × 1.22 m × 25 mm is 27.9075 kg; half
    an offcut of 1 m × 0.4 m × 20 mm at 600 kg/m³, less 4 mm for the blade, is 2.3904 kg.
    """
    dense, light = Density(f(750), "MDF"), Density(f(600))
    large = Sheet("large", "MDF", f(20), f(2440), f(1220), Decimal(40), density=dense)
    small = Sheet("small", "MDF", f(25), f(1220), f(1220), Decimal(30), density=dense)
    rack = Offcut("rack 1", "MDF", f(20), f(1000), f(400), density=light)
    wall1, wall2 = box("A", 0, 0, 2440, 1220), box("B", 0, 0, 2440, 1220)
    top = box("C", 0, 0, 1220, 1220)
    shelf1, shelf2 = box("D1", 0, 0, 498, 400), box("D2", 502, 0, 498, 400)
    return Plan(
        job=Job(
            "Stage",
            Units.MM,
            Saw(f(4)),
            (large, small),
            (
                Part("wall", "MDF", f(20), f(2440), f(1220), 2),
                Part("top", "MDF", f(25), f(1220), f(1220)),
                Part("shelf", "MDF", f(20), f(498), f(400), 2),
            ),
            (rack,),
            vehicle=Vehicle(f(2500), f(1300), f(100)),
        ),
        buy=(line(large, 2, "80"), line(small, 1, "30")),
        totals=Totals(
            3,
            Decimal(110),
            1,
            1,
            5,
            f(7840400),
            f(7842000),
            f(0),
            f("1600/78420"),
            by_device(stop=1),
            0,
            f(3),
        ),
        bounds=Bounds(Decimal(110), True, 3, 1, True),
        workpieces=(
            *bought(large, "A", "B"),
            *bought(small, "C"),
            Workpiece("D", "rack 1", False, "MDF", f(20), f(1000), f(400), f(0)),
        ),
        setups=(setting(1, 498, 4, Cut(1, "D", CROSSCUT, PART, shelf1, shelf2), tool="sled"),),
        panels=(
            panel("wall", 1, wall1),
            panel("wall", 2, wall2),
            panel("top", 1, top),
            panel("shelf", 1, shelf1),
            panel("shelf", 2, shelf2),
        ),
        leftovers=(),
        weights=(
            Weight("A", f(44.652), Lift.MORE),
            Weight("B", f(44.652), Lift.MORE),
            Weight("C", f(27.9075), Lift.TWO),
            Weight("D", f(4.8), Lift.ONE),
            Weight("D1", f(2.3904), Lift.ONE),
            Weight("D2", f(2.3904), Lift.ONE),
        ),
        trips=(Trip(("A", "B"), f(89.304)), Trip(("C",), f(27.9075))),
    )

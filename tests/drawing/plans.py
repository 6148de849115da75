"""Plans with one twist each, made on the test bench."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache

from cutlist.model.job import Grain, Job, Offcut, Sheet, Store
from cutlist.model.plan import Panel, Piece, Place, Plan, Purpose
from cutlist.model.sawing import Device
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.drawing.bench import INCH_SAW, MM_SAW, Bench, make_part
from tests.drawing.tools import shop_figures

PLY = Fraction(90, 127)  # 18 mm in inches


@cache
def market_stall() -> Plan:
    """Inches, grain, two materials, trimmed edges, an offcut on hand, three sheets alike."""
    parts = (
        make_part("end", "34 1/2", "23 1/4", 6, Grain.LENGTH, thickness=PLY),
        make_part("shelf", "45 3/4", "22 7/8", 3, Grain.LENGTH, thickness=PLY),
        make_part("kickboard", "45 3/4", 4, 2, Grain.LENGTH, thickness=PLY),
        make_part("drawer front", "5 7/16", "14 5/8", 6, Grain.WIDTH, thickness=PLY),
        make_part("price rail", "45 3/4", "2 1/2", 1, thickness=PLY),
        make_part("back", "45 3/4", "33 3/4", 2, material="hardboard", thickness="1/4"),
        make_part("drawer bottom", "14", "12 5/8", 6, material="hardboard", thickness="1/4"),
    )
    job = Job(
        "Market-stall counter",
        Units.INCH,
        INCH_SAW,
        (
            Sheet("birch full", "birch ply", PLY, Fraction(96), Fraction(48), Decimal("74.00"),
                  trim=Fraction(1, 4)),
            Sheet("hardboard full", "hardboard", Fraction(1, 4), Fraction(96), Fraction(48),
                  Decimal("21.50")),
        ),
        parts,
        (Offcut("rack 3", "birch ply", PLY, Fraction(50), Fraction(46, 2)),),
    )  # fmt: skip
    bench = Bench(job)
    for _ in range(3):
        bench.strips(
            "birch full",
            [("23 1/4", [("end", "34 1/2")] * 2), ("22 7/8", [("shelf", "45 3/4")])],
        )
    bench.strips(
        "rack 3",
        [
            ("4", [("kickboard", "45 3/4")]),
            ("4", [("kickboard", "45 3/4")]),
            ("5 7/16", [("drawer front", "14 5/8")] * 3),
            ("5 7/16", [("drawer front", "14 5/8")] * 3),
            ("2 1/2", [("price rail", "45 3/4")]),
        ],
    )
    bench.strips(
        "hardboard full",
        [
            ("33 3/4", [("back", "45 3/4")] * 2),
            ("12 5/8", [("drawer bottom", "14")] * 6),
        ],
    )
    return bench.plan()


@cache
def european() -> Plan:
    """Millimetres and a 2800 × 2070 sheet, many sizes, two kinds of sheet."""
    parts = (
        make_part("side", 1980, 560, 4, Grain.LENGTH, "melamine board", 18),
        make_part("fixed shelf", 764, 560, 6, Grain.ANY, "melamine board", 18),
        make_part("plinth", 764, 80, 4, Grain.ANY, "melamine board", 18),
        make_part("door", 1896, 397, 2, Grain.LENGTH, "melamine board", 18),
        make_part("back", 1900, "782.5", 2, Grain.ANY, "HDF", 3),
    )
    job = Job(
        "Two workshop cabinets",
        Units.MM,
        MM_SAW,
        (
            Sheet("board 2800", "melamine board", Fraction(18), Fraction(2800), Fraction(2070),
                  Decimal("118.90"), trim=Fraction(10)),
            Sheet("HDF 2440", "HDF", Fraction(3), Fraction(2440), Fraction(1220), Decimal("19.5")),
        ),
        parts,
    )  # fmt: skip
    bench = Bench(job)
    bench.strips(
        "board 2800",
        [
            (560, [("side", 1980), ("fixed shelf", 764)]),
            (560, [("side", 1980), ("fixed shelf", 764)]),
            (560, [("side", 1980)]),
            (80, [("plinth", 764)] * 3),
            (80, [("plinth", 764)]),
        ],
    )
    bench.strips(
        "board 2800",
        [
            (560, [("side", 1980)]),
            (560, [("fixed shelf", 764)] * 3),
            (560, [("fixed shelf", 764)]),
        ],
    )
    bench.strips("board 2800", [(397, [("door", 1896)]), (397, [("door", 1896)])])
    bench.strips("HDF 2440", [("782.5", [("back", 1900)])])
    bench.strips("HDF 2440", [("782.5", [("back", 1900)])])
    return bench.plan()


@cache
def small() -> Plan:
    """Three parts from one small sheet without a price."""
    parts = (
        make_part("lid", 295, 196, 1, Grain.ANY, "birch ply", 6),
        make_part("floor", 295, 196, 1, Grain.ANY, "birch ply", 6),
        make_part("wall", 196, 90, 2, Grain.WIDTH, "birch ply", 6),
    )
    sheet = Sheet("hobby sheet", "birch ply", Fraction(6), Fraction(600), Fraction(400))
    bench = Bench(Job("Seed box", Units.MM, MM_SAW, (sheet,), parts))
    bench.strips(
        "hobby sheet", [(196, [("lid", 295)]), (196, [("wall", 90), ("wall", 90), ("floor", 295)])]
    )
    return bench.plan()


@cache
def tiny_parts() -> Plan:
    """Forty little panels, some strips thinner on paper than any lettering."""
    parts = (
        make_part("tray base", 700, 480, 1, Grain.LENGTH, "birch ply", 6),
        make_part("divider", 60, 40, 20, Grain.ANY, "birch ply", 6),
        make_part("slip", 300, 12, 12, Grain.LENGTH, "birch ply", 6),
        make_part("wedge", 25, 18, 8, Grain.ANY, "birch ply", 6),
    )
    sheet = Sheet("thin 1525", "birch ply", Fraction(6), Fraction(1525), Fraction(1525),
                  Decimal("38"))  # fmt: skip
    bench = Bench(Job("Type-case trays", Units.MM, MM_SAW, (sheet,), parts))
    bench.strips(
        "thin 1525",
        [
            (480, [("tray base", 700)]),
            (40, [("divider", 60)] * 20),
            (12, [("slip", 300)] * 4),
            (12, [("slip", 300)] * 4),
            (12, [("slip", 300)] * 4),
            (18, [("wedge", 25)] * 8),
        ],
    )
    return bench.plan()


@cache
def long_names() -> Plan:
    """Part names longer than any panel is wide, and letters the face does not have."""
    name = "upper left-hand cabinet door with the cut-out for the round window"
    parts = (
        make_part(name, 24, "11 1/2", 4, Grain.LENGTH),
        make_part("Gestell-Seitenverkleidungsbefestigungsleiste, außen", 30, 3, 4),
        make_part("полка", "20 1/64", "11 1/2", 2),
    )
    sheet = Sheet("ply", "birch ply", Fraction(3, 4), Fraction(96), Fraction(48), Decimal("60"))
    bench = Bench(
        Job("A job whose name goes on for rather a long while: the north wall of the reading nook",
            Units.INCH, INCH_SAW, (sheet,), parts)
    )  # fmt: skip
    second = parts[1].name
    bench.strips(
        "ply",
        [
            ("11 1/2", [(name, 24)] * 3),
            ("11 1/2", [(name, 24), ("полка", "20 1/64"), ("полка", "20 1/64")]),
            (3, [(second, 30)] * 3),
            (3, [(second, 30)]),
        ],
    )
    return bench.plan()


@cache
def many_cuts(sheets: int = 4) -> Plan:
    """More than sixty cuts with many settings; ``sheets`` and rows can be raised for load."""
    widths = [310, 284, 262, 240, 96]
    lengths = [720, 560, 413, 388, 215]
    names = {(w, n): f"panel {w} × {n}" for w in widths for n in lengths}
    parts = tuple(
        make_part(names[w, n], n, w, max(1, sheets), Grain.LENGTH, "MDF", 18)
        for w in widths
        for n in lengths
    )
    sheet = Sheet("MDF 2440", "MDF", Fraction(18), Fraction(2440), Fraction(1220), Decimal("44.2"))
    bench = Bench(Job("Wall of lockers", Units.MM, MM_SAW, (sheet,), parts))
    for number in range(sheets):
        turn = lengths[number % 5 :] + lengths[: number % 5]
        rows: list[tuple[int | str | Fraction, list[tuple[str, int | str | Fraction]]]] = [
            (w, [(names[w, n], n) for n in turn]) for w in widths
        ]
        bench.strips("MDF 2440", rows)
    return bench.plan()


@cache
def many_alike() -> Plan:
    """Twelve sheets divided alike, named beyond a title's room; all panels of one part."""
    parts = (make_part("locker shelf", 480, 290, 180, Grain.ANY, "MDF", 18),)
    sheet = Sheet("MDF 2440", "MDF", Fraction(18), Fraction(2440), Fraction(1220), Decimal("44.2"))
    bench = Bench(Job("Locker shelves", Units.MM, MM_SAW, (sheet,), parts))
    for _ in range(12):
        bench.strips("MDF 2440", [(290, [("locker shelf", 480)] * 5)] * 3)
    return bench.plan()


@cache
def broken_down() -> Plan:
    """Make the first cut of the small plan at the store."""
    plan = small()
    first, *others = plan.settings
    cuts = tuple(replace(cut, purpose=Purpose.BREAK_DOWN) for cut in first.cuts)
    at_store = replace(first, place=Place.STORE, tool="panel saw", device=Device.STORE, cuts=cuts)
    job = replace(plan.job, store=Store(kerf=first.kerf))
    settings = (at_store, *others)
    totals = replace(plan.totals, **shop_figures(job, settings))
    return instructed(replace(plan, job=job, setups=settings, totals=totals))


@cache
def uncut() -> Plan:
    """One panel that is just as large as its sheet: nothing to cut."""
    sheet = Sheet("shelf board", "pine", Fraction(18), Fraction(800), Fraction(200), Decimal("7"))
    parts = (make_part("shelf", 800, 200, 1, Grain.ANY, "pine", 18),)
    bench = Bench(Job("One shelf", Units.MM, MM_SAW, (sheet,), parts))
    bench.stock_piece("shelf board")
    whole = Piece("A", Fraction(0), Fraction(0), Fraction(800), Fraction(200))
    bench.panels.append(Panel("shelf", 1, whole, False))
    return bench.plan()


def all_plans() -> dict[str, Plan]:
    """Every plan by its name."""
    return {
        "market_stall": market_stall(),
        "european": european(),
        "small": small(),
        "tiny_parts": tiny_parts(),
        "long_names": long_names(),
        "many_cuts": many_cuts(),
        "many_alike": many_alike(),
        "broken_down": broken_down(),
        "uncut": uncut(),
    }

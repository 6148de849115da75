"""A plan of ten thousand panels is audited, in time about in line with its size."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from time import process_time

import pytest

from cutlist.audit import audit
from cutlist.model.job import Job, Part, Saw, Sheet
from cutlist.model.plan import Bounds, Cut, Leftover, Panel, Piece, Plan, SawSetup, Totals
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.audit.plans import CROSSCUT, PART, RIP, bought, by_device, f, line, setting

SHEET = Sheet("full", "birch ply", f(18), f(2440), f(1220), Decimal(50))
KERF = Fraction(16, 5)
ROWS, COLUMNS = 10, 20


def grid_plan(sheets: int) -> Plan:
    """Divide every sheet into 10 rows of 20 panels of 100 mm × 100 mm with a kerf of 3.2 mm."""
    side = f(100)
    pitch = side + KERF
    rips: list[Cut] = []
    crosscuts: list[Cut] = []
    panels: list[Panel] = []
    left: list[Piece] = []
    for sheet in range(sheets):
        rest = Piece(f"{sheet}", f(0), f(0), SHEET.length, SHEET.width)
        strips = []
        for row in range(ROWS):
            y = row * pitch
            strip = Piece(f"{sheet}.{row}", f(0), y, SHEET.length, side)
            name = f"{sheet}.{row}r"
            below = Piece(name, f(0), y + pitch, SHEET.length, SHEET.width - y - pitch)
            rips.append(Cut(len(rips) + 1, rest.name, RIP, PART, strip, below))
            strips.append(strip)
            rest = below
        left.append(rest)
        for strip in strips:
            rest = strip
            for column in range(COLUMNS):
                x = column * pitch
                piece = Piece(f"{strip.name}.{column}", x, strip.y, side, side)
                beyond = Piece(f"{piece.name}r", x + pitch, strip.y, SHEET.length - x - pitch, side)
                crosscuts.append(Cut(0, rest.name, CROSSCUT, PART, piece, beyond))
                panels.append(Panel("tile", len(panels) + 1, piece, False))
                rest = beyond
            left.append(rest)
    # Strips and panels are both 100 mm: one setting at the fence, one at the stop.
    cuts = tuple(
        Cut(i, c.piece, c.direction, c.purpose, c.kept, c.rest)
        for i, c in enumerate([*rips, *crosscuts], start=1)
    )
    area, used = sheets * SHEET.length * SHEET.width, len(panels) * side * side
    settings: tuple[SawSetup, ...] = (
        setting(1, 100, 3.2, *cuts[: len(rips)]),
        setting(2, 100, 3.2, *cuts[len(rips) :], tool="sled"),
    )
    cost = sheets * Decimal(50)
    plan = Plan(
        job=Job(
            "Tiles",
            Units.MM,
            Saw(KERF, None, f(0.5)),
            (SHEET,),
            (Part("tile", "birch ply", f(18), side, side, len(panels)),),
        ),
        buy=(line(SHEET, sheets, str(cost)),),
        totals=Totals(
            sheets,
            cost,
            2,
            len(cuts),
            len(panels),
            used,
            area,
            f(0),
            100 * (area - used) / area,
            by_device(fence=1, stop=1),
            0,
            f(5 + len(cuts)),
        ),
        bounds=Bounds(cost, True, sheets, 1, False),
        workpieces=bought(SHEET, *(str(i) for i in range(sheets))),
        setups=settings,
        panels=tuple(panels),
        leftovers=tuple(Leftover(piece, "birch ply", f(18), False) for piece in left),
    )
    return instructed(plan)


@pytest.mark.slow
def test_ten_thousand_panels_are_sound() -> None:
    """50 sheets of 200 panels each pass the audit."""
    plan = grid_plan(50)
    assert len(plan.panels) == 10_000
    assert audit(plan) == ()


@pytest.mark.slow
def test_time_grows_about_in_line_with_the_size() -> None:
    """Eight times the panels take less than 24 times as long: far from the 64 of a square law."""

    def seconds(sheets: int) -> float:
        plan = grid_plan(sheets)
        best = float("inf")
        for _ in range(3):
            start = process_time()
            audit(plan)
            best = min(best, process_time() - start)
        return best

    assert seconds(16) < 24 * seconds(2)

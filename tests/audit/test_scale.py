"""Distances off the scale: found where nothing asks for them, passed where something does."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit import Code, audit
from cutlist.model.job import Job, Part, Saw, Sheet
from cutlist.model.plan import Bounds, Cut, Leftover, Plan, Totals
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.audit.broken_settings import clean_up_off_scale
from tests.audit.edits import with_cut, with_saw
from tests.audit.plans import (
    CLEAN_UP,
    CROSSCUT,
    PART,
    RIP,
    SOUND,
    bought,
    box,
    by_device,
    f,
    line,
    panel,
    setting,
)


def _rough_then_part(distance: str, kerf: str, part: str, width: str = "100") -> Plan:
    """Clean up a board of 1000 × ``width`` at a distance, then rip one part from it."""
    sheet = Sheet("board", "ash ply", f(12), f(1000), f(width), Decimal(9))
    first, blade, size = f(distance), f(kerf), f(part)
    a1, a2 = box("A1", 0, 0, 1000, str(first)), None
    left = sheet.width - first - blade
    pieces = []
    if left > 0:
        a2 = box("A2", 0, str(first + blade), 1000, str(left))
        pieces.append(a2)
    b1 = box("B1", 0, 0, 1000, str(size))
    b2 = box("B2", 0, str(size + blade), 1000, str(first - size - blade))
    pieces.append(b2)
    part_area, area = 1000 * size, 1000 * sheet.width
    plan = Plan(
        job=Job(
            "Shelf",
            Units.MM,
            Saw(blade, None, f("1/2")),
            (sheet,),
            (Part("shelf", "ash ply", f(12), f(1000), size),),
        ),
        buy=(line(sheet, 1, "9"),),
        totals=Totals(
            1,
            Decimal(9),
            2,
            2,
            1,
            part_area,
            area,
            f(0),
            100 * (area - part_area) / area,
            by_device(fence=2),
            0,
            f(8),
        ),
        bounds=Bounds(Decimal(9), True, 1, 1, False),
        workpieces=bought(sheet, "A"),
        setups=(
            setting(1, str(first), str(blade), Cut(1, "A", RIP, CLEAN_UP, a1, a2)),
            setting(2, str(size), str(blade), Cut(2, "A1", RIP, PART, b1, b2)),
        ),
        panels=(panel("shelf", 1, b1),),
        leftovers=tuple(Leftover(piece, "ash ply", f(12), False) for piece in pieces),
    )
    return instructed(plan)


@pytest.mark.parametrize(
    ("distance", "kerf", "part", "width", "codes"),
    [
        pytest.param("95", "3", "60", "100", [], id="on the scale"),
        pytest.param("95.3", "3", "60", "100", [Code.OFF_SCALE], id="nothing asks for it"),
        pytest.param("95.3", "3.2", "60", "100", [Code.OFF_SCALE], id="free to be larger"),
        pytest.param("95.3", "3", "60.2", "100", [], id="the part is off the scale"),
        pytest.param("95.3", "3", "60", "100.3", [], id="the stock is off the scale"),
    ],
)
def test_distance_off_the_scale(
    distance: str, kerf: str, part: str, width: str, codes: list[Code]
) -> None:
    """A clean-up of one part's blank is set on a mark, unless part or stock is off the scale."""
    plan = _rough_then_part(distance, kerf, part, width)
    assert [finding.code for finding in audit(plan)] == codes


def test_fence_without_scale_shows_any_distance() -> None:
    """A saw whose fence shows any length passes at any distance."""
    plan = clean_up_off_scale(SOUND["store_and_vehicle"]())
    assert audit(instructed(with_saw(plan, scale=None))) == ()


def test_two_panels_and_an_odd_kerf_may_ask_for_an_odd_distance() -> None:
    """A strip kept for two panels side by side is as wide as they and the kerf ask."""
    plan = SOUND["turned_panels"]()
    sheet = plan.job.sheets[0]
    odd = Fraction(1, 10)
    first = box("A1", 0, 0, 20.1, 40)
    rest = box("A2", 20.2, 0, 39.8, 40)
    b1, b2 = box("B1", 0, 0, 10, 40), box("B2", 10.1, 0, 10, 40)
    c1, c2 = box("C1", 20.2, 0, 20, 40), box("C2", 40.3, 0, 19.7, 40)
    changed = replace(
        with_saw(plan, kerf=odd),
        totals=replace(
            plan.totals,
            setups=3,
            kept_offcut_area=f(788),
            waste_percent=f("1/2"),
            setups_by_device=by_device(fence=3),
            minutes=f(12),
        ),
        bounds=replace(plan.bounds, setups_proven=False),
        setups=(
            setting(1, 20.1, 0.1, Cut(1, "A", CROSSCUT, PART, first, rest)),
            setting(2, 10, 0.1, Cut(2, "A1", CROSSCUT, PART, b1, b2)),
            setting(3, 20, 0.1, Cut(3, "A2", CROSSCUT, PART, c1, c2)),
        ),
        panels=(
            panel("rail", 1, b1, turned=True),
            panel("rail", 2, b2, turned=True),
            panel("shelf", 1, c1, turned=True),
        ),
        leftovers=(Leftover(c2, sheet.material, sheet.thickness, True),),
    )
    assert audit(instructed(changed)) == ()


def test_rest_that_comes_out_exact_may_ask_for_an_odd_distance() -> None:
    """With a kerf of 3.2 mm, a rest of exactly 60 of 100 mm leaves 36.8 mm at the fence."""
    plan = _rough_then_part("36.8", "3.2", "30")
    rest = plan.settings[0].cuts[0].rest
    assert rest is not None
    assert rest.width == 60
    assert [finding.code for finding in audit(plan)] == [Code.OFF_SCALE]
    exact = replace(
        plan,
        job=replace(
            plan.job,
            parts=(*plan.job.parts, Part("back", "ash ply", f(12), f(1000), f(60))),
        ),
        totals=replace(plan.totals, parts=2, part_area=f(90000), waste_percent=f(10)),
        panels=(*plan.panels, panel("back", 1, rest)),
        leftovers=plan.leftovers[1:],
    )
    assert audit(instructed(exact)) == ()


def test_piece_that_nothing_made_is_passed_over() -> None:
    """Off the scale on a piece of no known stock: the unknown piece is the finding, no failure."""
    plan = with_cut(_rough_then_part("95.3", "3", "60"), 1, piece="Q")
    codes = {finding.code for finding in audit(plan)}
    assert Code.PIECE_UNKNOWN in codes
    assert not codes & {Code.OFF_SCALE, Code.CHECK_FAILED}

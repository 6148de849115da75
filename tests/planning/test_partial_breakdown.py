"""A partial plan of a stock that the store breaks down."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Part, Store, Vehicle
from cutlist.model.plan import Place, Plan
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document, to_text
from cutlist.planning.make import make_plan
from tests.planning.jobs import job, offcut, part, sheet
from tests.random_jobs import random_job, with_small_car
from tests.refusing import said
from tests.replay import replay

STORE = Store(Fraction(4), Fraction(2), 4)


def asked(*parts: Part, in_stock: int = 1, bed: tuple[int, int] = (1230, 1230)) -> Job:
    """Return a job on so many sheets of 2440 x 1220 for a car."""
    vehicle = Vehicle(Fraction(bed[0]), Fraction(bed[1]))
    return replace(job(parts, [sheet(in_stock=in_stock)]), store=STORE, vehicle=vehicle)


def partial_plan(wanted: Job, steps: int = 4000) -> Plan:
    """Plan what the stock gives, and audit it in both ways."""
    plan = make_plan(wanted, allowance=Allowance(steps=steps), partial=True)
    assert audit(plan) == ()
    assert replay(json.loads(json.dumps(to_document(plan))), wanted) == []
    return plan


def left_out(plan: Plan) -> dict[str, int]:
    """Return how many panels of which parts are left out."""
    return {one.part: one.count for one in plan.short}


def test_as_many_as_the_blanks_hold() -> None:
    """Halves of 1218 x 1220 hold two sides of 1200 x 600 each, so that five of nine are left out.

    Of sides 1217 long, one more than 1218 less the accuracy of 2, they hold none: a blank of 1230
    does, and there is one in a sheet.
    """
    wanted = asked(part("side", (1200, 600), 9, Grain.LENGTH))
    plan = partial_plan(wanted)
    assert (left_out(plan), plan.totals.parts, plan.totals.sheets) == ({"side": 5}, 4, 1)
    longer = asked(part("side", (1217, 600), 9, Grain.LENGTH))
    plan = partial_plan(longer)
    assert (left_out(plan), plan.totals.parts) == ({"side": 7}, 2)
    with pytest.raises(CannotCutError) as caught:
        make_plan(longer, allowance=Allowance(steps=4000))
    assert "× side" in said(caught.value)[0]


def test_value_decides_what_is_left_out() -> None:
    """Of two parts of one size the one that is worth more is cut, whatever their order."""
    side, shelf = (part(name, (1200, 600), 4, Grain.LENGTH) for name in ("side", "shelf"))
    for dear, cheap in ((side, shelf), (shelf, side)):
        parts = (replace(dear, value=Decimal(3)), replace(cheap, value=Decimal(2)))
        assert left_out(partial_plan(asked(*parts))) == {cheap.name: 4}


def test_a_sheet_that_gives_nothing_is_not_bought() -> None:
    """Of ten sheets three hold the parts that have a place; the others stay in the store."""
    wanted = asked(part("side", (1200, 600), 12, Grain.LENGTH), in_stock=10)
    plan = partial_plan(wanted)
    assert plan.short == ()
    assert plan.totals.sheets == 3


def test_offcuts_serve_as_well() -> None:
    """An offcut on hand takes one more, and is not cut at the store."""
    wanted = asked(part("side", (1200, 600), 9, Grain.LENGTH))
    plan = partial_plan(replace(wanted, offcuts=(offcut("rack", (1210, 610)),)))
    assert left_out(plan) == {"side": 4}
    at_store = [c.piece for s in plan.settings if s.place is Place.STORE for c in s.cuts]
    assert at_store == [work.piece for work in plan.workpieces if work.bought]


def test_unlimited_stock_is_no_reason_to_leave_out() -> None:
    """Where there are sheets enough, the partial plan is the plan."""
    wanted = asked(part("side", (1200, 600), 9, Grain.LENGTH), in_stock=3)
    whole = make_plan(wanted, allowance=Allowance(steps=4000))
    assert to_text(partial_plan(wanted)) == to_text(whole)


@pytest.mark.slow
def test_equal_seeds_give_equal_plans() -> None:
    """With a budget in steps the same panels are left out."""
    parts = (part("a", (700, 430), 9), part("b", (390, 520), 9), part("c", (1100, 210), 9))
    wanted = asked(*parts, bed=(1500, 900))
    assert to_text(partial_plan(wanted)) == to_text(partial_plan(wanted))


@pytest.mark.slow
@pytest.mark.parametrize("number", [1, 2, 3, 5, 7])
def test_random_jobs_with_too_few_sheets(number: int) -> None:
    """Three times the parts for the sheets of a plan: a sound plan with no less on the sheets.

    The sheets of the plan hold all parts once, so the most valuable panels are worth as much.
    """
    whole = with_small_car(random_job(number), number)
    plan = make_plan(whole, allowance=Allowance(steps=2000))
    bought = Counter({line.sheet: line.count for line in plan.buy})
    sheets = tuple(replace(one, in_stock=bought[one.name]) for one in whole.sheets)
    parts = tuple(replace(one, qty=3 * one.qty) for one in whole.parts)
    found = partial_plan(replace(whole, sheets=sheets, parts=parts), 2000)
    assert found.totals.parts + sum(left_out(found).values()) == 3 * plan.totals.parts
    assert left_out(found)
    assert float(found.totals.part_area) >= 0.95 * float(plan.totals.part_area)

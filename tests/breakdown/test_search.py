"""Break-down and layout together, on jobs whose best answer is known."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.errors import CannotCutError, StoppedError
from cutlist.model.job import Grain, Job, Store, Vehicle
from cutlist.model.plan import Place, Plan, Purpose
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_text
from cutlist.planning.make import make_plan
from tests.planning.jobs import job, offcut, part, planned, sheet

STORE = Store(Fraction(4), Fraction(2), 4)


def car(asked: Job, bed: tuple[int, int], store: Store = STORE) -> Job:
    """Return a job for a car."""
    return replace(asked, store=store, vehicle=Vehicle(Fraction(bed[0]), Fraction(bed[1])))


def store_cuts(plan: Plan) -> int:
    """Return the number of cuts at the store."""
    settings = (setting for setting in plan.settings if setting.place is Place.STORE)
    return sum(len(setting.cuts) for setting in settings)


@pytest.mark.slow
def test_the_cut_goes_where_the_parts_leave_room() -> None:
    """Panels of 1400 and 1000 fill the sheet but for 40: only one place of the cut serves both.

    A cut that halves the sheet would spoil it for the long panels.
    """
    asked = job([part("long", (1400, 600), 2), part("short", (1000, 600), 2)], [sheet()])
    plan = planned(car(asked, (1420, 1230)), steps=20_000)
    assert audit(plan) == ()
    assert (plan.totals.sheets, store_cuts(plan)) == (1, 1)
    (first, *_) = plan.settings
    assert 1402 <= first.distance <= 1420 or 1002 <= first.distance <= 1034


@pytest.mark.slow
def test_the_edges_of_the_store_are_cleaned() -> None:
    """An edge that is off by up to 2 loses at least 2; with an accuracy of 0 it stays."""
    asked = job([part("side", (1200, 600), 4, Grain.LENGTH)], [sheet()])
    plan = planned(car(asked, (1230, 1230)), steps=4000)
    assert audit(plan) == ()
    clean = planned(car(asked, (1230, 1230), replace(STORE, accuracy=Fraction(0))), steps=4000)
    cuts = [cut for setting in clean.settings for cut in setting.cuts]
    assert audit(clean) == ()
    assert all(cut.purpose is not Purpose.CLEAN_UP for cut in cuts)
    # Two halves of 2440 less a kerf of 4 are 1218 long: with 2 off the rough edge 1216.
    close = replace(asked, parts=(part("side", (1216, 600), 4, Grain.LENGTH),))
    assert planned(car(close, (1230, 1230)), steps=4000).totals.sheets == 1
    closer = replace(asked, parts=(part("side", (1217, 600), 4, Grain.LENGTH),))
    assert planned(car(closer, (1230, 1230)), steps=4000).totals.sheets == 2


@pytest.mark.slow
def test_a_sheet_that_goes_in_whole_wins_where_it_is_cheaper() -> None:
    """Broken down or whole, the cheaper sheet is bought."""
    asked = job([part("side", (600, 590), 4)], [sheet("half", (1220, 1220), "31"), sheet()])
    assert planned(car(asked, (1230, 1230))).buy[0].sheet == "half"
    dear = replace(asked, sheets=(sheet("half", (1220, 1220), "61"), sheet()))
    plan = planned(car(dear, (1230, 1230)))
    assert (plan.buy[0].sheet, store_cuts(plan)) == ("full", 1)


def test_offcuts_need_no_store() -> None:
    """What lies at home is used first and is not cut at the store, however large."""
    asked = job([part("side", (1200, 600), 4)], [sheet()], [offcut("rack", (2440, 1220))])
    plan = planned(car(asked, (1230, 1230)))
    assert (plan.totals.sheets, store_cuts(plan), plan.totals.cost) == (0, 0, Decimal(0))


@pytest.mark.slow
def test_equal_seeds_give_equal_plans() -> None:
    """With a budget in steps the same job is broken down in the same way."""
    parts = [part("a", (700, 430), 5), part("b", (390, 520), 6), part("c", (1100, 210), 3)]
    asked = car(job(parts, [sheet(trim=5)]), (1500, 900))
    assert to_text(planned(asked, 3000, 4)) == to_text(planned(asked, 3000, 4))


def test_limited_stock_is_told() -> None:
    """Where the store has too few sheets the parts that are short are named."""
    asked = job([part("side", (1200, 600), 5)], [sheet(in_stock=1)])
    with pytest.raises(CannotCutError, match="stock too small: side"):
        planned(car(asked, (1230, 1230)))


def test_more_is_bought_where_no_sheet_can_be_shared() -> None:
    """A part that fills a blank for the car leaves the other blank to nothing of its size."""
    asked = job([part("top", (1800, 900), 2)], [sheet()])
    plan = planned(car(asked, (1820, 920)))
    assert audit(plan) == ()
    assert plan.totals.sheets == 2


def test_a_search_stopped_before_there_is_a_plan() -> None:
    """Who interrupts at once gets no plan."""
    asked = car(job([part("side", (1200, 600), 4)], [sheet()]), (1230, 1230))
    allowance = Allowance(steps=400)
    allowance.asked.ask()
    with pytest.raises(StoppedError):
        make_plan(asked, allowance=allowance)

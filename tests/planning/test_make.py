"""Whole plans of small jobs: what has to hold whatever the search finds."""

from __future__ import annotations

import hashlib
import json
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.errors import AuditError, CannotCutError
from cutlist.model.job import Grain, Job, KeepFrom, Part, Saw, Vehicle, home_shop
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.make import make_plan
from cutlist.planning.stages import Stages
from cutlist.planning.terms.progress import PlanSoFar, Watcher
from tests.planning.jobs import job, offcut, part, planned, sheet
from tests.random_jobs import random_job
from tests.refusing import said
from tests.replay import replay

LEAST = KeepFrom(Fraction(300), Fraction(100))
SLOW = [HealthCheck.too_slow]


def sound(asked: Job, steps: int = 400) -> None:
    """Plan a job and replay what comes out."""
    assert replay(to_document(planned(asked, steps)), asked) == []


def test_part_equal_to_the_sheet() -> None:
    """A part as large as the sheet is bought and not cut."""
    plan = planned(job([part("top", (2440, 1220), 2)]))
    assert (plan.totals.sheets, plan.totals.cuts, plan.totals.setups) == (2, 0, 0)
    assert plan.totals.waste_percent == 0
    assert plan.bounds.cost_proven
    assert plan.bounds.setups_proven
    assert [panel.piece.name for panel in plan.panels] == ["A", "B"]
    assert plan.leftovers == ()


@pytest.mark.parametrize("kerf", [0, 3])
def test_kerf_counts(kerf: int) -> None:
    """Four quarters come out of one sheet only with a blade that takes nothing."""
    asked = job([part("quarter", (1220, 610), 4)], kerf=kerf)
    plan = planned(asked)
    assert plan.totals.sheets == (1 if kerf == 0 else 2)
    assert replay(to_document(plan), asked) == []
    if kerf == 0:
        assert plan.totals.part_area == plan.totals.sheet_area
        assert {setting.distance for setting in plan.settings} <= {610, 1220}


def test_kerf_exactly_fits() -> None:
    """Two halves and the blade between them fill a sheet: 1218.5 + 3 + 1218.5 = 2440."""
    plan = planned(job([part("half", (Fraction(2437, 2), 1220), 2)]))
    assert (plan.totals.sheets, plan.totals.setups, plan.totals.cuts) == (1, 1, 1)
    assert plan.settings[0].cuts[0].rest is not None


def test_grain_is_kept() -> None:
    """A part with grain along its width lies turned; one along its length never does."""
    parts = [
        part("along", (900, 300), 3, Grain.LENGTH),
        part("across", (900, 300), 3, Grain.WIDTH),
        part("either", (900, 300), 3, Grain.ANY),
    ]
    asked = job(parts)
    plan = planned(asked)
    assert replay(to_document(plan), asked) == []
    turned = {(panel.part, panel.turned) for panel in plan.panels}
    assert ("along", False) in turned
    assert ("along", True) not in turned
    assert ("across", True) in turned
    assert ("across", False) not in turned
    for panel in plan.panels:
        size = (int(panel.piece.length), int(panel.piece.width))
        assert size == ((300, 900) if panel.turned else (900, 300))


def test_grain_decides_what_fits() -> None:
    """What would fit turned does not fit where the grain forbids it."""
    asked = job([part("door", (1000, 400), grain=Grain.WIDTH)], [sheet(size=(1200, 600))])
    with pytest.raises(CannotCutError) as caught:
        planned(asked)
    assert re.match(r"door 1000 × 400.*grain along its width", said(caught.value)[0])
    sound(replace(asked, parts=(replace(asked.parts[0], grain=Grain.ANY),)))


def test_without_prices() -> None:
    """Without prices the area bought is kept low, and a plan costs nothing."""
    sheets = [sheet("large", (2440, 1220), None), sheet("small", (1220, 610), None)]
    asked = job([part("shelf", (600, 300), 3)], sheets)
    plan = planned(asked)
    assert [(line.sheet, line.count) for line in plan.buy] == [("small", 1)]
    assert plan.totals.cost == plan.bounds.cost == 0
    assert plan.bounds.cost_proven
    assert plan.buy[0].price_each is None
    assert replay(to_document(plan), asked) == []


def test_cheapest_mix_is_bought() -> None:
    """Prices decide, not areas."""
    sheets = [sheet("large", (2440, 1220), "50"), sheet("small", (1220, 1220), "30")]
    plan = planned(job([part("shelf", (1200, 580), 4)], sheets))
    assert [(line.sheet, line.count, str(line.cost)) for line in plan.buy] == [("large", 1, "50")]
    sheets = [sheet("large", (2440, 1220), "50"), sheet("small", (1220, 1220), "20")]
    plan = planned(job([part("shelf", (1200, 580), 4)], sheets))
    assert [(line.sheet, line.count, str(line.cost)) for line in plan.buy] == [("small", 2, "40")]
    assert plan.bounds.cost_proven


def test_none_in_stock_is_not_bought() -> None:
    """A sheet with none in stock is not bought, however cheap."""
    sheets = [sheet("cheap", price="1", in_stock=0), sheet("dear", price="99")]
    plan = planned(job([part("shelf", (600, 300))], sheets))
    assert [line.sheet for line in plan.buy] == ["dear"]


def test_limited_stock_is_not_exceeded() -> None:
    """Where the cheap sheet runs out the dear one fills in."""
    sheets = [sheet("cheap", price="10", in_stock=1), sheet("dear", price="30")]
    asked = job([part("wall", (1200, 1200), 5)], sheets)
    plan = planned(asked)
    assert {line.sheet: line.count for line in plan.buy} == {"cheap": 1, "dear": 2}
    assert replay(to_document(plan), asked) == []


def test_shortage_says_which_part() -> None:
    """Too little stock names the panels left over and the sheet to raise."""
    asked = job([part("wall", (1200, 1200), 5)], [sheet("full", in_stock=2)])
    with pytest.raises(CannotCutError) as caught:
        planned(asked)
    (reason,) = said(caught.value)
    assert "short of 1 × wall" in reason
    assert "in_stock of full (2 in stock)" in reason


def test_offcut_is_used_where_it_saves_a_sheet() -> None:
    """An offcut on hand is free, so it is cut before a sheet is bought."""
    asked = job([part("shelf", (600, 300), 2)], offcuts=[offcut("rack", (620, 610))])
    plan = planned(asked)
    assert plan.buy == ()
    assert plan.totals.cost == 0
    assert [(piece.stock, piece.bought) for piece in plan.workpieces] == [("rack", False)]
    assert replay(to_document(plan), asked) == []


def test_offcut_saves_the_last_sheet() -> None:
    """What does not fit the sheets bought goes on the offcut instead of one more sheet."""
    parts = [part("wall", (1200, 1200), 2), part("shelf", (600, 300))]
    plan = planned(job(parts, offcuts=[offcut("rack", (610, 310), 3)]))
    assert plan.totals.sheets == 1
    assert Counter(piece.stock for piece in plan.workpieces) == {"full": 1, "rack": 1}


def test_two_materials_share_settings() -> None:
    """One setting serves both materials: the list never names a distance twice in a row."""
    parts = [part("a", (2440, 300), 4), part("b", (2440, 300), 4, material="mdf")]
    asked = job(parts, [sheet(), sheet("m", material="mdf")])
    plan = planned(asked)
    assert [setting.distance for setting in plan.settings] == [300]
    assert {cut.piece[0] for cut in plan.settings[0].cuts} == {"A", "B"}
    assert plan.bounds.setups_proven


def test_sheets_that_the_vehicle_does_not_take() -> None:
    """A sheet too large for the vehicle is not bought; where all are, the parts are named."""
    sheets = [sheet("full", price="20"), sheet("half", (1220, 1220), "19")]
    asked = replace(
        job([part("wall", (1000, 1000), 2)], sheets),
        vehicle=Vehicle(Fraction(1300), Fraction(1250)),
    )
    assert [(line.sheet, line.count) for line in planned(asked).buy] == [("half", 2)]
    with pytest.raises(CannotCutError) as caught:
        planned(replace(asked, sheets=(sheets[0],)))
    assert said(caught.value)[0].startswith("wall: no sheet goes into the vehicle")


def test_keep_from_decides_what_is_kept() -> None:
    """A leftover is kept where it reaches the size asked for, either way round."""
    asked = job([part("shelf", (2440, 600))], kerf=0)
    for least, kept in (((700, 600), True), ((600, 700), True), ((700, 621), False)):
        keep = KeepFrom(Fraction(least[0]), Fraction(least[1]))
        plan = planned(replace(asked, keep_from=keep))
        assert [leftover.keep for leftover in plan.leftovers] == [kept]
        assert plan.totals.kept_offcut_area == (2440 * 620 if kept else 0)


def text_of(asked: Job, steps: int, seed: int) -> str:
    """Return the document of a plan as one line of text."""
    return json.dumps(to_document(planned(asked, steps, seed)), sort_keys=True)


@pytest.mark.parametrize("number", [1, 8, 22])
def test_same_seed_same_plan(number: int) -> None:
    """With a budget in steps, equal seeds give equal documents."""
    asked = random_job(number)
    assert text_of(asked, 600, 5) == text_of(asked, 600, 5)


IN_A_CHILD = """
import hashlib
from tests.planning.test_make import text_of
from tests.random_jobs import random_job
print(hashlib.sha256(text_of(random_job(8), 600, 5).encode()).hexdigest())
"""


@pytest.mark.slow
def test_same_plan_in_another_process() -> None:
    """Another process with other hashes of its strings comes to the same document."""
    here = hashlib.sha256(text_of(random_job(8), 600, 5).encode()).hexdigest()
    child = subprocess.run(
        [sys.executable, "-c", IN_A_CHILD], capture_output=True, text=True, check=True
    )
    assert child.stdout.strip() == here


@st.composite
def small_jobs(draw: st.DrawFn) -> Job:
    """Draw a job of a few parts on one or two sheets."""
    sheets = [sheet("full", (2440, 1220), "60"), sheet("half", (1220, 1220), "35")]
    number = draw(st.integers(1, 4))
    sizes = st.sampled_from([200, 300, 305, 450, 600, 610, 900, 1200])
    parts = [
        part(f"part {i}", (draw(sizes), draw(sizes)), draw(st.integers(1, 4)))
        for i in range(number)
    ]
    rack = [offcut("rack", (draw(sizes), draw(sizes)))] if draw(st.booleans()) else []
    return job(parts, sheets[: draw(st.integers(1, 2))], rack, kerf=draw(st.sampled_from([0, 3])))


@pytest.mark.slow
@given(small_jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
def test_scale_changes_nothing(asked: Job) -> None:
    """With all lengths doubled the plan is the same, twice as large."""
    asked = replace(asked, saws=home_shop(asked.saw, asked.units))
    once = planned(replace(asked, keep_from=LEAST), 200)
    twice = planned(doubled(asked), 200)
    assert once.totals.cost == twice.totals.cost
    assert once.totals.setups == twice.totals.setups
    assert once.bounds == twice.bounds
    assert [2 * s.distance for s in once.settings] == [s.distance for s in twice.settings]
    assert 4 * once.totals.sheet_area == twice.totals.sheet_area


def doubled_saw(saw: Saw) -> Saw:
    """Return a saw all of whose limits are twice as long."""

    def twice(length: Fraction | None) -> Fraction | None:
        return None if length is None else 2 * length

    return replace(
        saw,
        kerf=2 * saw.kerf,
        max_rip=twice(saw.max_rip),
        longest_cut=twice(saw.longest_cut),
        largest_pieces=tuple((2 * across, 2 * along) for across, along in saw.largest_pieces),
        smallest_piece=2 * saw.smallest_piece,
        steady_edge=twice(saw.steady_edge),
        thinnest_strip=2 * saw.thinnest_strip,
    )


def doubled(asked: Job) -> Job:
    """Return the job with every length twice as long."""
    return replace(
        asked,
        saw=replace(asked.saw, kerf=2 * asked.saw.kerf),
        saws=tuple(doubled_saw(saw) for saw in asked.saws),
        sheets=tuple(replace(s, length=2 * s.length, width=2 * s.width) for s in asked.sheets),
        offcuts=tuple(replace(s, length=2 * s.length, width=2 * s.width) for s in asked.offcuts),
        parts=tuple(replace(p, length=2 * p.length, width=2 * p.width) for p in asked.parts),
        keep_from=KeepFrom(2 * LEAST.length, 2 * LEAST.width),
    )


@pytest.mark.slow
@given(small_jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
def test_names_change_nothing(asked: Job) -> None:
    """Other names of parts, sheets and materials lead to the same figures and distances."""
    other = replace(
        asked,
        name="another bench",
        sheets=tuple(replace(s, name=s.name + "'", material="mdf") for s in asked.sheets),
        offcuts=tuple(replace(s, name=s.name + "'", material="mdf") for s in asked.offcuts),
        parts=tuple(replace(p, name=f"z{p.name}", material="mdf") for p in asked.parts),
    )
    once, again = planned(asked, 200), planned(other, 200)
    assert once.totals == again.totals
    assert once.bounds == again.bounds
    assert [s.distance for s in once.settings] == [s.distance for s in again.settings]


@pytest.mark.slow
@given(small_jobs())
@settings(max_examples=25, deadline=None, suppress_health_check=SLOW)
def test_more_stock_never_costs_more(asked: Job) -> None:
    """With more offcuts on hand a proven plan costs no more than before."""
    before = planned(asked, 400)
    more = replace(asked, offcuts=(*asked.offcuts, offcut("spare", (610, 610), 2)))
    after = planned(more, 400)
    assert after.bounds.cost <= before.totals.cost
    if after.bounds.cost_proven:
        assert after.totals.cost <= before.totals.cost


@pytest.mark.slow
@given(small_jobs(), st.integers(0, 3))
@settings(max_examples=30, deadline=None, suppress_health_check=SLOW)
def test_small_jobs_replay(asked: Job, seed: int) -> None:
    """Plans of small jobs replay without a fault, and no figure is below its bound."""
    plan = planned(asked, 150, seed)
    assert replay(to_document(plan), asked) == []
    assert plan.bounds.cost <= plan.totals.cost
    assert plan.bounds.sheets <= plan.totals.sheets
    assert plan.bounds.setups <= plan.totals.setups


@pytest.mark.slow
def test_longer_search_never_buys_more() -> None:
    """Ten times the steps cost no more: the dear plan is found on the way."""
    for number in (1, 4, 24):
        asked = random_job(number)
        assert planned(asked, 2000).totals.cost <= planned(asked, 200).totals.cost


def test_search_ends_by_itself_when_proven() -> None:
    """A job whose cost and settings are proven does not use its budget up."""
    allowance = Allowance(60.0)
    plan = make_plan(job([part("shelf", (2440, 300), 4)]), allowance=allowance)
    assert plan.bounds.cost_proven
    assert plan.bounds.setups_proven
    assert not allowance.is_over()


def test_audit_is_asked() -> None:
    """What the audit finds is raised, not returned."""
    stages = Stages(audit=lambda _: ("KERF: somewhere",))
    with pytest.raises(AuditError) as caught:
        make_plan(job([part("shelf", (600, 300))]), allowance=Allowance(steps=100), stages=stages)
    assert caught.value.findings == ("KERF: somewhere",)


class Remembering(Watcher):
    """Keeps all that it hears."""

    def __init__(self) -> None:
        self.all: list[PlanSoFar] = []

    def heard(self, plan: PlanSoFar) -> None:
        """Keep it."""
        self.all.append(plan)


def test_watcher_hears_true_figures() -> None:
    """Cost heard never rises, ends at the plan's, and is never below the bound heard."""
    watcher = Remembering()
    asked = random_job(8)
    plan = make_plan(asked, allowance=Allowance(steps=400), watcher=watcher)
    costs = [standing.cost for standing in watcher.all if standing.cost is not None]
    assert costs
    assert costs == sorted(costs, reverse=True)
    assert costs[-1] == plan.totals.cost
    last = watcher.all[-1]
    assert last.sheets == plan.totals.sheets
    assert last.bound is not None
    assert last.bound <= plan.totals.cost
    assert isinstance(last.cost, Decimal)


def bought(plan: Plan) -> dict[str, int]:
    """Return how many of each sheet a plan buys."""
    return {line.sheet: line.count for line in plan.buy}


SIZES = [("full", (2440, 1220)), ("half", (1220, 1220)), ("quarter", (1220, 610))]


@pytest.mark.parametrize(
    ("prices", "parts", "expected"),
    [
        # A quarter sheet is enough for one shelf, and is the cheapest sheet that is.
        (("60", "35", "20"), [part("shelf", (1000, 400))], {"quarter": 1}),
        # A full sheet and a quarter: dearer halves would be 95 for the two, two full ones 120.
        (
            ("60", "35", "20"),
            [part("wall", (2400, 1200)), part("shelf", (1000, 400))],
            {"full": 1, "quarter": 1},
        ),
        # Two halves at 29 are less than the full sheet at 60 where nothing is longer than a half.
        (("60", "29", "20"), [part("side", (1200, 1200), 2)], {"half": 2}),
        # The same at 35 each are dearer than the full sheet.
        (("60", "35", "20"), [part("side", (1200, 1200), 2)], {"full": 1}),
        # Four quarters would hold four shelves for 80, one full sheet does for 60.
        (("60", "35", "20"), [part("shelf", (1200, 600), 4)], {"full": 1}),
        (("60", "35", "14"), [part("shelf", (1200, 600), 4)], {"quarter": 4}),
    ],
)
def test_the_cheapest_mix_of_full_half_and_quarter_sheets(
    prices: tuple[str, str, str], parts: list[Part], expected: dict[str, int]
) -> None:
    """Halves and quarters are sheets like others: what is cheapest in all is bought."""
    sheets = [sheet(name, size, price) for (name, size), price in zip(SIZES, prices, strict=True)]
    plan = planned(job(parts, sheets))
    assert bought(plan) == expected
    assert plan.bounds.cost_proven

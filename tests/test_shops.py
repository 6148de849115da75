"""Random jobs in random shops, audited and replayed a second way.

The number of jobs is raised by the environment variable ``CUTLIST_RANDOM_SHOPS``.
"""

from __future__ import annotations

import json
import os
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.model.job import Grain, Job, Part, Saw, SawKind, Sheet, layout_saw
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.make import make_plan
from cutlist.units.system import Units
from tests.random_shops import random_shop_job
from tests.replay import replay

JOBS = int(os.environ.get("CUTLIST_RANDOM_SHOPS", "12"))


@pytest.mark.slow
@pytest.mark.parametrize("number", range(JOBS))
def test_random_shop(number: int) -> None:
    """Whatever the saws, a plan passes the audit and the independent replay, flags included."""
    job = random_shop_job(number)
    plan = make_plan(job, seed=number, allowance=Allowance(steps=(50, 200)[number % 2]))
    assert audit(plan) == ()
    assert replay(json.loads(json.dumps(to_document(plan))), job) == []


TABLE = Saw(Fraction(3), Fraction(650), smallest_piece=Fraction(300))
SLED = Saw(
    Fraction(3),
    Fraction(1200),
    name="sled",
    kind=SawKind.SLED,
    longest_cut=Fraction(600),
    smallest_piece=Fraction(150),
)
TRACK = Saw(Fraction(2), name="track saw", kind=SawKind.TRACK_SAW, smallest_piece=Fraction(200))
PLY = ("ply", Fraction(18))


def planned(saws: tuple[Saw, ...], *sizes: tuple[int, int, int]) -> Plan:
    """Plan parts, each length, width and quantity, on sheets of 2440 × 1220."""
    parts = tuple(
        Part(f"part {length} x {width}", *PLY, Fraction(length), Fraction(width), qty, Grain.LENGTH)
        for length, width, qty in sizes
    )
    sheets = (Sheet("full", *PLY, Fraction(2440), Fraction(1220)),)
    job = Job("bench", Units.MM, layout_saw(saws), sheets, parts, saws=saws)
    return make_plan(job, allowance=Allowance(steps=200))


def unsafe(plan: Plan) -> set[int]:
    """Return the numbers of the cuts that no saw makes safely."""
    return {cut.number for setting in plan.settings for cut in setting.cuts if cut.hazards}


def tools(plan: Plan) -> dict[tuple[str, int], str]:
    """Return the tool of each direction and distance."""
    return {
        (cut.direction.value, int(setting.distance)): setting.tool
        for setting in plan.settings
        for cut in setting.cuts
    }


def test_each_kind_of_cut_goes_where_it_is_safe() -> None:
    """A wide rip goes to the track saw, a narrow one rides the fence, strips go to the sled."""
    plan = planned((TABLE, SLED, TRACK), (2440, 700, 1), (800, 400, 3))
    assert unsafe(plan) == set()
    assert tools(plan) == {
        ("rip", 700): "track saw",
        ("rip", 400): "table saw",
        ("crosscut", 800): "sled",
    }


def test_without_the_sled_strips_are_flagged() -> None:
    """With the table saw alone in the list the crosscuts are planned on it, and flagged."""
    plan = planned((TABLE,), (2000, 400, 2))
    crosscuts = {
        cut.number
        for setting in plan.settings
        for cut in setting.cuts
        if cut.direction.value == "crosscut"
    }
    assert crosscuts
    assert unsafe(plan) == crosscuts


def test_thin_blades_leave_panels_exact() -> None:
    """Three panels that fill a sheet to the last hair come out exact on a thinner blade too."""
    thin = replace(TRACK, name="thin", kerf=Fraction(1))
    length = (2440 - 2 * 3) // 3
    plan = planned((replace(TABLE, max_rip=Fraction(300)), thin), (length, 1220, 3))
    assert plan.totals.sheets == 1
    assert sorted(panel.piece.length for panel in plan.panels) == [length] * 3
    # Where the layout reckoned with 3 mm and the saw takes 1, the last panel gets its own cut.
    assert plan.totals.cuts == 3

"""Jobs whose sheets get home in a small car: sound plans, every blank fits, within the limits.

The number of jobs is raised by the environment variable ``CUTLIST_SMALL_CARS``.
"""

from __future__ import annotations

import json
import os
from collections import Counter
from decimal import Decimal
from pathlib import Path

import pytest

import cutlist
from cutlist.audit import audit
from cutlist.model.job import Job
from cutlist.model.plan import Place
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.make import make_plan
from tests.random_jobs import random_job, with_small_car, with_two_openings
from tests.random_loads import with_light_loads
from tests.replay import replay

JOBS = int(os.environ.get("CUTLIST_SMALL_CARS", "12"))


@pytest.mark.slow
@pytest.mark.parametrize("number", range(JOBS))
def test_small_car(number: int) -> None:
    """The plan passes the audit and the independent replay, which know the bed and the store."""
    check(with_small_car(random_job(number), number), number)


@pytest.mark.slow
@pytest.mark.parametrize("number", range(JOBS))
def test_two_openings(number: int) -> None:
    """So it does with a second opening, and, in two of three jobs, a load that sheets exceed."""
    job = with_two_openings(random_job(number), number)
    check(with_light_loads(job, number) if number % 3 else job, number)


def check(job: Job, number: int) -> None:
    """Plan a job, audit and replay it, and measure what the store leaves."""
    plan = make_plan(job, seed=number, allowance=Allowance(steps=(300, 1500)[number % 2]))
    assert audit(plan) == ()
    document = json.loads(json.dumps(to_document(plan)))
    assert replay(document, job) == []
    assert job.store is not None
    for setting in document["settings"]:
        least = float(job.store.min_piece) - 1e-9
        for cut in setting["cuts"] if setting["place"] == "store" else ():
            sides = [cut[end][side] for end in ("kept", "rest") for side in ("length", "width")]
            assert min(sides) >= least


@pytest.mark.slow
def test_the_cost_of_a_small_car() -> None:
    """Broken down, six jobs cost on average no more than 1.03 of what they cost whole.

    More jobs with a longer search are measured by ``docs/measure.py cars``.
    """
    ratios = []
    for number in range(6):
        whole = random_job(number)
        broken, base = (
            make_plan(job, allowance=Allowance(steps=8000))
            for job in (with_small_car(whole, number), whole)
        )
        ratios.append(broken.totals.cost / base.totals.cost)
    assert sum(ratios) / len(ratios) <= 1.03


JOB = """
job: Plant shelf
units: in
saw: {kerf: 1/8, max_rip: 30, scale: 1/32}
sheets:
  - {name: birch full, material: birch ply, thickness: 18 mm, size: 96 x 48, price: 74, trim: 1/4}
parts:
  - {name: side, material: birch ply, size: 58 x 13 1/2, qty: 4, grain: length}
  - {name: shelf, material: birch ply, size: 34 1/2 x 13 1/4, qty: 8}
store: {kerf: 1/8, accuracy: 1/8, max_cuts: 4, free_cuts: 2, cut_price: 0.50, min_piece: 6}
vehicle: {bed: 72 x 40}
"""


def test_a_job_file_with_a_store_and_a_car(tmp_path: Path) -> None:
    """Read from a file, the store's keys reach the plan: place, kerf, price, names, order."""
    path = tmp_path / "shelf.yaml"
    path.write_text(JOB, encoding="utf-8")
    plan = cutlist.plan(cutlist.read_job(path), seconds=None, steps=3000)
    places = [setting.place for setting in plan.settings]
    cuts = [cut for s in plan.settings if s.place is Place.STORE for cut in s.cuts]
    assert places == sorted(places, reverse=True)
    assert plan.totals.cost == plan.buy[0].cost + max(0, len(cuts) - 2) * Decimal("0.50")
    per_sheet = Counter(cut.piece[0] for cut in cuts)
    assert set(per_sheet) == {workpiece.piece for workpiece in plan.workpieces}
    assert max(per_sheet.values()) <= 4

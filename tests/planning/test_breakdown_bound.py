"""What is proven of the cost of a break-down never exceeds what one costs.

Beside plans of random jobs, and beside every break-down of a few panels on a coarse mark. All that
a store can cut on the coarse mark it can cut on its own finer one, so the best found by trying is
at least as dear as the best there is.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from random import Random

import pytest

from cutlist.breakdown.answer import Tariff
from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Saw, Store, Vehicle
from cutlist.model.weights import Density
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.planning.dividing.groups import Division, Group, divide
from cutlist.planning.make import make_plan
from cutlist.planning.packing.break_down import _bound, store_sheets, tariff_of
from cutlist.units.system import Units
from tests.breakdown.breakdowns import EveryBreakDown
from tests.planning.jobs import part, sheet
from tests.random_jobs import random_job, with_small_car

MARK = 20


@pytest.mark.slow
@pytest.mark.parametrize("number", range(15))
def test_random_jobs_for_a_small_car(number: int) -> None:
    """Cost and sheets of a plan are at least what is proven of them."""
    job = with_small_car(random_job(100 + number), number)
    plan = make_plan(job, seed=number, allowance=Allowance(steps=800))
    assert plan.bounds.cost <= plan.totals.cost
    assert plan.bounds.sheets <= plan.totals.sheets


def tiny_job(seed: int) -> Job:
    """Return two to four panels on one or two kinds of sheets, for a car with one or two ways in.

    Lengths are in centimetres but for the kerfs, so that a mark of 2 cm misses little.
    """
    random = Random(seed)
    sizes = [(240, 160), (300, 120), (200, 200)]
    random.shuffle(sizes)
    trim = random.choice((0, 0, 5))
    density = Density(Fraction(random.choice((600, 2500))))
    sheets = tuple(
        replace(sheet(f"full {kind}", sizes[kind], trim=trim), price=price, density=density)
        for kind, price in enumerate(
            Decimal(random.randint(20, 40)) for _ in range(random.randint(1, 2))
        )
    )
    parts = tuple(
        part(
            f"part {number}",
            (random.randint(4, 12) * 10, random.randint(3, 9) * 10),
            random.choice((1, 1, 2)),
            random.choice((Grain.ANY, Grain.LENGTH)),
        )
        for number in range(2)
    )
    store = Store(
        kerf=Fraction(random.choice((1, 4))),
        accuracy=Fraction(random.choice((0, 2))),
        max_cuts=random.choice((2, 3)),
        free_cuts=random.choice((0, 1, 2)),
        cut_price=random.choice((Decimal(0), Decimal("2.50"), Decimal(9))),
        min_piece=Fraction(20),
    )
    return Job("tiny", Units.MM, Saw(Fraction(3)), sheets, parts, (), store=store)


CARS = {
    "one way in": Vehicle(Fraction(165), Fraction(140)),
    "two ways in": Vehicle(Fraction(140), Fraction(130), None, (Fraction(250), Fraction(70))),
    "a load": Vehicle(Fraction(165), Fraction(140), Fraction("0.6")),
}


def divided(job: Job) -> tuple[Division, Group] | None:
    """Return the only group of a job; None where the store need not, or cannot, break it down."""
    try:
        division = divide(job)
    except CannotCutError:
        return None
    (group,) = division.groups
    return None if group.limits is None else (division, group)


@pytest.mark.slow
@pytest.mark.parametrize("car", CARS)
def test_few_panels_beside_every_break_down(car: str) -> None:
    """The bound is at most what the best break-down found by trying costs, and often just that."""
    seen = proven = charged = 0
    for seed in range(24):
        job = replace(tiny_job(seed), vehicle=CARS[car])
        found = divided(job)
        if found is None:
            continue
        division, group = found
        sheets = store_sheets(division, group)
        tariff = tariff_of(division, group)
        nesting = nest(group.problem, seed=0, stop=AfterSteps(200))
        cost, number = _bound(job, group, sheets, nesting, tariff)
        assert group.limits is not None
        limits = replace(group.limits, mark=division.grid.to_int(Fraction(MARK)))
        limits = limits.of_sheet(group.stock[0])
        pieces = {kind: own.sheet for kind, own in sheets.splitters.items()}
        if CARS[car].max_load_kg is not None:
            # In several trips, each with free cuts of its own, all cuts may be free.
            tariff = Tariff(tariff.costs)
        best = EveryBreakDown(group.problem, pieces, limits, division.fence).best(tariff)
        if best is None:
            continue
        seen += 1
        proven += cost == best.cost
        charged += tariff.rate * max(0, best.cuts - tariff.free) > 0
        assert cost <= best.cost
        assert number <= best.cost // min(tariff.costs)
    assert seen >= 12
    assert charged >= 3 or CARS[car].max_load_kg is not None
    assert proven >= 3

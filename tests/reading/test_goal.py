"""What the job says of the worth of set-ups."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.model.job import Goal
from cutlist.telling.understood import describe
from tests.reading.jobs import job_of

BENCH = """\
job: Bench
units: mm
saw: {kerf: 3}
sheets: [{name: full, material: ply, thickness: 18, size: 2440 x 1220, price: 60}]
parts: [{name: top, material: ply, size: 800 x 400}]
"""


def test_cost_first_where_nothing_is_said(tmp_path: Path) -> None:
    """Without the keys the cheapest plan is wanted, and a set-up has no price."""
    job = job_of(BENCH, tmp_path)
    assert (job.goal, job.minutes_per_setup, job.hourly_rate) == (Goal.COST, None, None)
    assert [job.price_of(job.minutes_of(saw)) for saw in job.tools] == [None] * 3
    assert not any("set-up counts" in line for line in describe(job))


def test_price_of_a_setup(tmp_path: Path) -> None:
    """A set-up costs its share of the hour: 1.5 of 60 minutes at 40 are 1.

    Where the job does not say, it is 3 minutes at the fence, 2 at the stop, 5 with the guide
    (common practice): at 60 an hour as much in money.
    """
    job = job_of(f"{BENCH}goal: balanced\nminutes_per_setup: 1.5\nhourly_rate: 40\n", tmp_path)
    assert (job.goal, job.minutes_per_setup) == (Goal.BALANCED, Fraction(3, 2))
    assert [job.price_of(job.minutes_of(saw)) for saw in job.tools] == [Decimal(1)] * 3
    assert "  cost and set-ups weighed against each other, a set-up counts 1.00" in describe(job)
    job = job_of(f"{BENCH}hourly_rate: 60\n", tmp_path)
    assert [job.price_of(job.minutes_of(saw)) for saw in job.tools] == [3, 2, 5]
    told = "a set-up counts 3.00 on the table saw, 2.00 on the sled, 5.00 with the guided saw"
    assert f"  {told}" in describe(job, 200)


def test_setups_first(tmp_path: Path) -> None:
    """The goal is told in the summary."""
    job = job_of(f"{BENCH}goal: setups\n", tmp_path)
    assert job.goal is Goal.SETUPS
    assert "  fewest set-ups first, then the cost" in describe(job)


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("goal: cheapest", "this is none of cost, setups, balanced"),
        ("minutes_per_setup: soon", "this is not a number of minutes"),
        ("hourly_rate: -5", "money cannot be negative here"),
    ],
)
def test_slips_are_told(line: str, message: str, tmp_path: Path) -> None:
    """A wrong value is reported with its key."""
    with pytest.raises(JobFileError) as caught:
        job_of(f"{BENCH}{line}\n", tmp_path)
    (fault,) = caught.value.faults
    assert (fault.path, fault.message) == (line.split(":")[0], message)
    assert fault.line == 6

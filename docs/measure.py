"""Measure the figures of the README: how long a run takes, and how good the plans are.

Usage, from the project's folder::

    python docs/measure.py times [--runs 5]
    python docs/measure.py plans [--jobs 100] [--steps 30000]
    python docs/measure.py cars [--jobs 100] [--steps 100000]

``times`` starts the command anew for every run; it tells the best and the middle one, and the least
processor time, which other work on the machine disturbs less. ``plans`` plans random jobs of the
tests by a fixed number of search steps, so that its figures do not depend on the machine's speed.
``cars`` does so with jobs whose sheets the store breaks down for a small car, and holds their cost
to that of the same jobs without store and car.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

HOME = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(HOME))

import cutlist  # noqa: E402
from cutlist.errors import CannotCutError  # noqa: E402
from tests.random_jobs import random_job, with_small_car  # noqa: E402

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.model.job import Job
    from cutlist.model.plan import Plan

SAMPLES = sorted((HOME / "sample_projects").glob("*.yaml"))


@dataclass(frozen=True, slots=True)
class Taken:
    """Seconds of one run: on the wall clock, and of the processors, all threads together."""

    wall: float
    processor: float


def run(words: list[str], cache: str = "") -> Taken:
    """Run the command in a new process and time it."""
    environment = os.environ | ({"NUMBA_CACHE_DIR": cache} if cache else {})
    started, before = time.perf_counter(), processor_seconds()
    subprocess.run(
        [sys.executable, "-m", "cutlist", *words],
        cwd=HOME,
        env=environment,
        check=True,
        stdout=subprocess.DEVNULL,
    )
    return Taken(time.perf_counter() - started, processor_seconds() - before)


def processor_seconds() -> float:
    """Return the processor time of all finished child processes."""
    times = os.times()
    return times.children_user + times.children_system


def tell(what: str, runs: list[Taken]) -> None:
    """Print the best and the middle one of several runs."""
    walls = [taken.wall for taken in runs]
    processor = min(taken.processor for taken in runs)
    print(
        f"{what:<45} best {min(walls):6.2f} s  middle {statistics.median(walls):6.2f} s"
        f"  processor {processor:6.2f} s  of {len(runs)} runs",
        flush=True,
    )


def measure_times(number: int) -> None:
    """Time the help, every sample without and with the usual budget, and a first run."""
    run(["--help"])
    tell("cutlist --help", [run(["--help"]) for _ in range(number)])
    for sample in SAMPLES:
        panels = sum(part.qty for part in cutlist.read_job(sample).parts)
        with tempfile.TemporaryDirectory() as out:
            words = ["plan", str(sample), "--out", out, "--quiet"]
            run([*words, "--seconds", "0"])
            name = f"{sample.stem}, {panels} panels"
            for budget in ("0", "5"):
                times = [run([*words, "--seconds", budget]) for _ in range(number)]
                tell(f"{name}, --seconds {budget}", times)
    with tempfile.TemporaryDirectory() as out:
        words = ["plan", str(SAMPLES[0]), "--out", out, "--quiet", "--seconds", "0"]
        first = []
        for _ in range(max(1, number // 2)):
            with tempfile.TemporaryDirectory() as cache:
                first.append(run(words, cache))
        tell(f"{SAMPLES[0].stem}, --seconds 0, empty cache", first)


def sheet_by_sheet(plan: Plan) -> int:
    """Count the set-ups if the same cuts were made one workpiece after the other."""
    origin = {workpiece.piece: workpiece.piece for workpiece in plan.workpieces}
    made: dict[str, list[object]] = {name: [] for name in origin}
    one_cut = {saw.name for saw in plan.job.tools if saw.serves_one_cut}
    for setting in plan.settings:
        for cut in setting.cuts:
            home = origin[cut.piece]
            # A guide that is laid anew for every cut is set as often as it cuts.
            again = cut.number if setting.tool in one_cut else 0
            made[home].append((setting.tool, setting.distance, again))
            for piece in filter(None, (cut.kept, cut.rest)):
                origin[piece.name] = home
    one_after_the_other = (setup for row in made.values() for setup in row)
    return sum(1 for _ in groupby(one_after_the_other))


def planned(jobs: int, steps: int) -> Iterator[tuple[Job, Plan]]:
    """Plan random jobs; those whose stock does not suffice are told and left out."""
    for seed in range(jobs):
        job = random_job(seed)
        try:
            yield job, cutlist.plan(job, seconds=None, steps=steps)
        except CannotCutError as error:
            print(f"job {seed} cannot be cut: {error}")


def measure_plans(jobs: int, steps: int) -> None:
    """Sum up sheets, cost and set-ups of random jobs beside what they can be held to."""
    started = time.perf_counter()
    count = panels = sheets = least_sheets = cheapest = proven = bounded = 0
    setups = sizes = apart = 0
    cost = least_cost = Decimal(0)
    worst = 0.0
    for job, plan in planned(jobs, steps):
        count += 1
        panels += plan.totals.parts
        sheets += plan.totals.sheets
        least_sheets += plan.bounds.sheets
        cost += plan.totals.cost
        least_cost += plan.bounds.cost
        cheapest += plan.bounds.cost_proven
        proven += plan.bounds.setups_proven
        bounded += plan.bounds.setups > 1
        setups += plan.totals.setups
        own = len({part.length for part in job.parts}) + len({part.width for part in job.parts})
        sizes += own
        apart += sheet_by_sheet(plan)
        worst = max(worst, plan.totals.setups / own)
    print(f"{count} jobs, {panels} panels, {steps} steps each")
    print(f"sheets   {sheets}, at least {least_sheets} are needed")
    above = 100 * (cost / least_cost - 1)
    print(
        f"cost     {cost}, {above:.1f} % above the bound; proven cheapest in {cheapest} of {count}"
    )
    print(f"set-ups  {setups} for {sizes} distinct widths and lengths, {setups / sizes:.3f} each")
    print(f"         at worst {worst:.2f} in one job")
    print(f"         {apart} if the same cuts were made sheet by sheet")
    print(f"         proven fewest for their layouts in {proven} of {count}, bounded in {bounded}")
    print(f"time     {time.perf_counter() - started:.0f} s")


def measure_cars(jobs: int, steps: int) -> None:
    """Sum up what it costs that sheets have to be broken down for a small car."""
    ratios = []
    cuts = settings = sheets = most_sheets = 0
    for seed in range(jobs):
        whole = random_job(seed)
        base, plan = (
            cutlist.plan(job, seed=seed, seconds=None, steps=steps)
            for job in (whole, with_small_car(whole, seed))
        )
        ratios.append(float(plan.totals.cost / base.totals.cost))
        store = [setting for setting in plan.settings if setting.place == "store"]
        cuts += sum(len(setting.cuts) for setting in store)
        settings += len(store)
        sheets += plan.totals.sheets
        most_sheets += base.totals.sheets
    print(f"{jobs} jobs, {steps} steps each, {sheets} sheets, {most_sheets} without a car")
    print(f"cost     {statistics.mean(ratios):.4f} of the plan without break-down, on average")
    least_one = statistics.mean(max(1.0, ratio) for ratio in ratios)
    print(f"         {least_one:.4f} with what is cheaper broken down counted as 1")
    near = sum(ratio <= 1.05 for ratio in ratios)
    print(f"         at most 1.05 in {near}; the worst {max(ratios):.2f}")
    print(f"store    {cuts} cuts in {settings} settings")


def main() -> None:
    """Read the command line and measure."""
    parser = argparse.ArgumentParser(description="Measure the figures of the README.")
    commands = parser.add_subparsers(dest="what", required=True)
    times = commands.add_parser("times", help="how long a run takes")
    times.add_argument("--runs", type=int, default=5)
    plans = commands.add_parser("plans", help="how good the plans of random jobs are")
    plans.add_argument("--jobs", type=int, default=100)
    plans.add_argument("--steps", type=int, default=30_000)
    cars = commands.add_parser("cars", help="what it costs to get sheets into a small car")
    cars.add_argument("--jobs", type=int, default=100)
    cars.add_argument("--steps", type=int, default=100_000)
    asked = parser.parse_args()
    if asked.what == "times":
        measure_times(asked.runs)
    elif asked.what == "cars":
        measure_cars(asked.jobs, asked.steps)
    else:
        measure_plans(asked.jobs, asked.steps)


if __name__ == "__main__":
    main()

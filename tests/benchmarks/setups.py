"""Set-ups of the random cabinet jobs: the tool's plans beside what a shop does without them.

Usage, from the project's folder::

    python -m tests.benchmarks.setups --steps 60000
    python -m tests.benchmarks.setups --seconds 5 --trim --rows

What is counted, and how, is told in ``docs/benchmark.md``. Ends with status 1 where a plan costs
more than the packing alone with the same budget, or needs fewer set-ups than its bound.
"""

from __future__ import annotations

import argparse
import sys
import time
from concurrent.futures import ProcessPoolExecutor
from dataclasses import astuple, dataclass, fields
from datetime import UTC, datetime
from decimal import Decimal
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.model.plan import Purpose
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSeconds, AfterSteps, FirstOf
from cutlist.planning.dividing.groups import divide
from cutlist.planning.kernels import prepare_kernels
from cutlist.planning.make import make_plan
from cutlist.sequencing.sequence import StockLayout, sequence
from tests.benchmarks.cabinets import JOBS, cabinet_job, dimensions, with_short_fence, with_trim
from tests.benchmarks.tables import commit, record

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from cutlist.model.job import Job


HEAD = (
    "date", "commit", "jobs", "trim", "steps", "seconds", "seed", "widths + lengths",
    "sheet by sheet", "first layout", "ours", "fence / stop / guide", "ours / widths + lengths",
    "guided a sheet", "unsafe", "skims", "bound", "proven", "sheets / packing", "dearer",
    "s a plan", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Asked:
    """One job to measure: its number, whether its sheets have a trim, seconds, steps, seed."""

    number: int
    is_trimmed: bool
    seconds: float | None
    steps: int | None
    seed: int


@dataclass(frozen=True, slots=True)
class Counted:
    """The figures of one job, or their sums.

    Parameters
    ----------
    panels, dimensions
        Panels, and distinct widths plus distinct lengths of the parts.
    apart
        Settings with the first layout cut one sheet after the other, each in its best order.
    first
        Settings of the best order found of the first layout, all sheets together.
    ours, fence, stop, guide
        Set-ups of the plan, and those of each device.
    unsafe, skims
        Cuts that no device may make, and those that do nothing but clean an edge.
    bound, proven
        The bound that the plan reports, and whether it is met.
    sheets, plain_sheets
        Bought by the plan, and by packing alone with the same budget.
    dearer
        1 where the plan costs more than packing alone.
    cuts
        Of the plan.
    kept
        Pieces of the plan that are worth keeping.
    seconds
        Of the plan.
    """

    panels: int = 0
    dimensions: int = 0
    apart: int = 0
    first: int = 0
    ours: int = 0
    fence: int = 0
    stop: int = 0
    guide: int = 0
    unsafe: int = 0
    skims: int = 0
    bound: int = 0
    proven: int = 0
    sheets: int = 0
    plain_sheets: int = 0
    dearer: int = 0
    cuts: int = 0
    kept: int = 0
    seconds: float = 0.0


def count(asked: Asked) -> Counted:
    """Plan one job and count; a plain function, so that processes can be sent here."""
    job = with_short_fence(cabinet_job(asked.number))
    if asked.is_trimmed:
        job = with_trim(job)
    apart, first, plain_sheets, plain_cost = _without_choice(job, asked)
    started = time.perf_counter()
    allowance = Allowance(asked.seconds, asked.steps)
    plan = make_plan(job, seed=asked.seed, allowance=allowance)
    seconds = time.perf_counter() - started
    return Counted(
        panels=plan.totals.parts,
        dimensions=dimensions(job),
        apart=apart,
        first=first,
        ours=plan.totals.setups,
        **{device.value: count for device, count in plan.totals.setups_by_device},
        unsafe=sum(bool(cut.hazards) for setting in plan.settings for cut in setting.cuts),
        skims=sum(
            cut.purpose is Purpose.CLEAN_UP for setting in plan.settings for cut in setting.cuts
        ),
        bound=plan.bounds.setups,
        proven=int(plan.bounds.setups_proven),
        sheets=plan.totals.sheets,
        plain_sheets=plain_sheets,
        dearer=int(plan.totals.cost > plain_cost),
        cuts=plan.totals.cuts,
        kept=sum(leftover.keep for leftover in plan.leftovers),
        seconds=seconds,
    )


def _without_choice(job: Job, asked: Asked) -> tuple[int, int, int, Decimal]:
    """Return settings sheet by sheet and in the best order, sheets and cost of packing alone."""
    division = divide(job)
    layouts: list[StockLayout] = []
    sheets = cost = 0
    panels = [sum(item.qty for item in group.problem.items) for group in division.groups]
    for group, number in zip(division.groups, panels, strict=True):
        share = number / sum(panels)
        limits: list[AfterSeconds | AfterSteps] = []
        if asked.seconds is not None:
            limits.append(AfterSeconds(share * asked.seconds))
        if asked.steps is not None:
            limits.append(AfterSteps(max(1, int(share * asked.steps))))
        found = nest(group.problem, seed=asked.seed, stop=FirstOf(*limits))
        sheets, cost = sheets + found.sheets, cost + found.cost
        for layout in found.layouts:
            layouts.append(StockLayout(group.in_job(layout), group.trims(layout.stock)))
    assert division.money is not None
    together = sequence(layouts, division.fence)
    one_by_one = [
        (setting.tool, setting.distance)
        for entry in layouts
        for setting in sequence([_single(entry)], division.fence).settings * entry.layout.copies
    ]
    # A setting that ends one sheet serves the next, too; a guide is laid anew.
    tools = division.fence.bench
    apart = sum(
        len(list(same)) if tools[tool].serves_one_cut else 1
        for (tool, _), same in groupby(one_by_one)
    )
    return apart, len(together.settings), sheets, cost * division.money


def _single(entry: StockLayout) -> StockLayout:
    """Return one copy of a layout."""
    layout = entry.layout
    return StockLayout(type(layout)(layout.stock, layout.root, 1), entry.trims)


def total(counted: Iterable[Counted]) -> Counted:
    """Return the sums of all figures."""
    return Counted(*(sum(column) for column in zip(*map(astuple, counted), strict=True)))


def text(counted: Sequence[Counted], *, rows: bool) -> str:
    """Lay the figures out for a terminal: one line a job if asked for, then the whole set."""
    names = ["job", *(field.name for field in fields(Counted))]
    lines: list[tuple[str, Counted]] = [("all", total(counted))]
    if rows:
        lines = [*((str(number), line) for number, line in enumerate(counted)), *lines]
    table = [names]
    for name, line in lines:
        cells = [f"{v:.2f}" if isinstance(v, float) else str(v) for v in astuple(line)]
        table.append([name, *cells])
    widths = [max(len(row[column]) for row in table) for column in range(len(names))]
    laid = [
        "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True))
        for row in table
    ]
    whole = lines[-1][1]
    worst = max(line.ours / line.dimensions for line in counted)
    laid += [
        "",
        f"ours to widths + lengths     {whole.ours / whole.dimensions:.3f} (worst {worst:.2f})",
        f"guided cuts a sheet          {whole.guide / whole.sheets:.2f}",
        f"ours to sheet by sheet       {whole.ours / whole.apart:.3f}",
        f"ours to first layout's best  {whole.ours / whole.first:.3f}",
        f"share proven                 {whole.proven / len(counted):.2f}",
        f"seconds a plan               {whole.seconds / len(counted):.2f}"
        f" (longest {max(line.seconds for line in counted):.2f})",
    ]
    return "\n".join(laid) + "\n"


def row(counted: Sequence[Counted], options: argparse.Namespace) -> list[str]:
    """Return the whole set as a row for the record."""
    whole = total(counted)
    return [
        str(datetime.now(tz=UTC).date()),
        commit(),
        str(len(counted)),
        "yes" if options.trim else "no",
        "-" if options.steps is None else str(options.steps),
        "-" if options.seconds is None else str(options.seconds),
        str(options.seed),
        str(whole.dimensions),
        str(whole.apart),
        str(whole.first),
        str(whole.ours),
        f"{whole.fence} / {whole.stop} / {whole.guide}",
        f"{whole.ours / whole.dimensions:.3f}",
        f"{whole.guide / whole.sheets:.2f}",
        str(whole.unsafe),
        str(whole.skims),
        str(whole.bound),
        str(whole.proven),
        f"{whole.sheets} / {whole.plain_sheets}",
        str(whole.dearer),
        f"{whole.seconds / len(counted):.2f}",
        options.note,
    ]


def options_of(words: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(description="Count the set-ups of random cabinet jobs.")
    parser.add_argument("--seconds", type=float, help="limit for a job")
    parser.add_argument("--steps", type=int, help="limit for a job")
    parser.add_argument("--limit", type=int, default=JOBS, help="the first so many jobs")
    parser.add_argument("--trim", action="store_true", help="clean 1/4 in or 6 mm off every edge")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--jobs", type=int, default=1, help="processes beside each other")
    parser.add_argument("--rows", action="store_true", help="print every job")
    parser.add_argument("--record", type=Path, help="append the totals to this file")
    parser.add_argument("--note", default="", help="last column of the recorded row")
    options = parser.parse_args(words)
    if options.seconds is None and options.steps is None:
        options.seconds = 5.0
    return options


def main(words: Sequence[str] | None = None) -> int:
    """Measure and print; return the exit status."""
    options = options_of(words)
    asked = [
        Asked(number, options.trim, options.seconds, options.steps, options.seed)
        for number in range(options.limit)
    ]
    prepare_kernels()
    if options.jobs > 1:
        with ProcessPoolExecutor(options.jobs) as pool:
            counted = list(pool.map(count, asked))
    else:
        counted = [count(one) for one in asked]
    sys.stdout.write(text(counted, rows=options.rows))
    if options.record:
        record(options.record, row(counted, options), HEAD)
    wrong = [number for number, line in enumerate(counted) if line.dearer or line.ours < line.bound]
    if wrong:
        sys.stderr.write(f"dearer than packing alone, or below the bound: jobs {wrong}\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())

"""Run the search on benchmark instances and compare; ``docs/benchmark.md`` is the protocol.

``python -m tests.benchmarks.run --set class --turned --seconds 1 --limit 2``
"""

from __future__ import annotations

import argparse
import platform
import sys
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from multiprocessing import get_context
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist import __version__
from tests.benchmarks import figures, tables
from tests.benchmarks.area import area_bound
from tests.benchmarks.instances import first_of_each, generate, load
from tests.benchmarks.measure import Budget, bound_instance, measure_instance, prepare_kernels
from tests.benchmarks.rectangles import DEFAULT_CACHE, Library

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.benchmarks.instances import Instance

SETS = ("class", "furniture", "cutting_stock", "boards", "knapsack")


def arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.run", description=__doc__)
    parser.add_argument("--folder", type=Path, help="folder with the published sets")
    parser.add_argument("--set", dest="name", choices=SETS, default="class")
    parser.add_argument("--turned", action="store_true", help="parts may turn")
    parser.add_argument("--seconds", type=float, help="limit for an instance, in processor time")
    parser.add_argument("--steps", type=int, help="limit for an instance, in search steps")
    parser.add_argument(
        "--until-published", action="store_true", help="end an instance at its published figure"
    )
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--limit", type=int, help="so many instances of each group")
    parser.add_argument("--only", default="", help="groups whose name starts so")
    parser.add_argument("--jobs", type=int, default=1, help="processes, each on other instances")
    parser.add_argument("--bounds", type=float, metavar="SECONDS", help="strong bound as well")
    parser.add_argument("--no-rectpack", action="store_true")
    parser.add_argument("--each", action="store_true", help="a row for each instance, for pasting")
    parser.add_argument("--cache", type=Path, default=DEFAULT_CACHE, help="rectpack's answers")
    parser.add_argument("--record", type=Path, help="append a row to this file of results")
    parser.add_argument("--note", default="", help="last column of that row")
    options = parser.parse_args(argv)
    if options.seconds is None and options.steps is None:
        options.seconds = 1.0
    if options.folder is None and options.name != "class":
        parser.error(f"--set {options.name} needs --folder: its instances are not generated")
    return options


def chosen(options: argparse.Namespace) -> list[Instance]:
    """Return the instances asked for."""
    if options.folder is None:
        instances = generate(turned=options.turned)
    else:
        instances = load(options.folder, options.name, turned=options.turned)
    instances = [i for i in instances if i.group.startswith(options.only)]
    return instances if options.limit is None else first_of_each(instances, options.limit)


def run(options: argparse.Namespace) -> list[tables.Result]:
    """Measure all instances."""
    instances = chosen(options)
    budget = Budget(options.seconds, options.steps, options.seed, options.until_published)
    with ProcessPoolExecutor(options.jobs, get_context("spawn"), prepare_kernels) as pool:
        measured = list(pool.map(measure_instance, [(i, budget) for i in instances]))
        strong: list[int | None] = [None] * len(instances)
        if options.bounds is not None:
            strong = list(pool.map(bound_instance, [(i, options.bounds) for i in instances]))
    library = Library(options.cache)
    results = []
    for instance, found, proven in zip(instances, measured, strong, strict=True):
        area = single = greedy = None
        if instance.values is None:
            area = area_bound(instance.problem)
            if not options.no_rectpack:
                single = library.cost(instance.problem)
                if len(instance.problem.bins) > 1:
                    greedy = library.cost(instance.problem, greedy=True)
        results.append(tables.Result(instance, found, area, proven, single, greedy))
    library.save()
    return results


def beyond_a_bound(result: tables.Result) -> bool:
    """Tell whether a plan is better than anything proven allows, which would be a bug somewhere."""
    found, published = result.measured.result, result.instance.published
    if found is None:
        return False
    if result.instance.values is not None:
        return published is not None and found > published
    return found < max(
        result.area or 0, result.measured.bound or 0, result.strong or 0, published or 0
    )


def _columns(options: argparse.Namespace) -> tuple[str, ...]:
    """Return the columns of the printed table."""
    if options.name == "knapsack":
        return tables.EACH_VALUE if options.each else tables.VALUES
    if options.each:
        return tables.EACH_SIZE if options.name == "boards" else tables.EACH_COST
    return tables.COSTS


def recorded_row(options: argparse.Namespace, line: tables.Line) -> dict[str, str]:
    """Return the row for the record of versions."""
    source = "generated" if options.folder is None else "published"
    scope = f"{options.name} {source}" + (f" {options.only}*" if options.only else "")
    if options.limit is not None:
        scope += f", first {options.limit} of each"
    notes = ["ends at the published figure"] if options.until_published else []
    figure = tables.figure
    row = {
        "date": datetime.now(UTC).date().isoformat(),
        "version": __version__,
        "commit": tables.commit(),
        "set": scope,
        "parts": "turned" if options.turned else "fixed",
        "seed": str(options.seed),
        "steps": figure(options.steps),
        "seconds": figure(options.seconds),
        "inst": str(line.instances),
    }
    if options.name == "knapsack":
        row |= {"value": figure(line.result), "published": figure(line.published)}
    else:
        row |= {
            "cost": figure(line.result),
            "bound": figure(line.reported),
            "strong": figure(line.strong),
            "published": figure(line.published),
        }
    row["hit"] = f"{line.hit}/{line.proven}"
    if options.name != "knapsack":
        row["rectpack"] = figure(line.library)
    row["total s"] = f"{line.total / max(1, line.instances):.2f}"
    row["note"] = "; ".join([*notes, *([options.note] if options.note else [])])
    return row


def main(argv: Sequence[str] | None = None) -> int:
    """Run and print; 1 where a plan is better than what is proven, which would be a bug."""
    options = arguments(argv)
    results = run(options)
    table = tables.lines(results, each=options.each)
    total = table[-1]
    write = sys.stdout.write
    write(
        f"{options.name}, {'turned' if options.turned else 'fixed'}, seed {options.seed}, "
        f"steps {options.steps}, seconds {options.seconds}, jobs {options.jobs}"
        f"{', ends at the published figure' if options.until_published else ''}\n"
        f"commit {tables.commit()}, Python {platform.python_version()}, {platform.machine()}\n"
        f"processor time {total.total:.0f} s, on the wall clock {total.wall:.0f} s\n"
    )
    write((tables.markdown if options.each else tables.text)(table, _columns(options)))
    whole = options.folder is not None and options.limit is None and not options.only
    if options.name == "class" and whole and not options.turned:
        for known in figures.TOTALS_FIXED:
            limit = "" if known.seconds is None else f", {known.seconds:g} s an instance"
            write(f"published: {known.sheets} ({known.source}{limit})\n")
    if options.record is not None:
        row = recorded_row(options, total)
        tables.record(options.record, list(row.values()), list(row))
    wrong = [result.instance.name for result in results if beyond_a_bound(result)]
    if wrong:
        write(f"BEYOND A PROVEN BOUND: {', '.join(wrong)}\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

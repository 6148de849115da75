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
from tests.benchmarks.measure import Budget, bound_instance, measure_instance, warm_up
from tests.benchmarks.rectangles import DEFAULT_CACHE, Library

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.benchmarks.instances import Instance

SETS = ("class", "furniture", "cutting_stock", "boards")


def arguments(argv: Sequence[str] | None) -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.run", description=__doc__)
    parser.add_argument("--folder", type=Path, help="folder with the published sets")
    parser.add_argument("--set", dest="name", choices=SETS, default="class")
    parser.add_argument("--turned", action="store_true", help="parts may turn")
    parser.add_argument("--seconds", type=float, help="limit for an instance")
    parser.add_argument("--steps", type=int, help="limit for an instance, in search steps")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--limit", type=int, help="so many instances of each group")
    parser.add_argument("--only", default="", help="groups whose name starts so")
    parser.add_argument("--jobs", type=int, default=1, help="processes, each on other instances")
    parser.add_argument("--bounds", type=float, metavar="SECONDS", help="strong bound as well")
    parser.add_argument("--no-rectpack", action="store_true")
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
    budget = Budget(options.seconds, options.steps, options.seed)
    with ProcessPoolExecutor(options.jobs, get_context("spawn"), warm_up) as pool:
        measured = list(pool.map(measure_instance, [(i, budget) for i in instances]))
        strong: list[int | None] = [None] * len(instances)
        if options.bounds is not None:
            strong = list(pool.map(bound_instance, [(i, options.bounds) for i in instances]))
    library = Library(options.cache)
    results = []
    for instance, found, proven in zip(instances, measured, strong, strict=True):
        single = greedy = None
        if not options.no_rectpack:
            single = library.cost(instance.problem)
            if len(instance.problem.bins) > 1:
                greedy = library.cost(instance.problem, greedy=True)
        area = area_bound(instance.problem)
        results.append(tables.Result(instance, found, area, proven, single, greedy))
    library.save()
    return results


def below_a_bound(result: tables.Result) -> bool:
    """Tell whether a plan costs less than anything proven, which would be a bug somewhere."""
    cost = result.measured.cost
    proven = [result.area, result.measured.bound, result.strong or 0, result.instance.lower or 0]
    return cost is not None and cost < max(proven)


def _row(options: argparse.Namespace, line: tables.Line) -> list[str]:
    """Return the row for the record of versions."""
    source = "generated" if options.folder is None else "published"
    scope = f"{options.name} {source}" + (f" {options.only}*" if options.only else "")
    if options.limit is not None:
        scope += f", first {options.limit} of each"

    def figure(value: object) -> str:
        return "-" if value is None else str(value)

    return [
        datetime.now(UTC).date().isoformat(),
        __version__,
        tables.commit(),
        scope,
        "turned" if options.turned else "fixed",
        str(options.seed),
        figure(options.steps),
        figure(options.seconds),
        str(line.instances),
        figure(line.cost),
        str(line.reported),
        figure(line.strong),
        figure(line.lower),
        f"{line.hit}/{line.proven}",
        figure(line.library),
        f"{line.total / max(1, line.instances):.2f}",
        options.note,
    ]


def main(argv: Sequence[str] | None = None) -> int:
    """Run and print; 1 where a plan costs less than what is proven, which would be a bug."""
    options = arguments(argv)
    results = run(options)
    table = tables.lines(results)
    write = sys.stdout.write
    write(
        f"{options.name}, {'turned' if options.turned else 'fixed'}, seed {options.seed}, "
        f"steps {options.steps}, seconds {options.seconds}, jobs {options.jobs}\n"
        f"commit {tables.commit()}, Python {platform.python_version()}, {platform.machine()}\n"
    )
    write(tables.text(table))
    whole = options.folder is not None and options.limit is None and not options.only
    if options.name == "class" and whole and not options.turned:
        for total in figures.TOTALS_FIXED:
            limit = "" if total.seconds is None else f", {total.seconds:g} s an instance"
            write(f"published: {total.sheets} ({total.source}{limit})\n")
    if options.record is not None:
        tables.record(options.record, _row(options, table[-1]))
    wrong = [result.instance.name for result in results if below_a_bound(result)]
    if wrong:
        write(f"BELOW A PROVEN BOUND: {', '.join(wrong)}\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

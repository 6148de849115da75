"""Hold the bounds to every published optimum, and to the published strength of simple bounds.

``python -m tests.benchmarks.check_bounds --folder DIR --rounds 200`` ends with 1 where a bound is
above a proven optimum, or a total of the quick bound is below the typed one.
"""

from __future__ import annotations

import argparse
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.nesting.bounds import improved_bound, lower_bound
from tests.benchmarks import figures
from tests.benchmarks.area import area_bound
from tests.benchmarks.instances import load
from tests.benchmarks.measure import prepare_kernels

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.benchmarks.instances import Instance


def check(instances: Sequence[Instance], options: argparse.Namespace, title: str) -> list[str]:
    """Print the totals of one set and return what is wrong."""
    wrong = []
    area = quick = strong = lower = closed = met = 0
    spent = [0.0, 0.0]
    for instance in instances:
        started = time.perf_counter()
        first = lower_bound(instance.problem).cost
        spent[0] += time.perf_counter() - started
        second = first
        if options.rounds > 0:
            started = time.perf_counter()
            found = improved_bound(instance.problem, options.seconds, rounds=options.rounds)
            second = found.cost
            spent[1] += time.perf_counter() - started
        area += area_bound(instance.problem)
        quick += first
        strong += second
        if instance.published is not None:
            lower += instance.published
        if instance.proven and instance.published is not None:
            closed += 1
            met += second == instance.published
            if max(first, second) > instance.published:
                wrong.append(f"{title} {instance.name}: {first}, {second} > {instance.published}")
    many = max(1, len(instances))
    sys.stdout.write(
        f"{title}: {len(instances)} instances, area {area}, quick {quick} "
        f"({1000 * spent[0] / many:.1f} ms), strong {strong} ({spent[1] / many:.2f} s), "
        f"published {lower}; strong meets {met} of {closed} proven optima\n"
    )
    sys.stdout.flush()
    if title.startswith("class"):
        typed = sum(
            (cell.turned if "turned" in title else cell.fixed).functions for cell in figures.CELLS
        )
        if quick < typed:
            wrong.append(f"{title}: quick total {quick} is below {typed}")
    return wrong


def main(argv: Sequence[str] | None = None) -> int:
    """Check all sets of a folder."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks.check_bounds", description=__doc__
    )
    parser.add_argument("--folder", type=Path, required=True)
    parser.add_argument("--rounds", type=int, default=200, help="of column generation; 0: none")
    parser.add_argument("--seconds", type=float, help="limit for an instance")
    options = parser.parse_args(argv)
    prepare_kernels()
    wrong = []
    for name in ("class", "furniture", "cutting_stock", "boards"):
        for turned in (False, True):
            title = f"{name} {'turned' if turned else 'fixed'}"
            instances = load(options.folder, name, turned=turned)
            wrong += check(instances, options, title)
    for line in wrong:
        sys.stdout.write(f"WRONG {line}\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())

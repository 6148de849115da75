"""Time, memory and gap of the search on large jobs: 2,000 and 10,000 panels, few or many parts.

``python -m tests.benchmarks.scale --panels 2000 --seconds 30``
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from random import Random
from typing import TYPE_CHECKING

from cutlist.nesting.bounds import lower_bound
from cutlist.nesting.problem import Bin, Item, Problem
from tests.benchmarks.area import area_bound
from tests.benchmarks.measure import Budget, measure, prepare_kernels
from tests.benchmarks.tables import commit

if TYPE_CHECKING:
    from collections.abc import Sequence


def shop_order(panels: int, parts: int, seed: int, *, turned: bool) -> Problem:
    """Draw an order of cabinet-like parts, in mm: sheets of 2440 × 1220, a kerf of 3.

    Parameters
    ----------
    panels
        Number of panels in all, spread evenly over the parts.
    parts
        Number of different parts; as many as panels: no two are drawn together.
    seed
        Of the drawing.
    turned
        Whether parts may turn.
    """
    random = Random(seed)
    items = []
    for number in range(parts):
        length = 5 * random.randint(30, 240)
        width = 5 * random.randint(16, 120)
        quantity = panels // parts + (1 if number < panels % parts else 0)
        items.append(Item(length, width, quantity, turned))
    return Problem(tuple(items), (Bin(2440, 1220, 1),), 3)


def peak_megabytes() -> float:
    """Return the most memory that this process has had, in MB of 2**20 bytes."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main(argv: Sequence[str] | None = None) -> int:
    """Run one order and print what it took."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.scale", description=__doc__)
    parser.add_argument("--panels", type=int, default=2000)
    parser.add_argument("--parts", type=int, help="default: a twentieth of the panels")
    parser.add_argument("--seconds", type=float, default=30.0, help="of processor time")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--turned", action="store_true")
    options = parser.parse_args(argv)
    parts = options.parts or max(1, options.panels // 20)
    problem = shop_order(options.panels, parts, options.seed, turned=options.turned)
    write = sys.stdout.write
    compiling = prepare_kernels()
    before = peak_megabytes()
    started = time.perf_counter()
    quick = lower_bound(problem)
    bounding = time.perf_counter() - started
    found = measure(problem, Budget(options.seconds, None, options.seed))
    area = area_bound(problem)
    gap = "-" if found.result is None else f"{100 * (found.result - area) / area:.2f} %"
    write(
        f"panels {options.panels}, parts {parts}, turned {options.turned}, seed {options.seed}, "
        f"commit {commit()}\n"
        f"kernels ready after {compiling:.1f} s\n"
        f"quick bound {quick.cost} in {bounding:.3f} s, area bound {area}\n"
        f"sheets {found.result} {found.failure}, above the area bound by {gap}\n"
        f"processor time: first plan {found.first:.2f} s, best {found.best:.2f} s, "
        f"whole run {found.total:.2f} s; on the wall clock {found.wall:.2f} s; "
        f"steps {found.steps}\n"
        f"peak memory {peak_megabytes():.0f} MB (after the kernels were ready: {before:.0f} MB)\n"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())

"""Results as plain tables: per group of instances, and a row for the record of versions."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from tests.benchmarks.instances import Instance
    from tests.benchmarks.measure import Measured


@dataclass(slots=True)
class Line:
    """Sums over a group of instances; a figure is None once one of its instances lacks it."""

    group: str
    instances: int = 0
    cost: int | None = 0
    area: int = 0
    reported: int = 0
    strong: int | None = 0
    lower: int | None = 0
    proven: int = 0
    hit: int = 0
    library: int | None = 0
    greedy: int | None = 0
    first: float = 0.0
    best: float = 0.0
    total: float = 0.0
    failures: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Result:
    """Everything known of one instance after the run; None: not asked for, or not there."""

    instance: Instance
    measured: Measured
    area: int
    strong: int | None
    library: int | None
    greedy: int | None


def _plus(one: int | None, other: int | None) -> int | None:
    """Add, None meaning unknown."""
    return None if one is None or other is None else one + other


def lines(results: Sequence[Result]) -> list[Line]:
    """Sum the results per group, and over all."""
    groups: dict[str, Line] = {}
    everything = Line("all")
    for result in results:
        group = result.instance.group
        line = groups.setdefault(group, Line(group))
        for target in (line, everything):
            _add(target, result)
    return [*groups.values(), everything]


def _add(line: Line, result: Result) -> None:
    """Add one instance to a line."""
    instance, measured = result.instance, result.measured
    line.instances += 1
    line.cost = _plus(line.cost, measured.cost)
    line.area += result.area
    line.reported += measured.bound
    line.strong = _plus(line.strong, result.strong)
    line.lower = _plus(line.lower, instance.lower)
    if instance.proven:
        line.proven += 1
        line.hit += measured.cost == instance.lower
    line.library = _plus(line.library, result.library)
    line.greedy = _plus(line.greedy, result.greedy)
    line.first = max(line.first, measured.first)
    line.best += measured.best
    line.total += measured.total
    if measured.failure:
        line.failures.append(f"{instance.name}: {measured.failure}")


HEADER = (
    "group", "inst", "cost", "area", "bound", "strong", "published", "proven", "hit", "rectpack",
    "greedy", "first s", "best s", "total s",
)  # fmt: skip


def text(table: Sequence[Line]) -> str:
    """Lay a table out for a terminal.

    ``first`` is the longest time to a first plan; ``best`` and ``total`` are means.
    """
    rows = [HEADER, *(_cells(line) for line in table)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADER))]
    laid = [
        "  ".join(
            cell.ljust(width) if column == 0 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    ]
    failed = [f"no plan: {failure}" for failure in table[-1].failures]
    return "\n".join([*laid, *failed]) + "\n"


def _cells(line: Line) -> tuple[str, ...]:
    """Return a line as text."""
    many = max(1, line.instances)

    def figure(value: int | None) -> str:
        return "-" if value is None else str(value)

    return (
        line.group,
        str(line.instances),
        figure(line.cost),
        str(line.area),
        str(line.reported),
        figure(line.strong),
        figure(line.lower),
        str(line.proven),
        str(line.hit),
        figure(line.library),
        figure(line.greedy),
        f"{line.first:.3f}",
        f"{line.best / many:.2f}",
        f"{line.total / many:.2f}",
    )


def commit() -> str:
    """Return the short name of the commit that is checked out, with + where files differ."""
    here = Path(__file__).parent

    def git(*words: str) -> str:
        done = subprocess.run(["git", *words], cwd=here, capture_output=True, text=True, check=True)
        return done.stdout.strip()

    try:
        changed = git("status", "--porcelain", "--", "../../cutlist/nesting")
        return git("rev-parse", "--short", "HEAD") + ("+" if changed else "")
    except (OSError, subprocess.CalledProcessError):
        return "unknown"


def record(path: Path, row: Sequence[str]) -> None:
    """Append a row to the record of versions; rows are never changed afterwards."""
    with path.open("a", encoding="utf-8") as file:
        file.write("| " + " | ".join(row) + " |\n")

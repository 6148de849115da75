"""Results as plain tables: per group or instance, and a row for the record of versions."""

from __future__ import annotations

import subprocess
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from tests.benchmarks.instances import Instance
    from tests.benchmarks.measure import Measured


@dataclass(slots=True)
class Line:
    """Sums over a group of instances; a figure is None once one of its instances lacks it."""

    group: str
    instances: int = 0
    result: int | None = 0
    area: int | None = 0
    reported: int | None = 0
    strong: int | None = 0
    published: int | None = 0
    proven: int = 0
    hit: int = 0
    library: int | None = 0
    greedy: int | None = 0
    first: float = 0.0
    best: float = 0.0
    total: float = 0.0
    wall: float = 0.0
    failures: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Result:
    """Everything known of one instance after the run; None: not asked for, or not there."""

    instance: Instance
    measured: Measured
    area: int | None
    strong: int | None
    library: int | None
    greedy: int | None


def _plus(one: int | None, other: int | None) -> int | None:
    """Add, None meaning unknown."""
    return None if one is None or other is None else one + other


def lines(results: Sequence[Result], *, each: bool = False) -> list[Line]:
    """Sum the results per group, or show ``each`` instance, and sum over all."""
    groups: dict[str, Line] = {}
    everything = Line("all")
    for result in results:
        group = result.instance.name if each else result.instance.group
        line = groups.setdefault(group, Line(group))
        for target in (line, everything):
            _add(target, result)
    return [*groups.values(), everything]


def _add(line: Line, result: Result) -> None:
    """Add one instance to a line."""
    instance, measured = result.instance, result.measured
    line.instances += 1
    line.result = _plus(line.result, measured.result)
    line.area = _plus(line.area, result.area)
    line.reported = _plus(line.reported, measured.bound)
    line.strong = _plus(line.strong, result.strong)
    line.published = _plus(line.published, instance.published)
    if instance.proven:
        line.proven += 1
        line.hit += measured.result == instance.published
    line.library = _plus(line.library, result.library)
    line.greedy = _plus(line.greedy, result.greedy)
    line.first = max(line.first, measured.first)
    line.best += measured.best
    line.total += measured.total
    line.wall += measured.wall
    if measured.failure:
        line.failures.append(f"{instance.name}: {measured.failure}")


def figure(value: object) -> str:
    """Return a figure as text, ``-`` where there is none."""
    return "-" if value is None else str(value)


def _above(line: Line) -> str:
    """Return by how much the cost exceeds the strongest of our bounds."""
    known = max(line.area or 0, line.reported or 0, line.strong or 0)
    if line.result is None or known == 0:
        return "-"
    return f"{100 * (line.result - known) / known:.2f} %"


COLUMNS: dict[str, Callable[[Line], str]] = {
    "group": lambda line: line.group,
    "instance": lambda line: line.group,
    "inst": lambda line: str(line.instances),
    "cost": lambda line: figure(line.result),
    "value": lambda line: figure(line.result),
    "area": lambda line: figure(line.area),
    "bound": lambda line: figure(line.reported),
    "strong": lambda line: figure(line.strong),
    "published": lambda line: figure(line.published),
    "proven": lambda line: str(line.proven),
    "hit": lambda line: str(line.hit),
    "rectpack": lambda line: figure(line.library),
    "single": lambda line: figure(line.library),
    "greedy": lambda line: figure(line.greedy),
    "above": _above,
    "first s": lambda line: f"{line.first:.3f}",
    "best s": lambda line: f"{line.best / max(1, line.instances):.2f}",
    "total s": lambda line: f"{line.total / max(1, line.instances):.2f}",
}
"""How a line shows each figure. ``single`` is rectpack's where it has to keep to one size."""

COSTS = (
    "group", "inst", "cost", "area", "bound", "strong", "published", "proven", "hit", "rectpack",
    "greedy", "first s", "best s", "total s",
)  # fmt: skip
VALUES = ("group", "inst", "value", "published", "proven", "hit", "first s", "best s", "total s")
EACH_COST = (
    "instance", "cost", "area", "bound", "strong", "above", "published", "rectpack", "total s",
)  # fmt: skip
EACH_VALUE = ("instance", "value", "published", "best s", "total s")
EACH_SIZE = (
    "instance", "cost", "area", "bound", "strong", "above", "single", "greedy", "total s",
)  # fmt: skip


def text(table: Sequence[Line], columns: Sequence[str] = COSTS) -> str:
    """Lay a table out for a terminal."""
    rows = [tuple(columns), *(_cells(line, columns) for line in table)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(columns))]
    laid = [
        "  ".join(
            cell.ljust(width) if column == 0 else cell.rjust(width)
            for column, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    ]
    failed = [f"no plan: {failure}" for failure in table[-1].failures]
    return "\n".join([*laid, *failed]) + "\n"


def markdown(table: Sequence[Line], columns: Sequence[str]) -> str:
    """Lay a table out as it stands in the results."""
    rows = [tuple(columns), ("---",) * len(columns), *(_cells(line, columns) for line in table)]
    return "".join(f"| {' | '.join(row)} |\n" for row in rows).replace(" --- ", "---")


def _cells(line: Line, columns: Sequence[str]) -> tuple[str, ...]:
    """Return a line as text."""
    return tuple(COLUMNS[column](line) for column in columns)


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


def record(path: Path, row: Sequence[str], head: Sequence[str] = ()) -> None:
    """Append a row to the record of versions; rows are never changed afterwards.

    Parameters
    ----------
    path
        A page with tables.
    row
        Its cells.
    head
        Names of the columns of the table that the row belongs to; by default the page ends with it.

    Raises
    ------
    ValueError
        There is no table with this head.
    """
    kept = path.read_text(encoding="utf-8").splitlines()
    end = len(kept)
    if head:
        first = f"| {' | '.join(head)} |"
        if first not in kept:
            raise ValueError(f"{path} has no table with the head {first}")
        end = kept.index(first)
        while end < len(kept) and kept[end].startswith("|"):
            end += 1
    kept.insert(end, f"| {' | '.join(row)} |")
    path.write_text("\n".join(kept) + "\n", encoding="utf-8")

"""Benchmark instances: read from a folder of published sets, or drawn from class definitions."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from random import Random
from typing import TYPE_CHECKING, Any

from cutlist.nesting.problem import Bin, Item, Problem

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

SIZES = (20, 40, 60, 80, 100)


@dataclass(frozen=True, slots=True)
class Instance:
    """One instance, and what is published of it.

    Parameters
    ----------
    name, group
        The group is a row of the table, such as a class and size; for sets of single orders the
        name itself.
    problem
        In whole numbers; cost 1 a sheet where there is one size.
    published
        Best published bound, from below on the cost or from above on the value; None where there
        is none.
    proven
        True where ``published`` is the optimum.
    values
        Worth of a panel of each item where the value on one sheet is to be great; None where the
        cost of all panels is to be small.
    """

    name: str
    group: str
    problem: Problem
    published: int | None = None
    proven: bool = False
    values: tuple[int, ...] | None = None


def load(folder: Path, name: str, *, turned: bool) -> list[Instance]:
    """Read a set of published instances.

    Parameters
    ----------
    folder
        Holds ``<name>.json``: a list ``instances`` of objects with ``name``, ``sheet`` (length,
        width) or ``sheets`` (length, width, number or null, cost), and ``items`` (length, width,
        count, and the value in the set ``knapsack``, whose one sheet is the only one).
    name
        ``class``, ``furniture``, ``cutting_stock``, ``boards`` or ``knapsack``.
    turned
        Whether parts may turn; the published bounds are those of this variant.
    """
    text = (folder / f"{name}.json").read_text(encoding="utf-8")
    return [_read(entry, name, turned=turned) for entry in json.loads(text)["instances"]]


def _read(entry: dict[str, Any], name: str, *, turned: bool) -> Instance:
    """Turn one entry of a file into an instance."""
    variant = "turned" if turned else "fixed"
    published = None
    proven = False
    if name == "class":
        published, proven = entry["lower"][variant], entry["proven"][variant]
    elif name == "furniture":
        published = entry["optimum"][variant]
        proven = published is not None
    elif name in ("cutting_stock", "knapsack") and not turned:
        published = entry["optimum"]
        proven = published is not None
    group = entry["name"][:11] if name == "class" else entry["name"]
    if name == "knapsack":
        values = tuple(int(row[3]) for row in entry["items"])
        items = [row[:3] for row in entry["items"]]
        problem = whole_numbers(items, [[*entry["sheet"], 1, 1]], turned=turned)
        return Instance(entry["name"], group, problem, published, proven, values)
    sheets = entry["sheets"] if "sheets" in entry else [[*entry["sheet"], None, 1]]
    problem = whole_numbers(entry["items"], sheets, turned=turned)
    return Instance(entry["name"], group, problem, published, proven)


def whole_numbers(items: Iterable[Any], sheets: Iterable[Any], *, turned: bool) -> Problem:
    """Make a problem without kerf of lengths that may be decimal fractions."""
    items = [[Fraction(str(v)) for v in row] for row in items]
    sheets = [[None if v is None else Fraction(str(v)) for v in row] for row in sheets]
    unit = lcm(*(v.denominator for row in (*items, *sheets) for v in row[:2]))
    return Problem(
        tuple(Item(int(a * unit), int(b * unit), int(count), turned) for a, b, count in items),
        tuple(
            Bin(int(a * unit), int(b * unit), int(cost), None if stock is None else int(stock))
            for a, b, stock, cost in sheets
        ),
        0,
    )


_UNIFORM = {1: (10, 10), 2: (30, 10), 3: (40, 35), 4: (100, 35), 5: (100, 100), 6: (300, 100)}
_SHAPES = (
    ((1, 50), (66, 100)),
    ((66, 100), (1, 50)),
    ((50, 100), (50, 100)),
    ((1, 50), (1, 50)),
)


def generate(*, turned: bool, count: int = 10) -> list[Instance]:
    """Draw instances from the published class definitions.

    Classes 1-6: J. O. Berkey, P. Y. Wang, "Two-dimensional finite bin-packing algorithms", Journal
    of the Operational Research Society 38 (1987). Classes 7-10: S. Martello, D. Vigo, "Exact
    solution of the two-dimensional finite bin packing problem", Management Science 44 (1998). They
    are other instances than the published ones, so that no published figure belongs to them.

    Parameters
    ----------
    turned
        Whether parts may turn.
    count
        Instances of each class and size.
    """
    return [
        Instance(f"{group}_{number:02d}", group, _draw(kind, size, f"{group}-{number}", turned))
        for kind in range(1, 11)
        for size in SIZES
        for group in [f"CLASS{kind:02d}_{size:03d}"]
        for number in range(1, count + 1)
    ]


def _draw(kind: int, size: int, seed: str, turned: bool) -> Problem:
    """Draw one instance of a class."""
    random = Random(seed)
    items = []
    if kind in _UNIFORM:
        sheet, longest = _UNIFORM[kind]
        for _ in range(size):
            items.append((random.randint(1, longest), random.randint(1, longest)))
    else:
        sheet = 100
        main = kind - 7
        others = [shape for shape in range(4) if shape != main]
        for _ in range(size):
            share = random.random()
            shape = main if share < 0.7 else others[int((share - 0.7) * 10) % 3]
            one, other = _SHAPES[shape]
            items.append((random.randint(*one), random.randint(*other)))
    kinds: dict[tuple[int, int], int] = {}
    for item in items:
        kinds[item] = kinds.get(item, 0) + 1
    rows = [(a, b, quantity) for (a, b), quantity in kinds.items()]
    return whole_numbers(rows, [(sheet, sheet, None, 1)], turned=turned)


def first_of_each(instances: list[Instance], limit: int) -> list[Instance]:
    """Keep the first ``limit`` instances of each group, in order."""
    seen: dict[str, int] = {}
    kept = []
    for instance in instances:
        seen[instance.group] = seen.get(instance.group, 0) + 1
        if seen[instance.group] <= limit:
            kept.append(instance)
    return kept

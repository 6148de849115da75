"""Tests of the most valuable panels on one sheet.

Published optima with any number of each part: the pages of PackLib2 (TU Braunschweig) and of
IME-USP ("Unconstrained two-dimensional guillotine cutting"). The data are those of N. Christofides,
C. Whitlock 1977; J. E. Beasley 1985; J. F. Oliveira, J. S. Ferreira 1990 (citations from memory).
"""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from cutlist.model.layout import Layout
from cutlist.nesting.checking import check_layouts
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.sheetfill import SheetFiller
from cutlist.nesting.state import Tables
from cutlist.nesting.tree import tightened
from tests.nesting.exhaustive import outlines
from tests.nesting.trees import panels_of

# Sheet, parts as length, width and value (the area where there are two figures), whether they turn,
# the optimum. The first sheet lies either way round, which makes a difference.
CGCUT2 = (
    "21 22 582, 31 13 403, 9 35 315, 9 24 216, 30 7 210, 11 13 143, 10 14 140, 14 8 110, 12 8 94,"
    "13 7 90"
)
GCUT1 = "167 184, 114 118, 167 152, 83 140, 70 86, 143 166, 120 160, 66 148, 87 141, 69 165"
UNLIMITED = {
    "cgcut1": ((15, 10), "8 4 66, 3 7 35, 8 2 24, 3 4 17, 3 3 11, 3 2 8, 2 1 2", False, 249),
    "cgcut2": ((40, 70), CGCUT2, False, 3076),
    "gcut1": ((250, 250), GCUT1, False, 56460),
    "gcut1, turned": ((250, 250), GCUT1, True, 58136),
    "OF1": (
        (70, 40),
        "29 5, 9 39, 55 9, 31 15, 11 16, 23 21, 29 14, 16 19, 9 36, 22 4",
        False,
        2758,
    ),
    "OF2": (
        (70, 40),
        "22 18, 40 10, 27 13, 23 18, 29 8, 16 4, 47 9, 19 19, 13 16, 36 16",
        False,
        2776,
    ),
}


@pytest.mark.parametrize("name", UNLIMITED)
def test_any_number_of_each_part(name: str) -> None:
    """Without limits one label for each sub-rectangle gives the published optimum, and its tree."""
    sheet, text, turned, optimum = UNLIMITED[name]
    rows = [[int(x) for x in row.split()] for row in text.split(",")]
    items = tuple(Item(row[0], row[1], 63, turned) for row in rows)
    problem = Problem(items, (Bin(*sheet, 1),), 0)
    tables = Tables.of(problem)
    filler = SheetFiller(tables, 0)
    assert filler.exhaustive
    values = np.array([row[2] if len(row) > 2 else row[0] * row[1] for row in rows], float)
    worths, counts = filler.fill(values, tables.demand, 1)
    assert worths.tolist() == [optimum]
    assert float(counts[0] @ values) == optimum
    tree = filler.filling(0, counts[0]).tree
    layout = Layout(0, tightened(tree, *sheet, 0))
    held = panels_of((layout,))
    assert [held[number] for number in range(len(items))] == counts[0].tolist()
    as_cut = tuple(Item(i.length, i.width, held[n], turned) for n, i in enumerate(items))
    assert check_layouts(Problem(as_cut, problem.bins, 0), [layout]) == []


@pytest.mark.parametrize("seed", range(30))
def test_few_panels_beside_every_tree_of_cuts(seed: int) -> None:
    """Limited copies, kerf, some turned: many labels find the best set, and all can be cut."""
    random = Random(seed)
    items = tuple(
        Item(
            random.randint(3, 9), random.randint(3, 9), random.randint(1, 2), random.random() < 0.5
        )
        for _ in range(3)
    )
    bin_ = Bin(random.randint(8, 16), random.randint(8, 16), 1)
    problem = Problem(items, (bin_,), random.randint(0, 2))
    kinds = [number for number, item in enumerate(items) for _ in range(item.qty)]
    values = [random.randint(1, 20) for _ in items]
    possible = set()
    best = 0
    for group, rectangles in enumerate(outlines(problem)):
        if group and any(a <= bin_.length and b <= bin_.width for a, b in rectangles):
            chosen = [kind for number, kind in enumerate(kinds) if group >> number & 1]
            possible.add(tuple(chosen.count(kind) for kind in range(3)))
            best = max(best, sum(values[kind] for kind in chosen))
    tables = Tables.of(problem)
    worths, counts = SheetFiller(tables, 0).fill(np.array(values, float), tables.demand, 64)
    assert {tuple(row) for row in counts.tolist()} <= possible
    assert worths.tolist() == sorted(worths.tolist(), reverse=True)
    assert (worths[0] if len(worths) else 0) == best


def test_parts_worth_nothing_are_left_out() -> None:
    """Neither they nor parts that are not wanted take room."""
    problem = Problem((Item(5, 5, 4, False), Item(5, 4, 4, False)), (Bin(10, 10, 1),), 0)
    filler = SheetFiller(Tables.of(problem), 0)
    _, counts = filler.fill(np.array([0.0, 1.0]), np.array([4, 4]), 1)
    assert counts.tolist() == [[0, 4]]
    _, counts = filler.fill(np.array([9.0, 1.0]), np.array([0, 3]), 4)
    assert counts[0].tolist() == [0, 3]


def test_nothing_fits() -> None:
    """A bin smaller than every part has no filling."""
    problem = Problem((Item(9, 9, 1, False),), (Bin(5, 5, 1),), 0)
    filler = SheetFiller(Tables.of(problem), 0)
    worths, counts = filler.fill(np.array([1.0]), np.array([1]), 4)
    assert len(worths) == len(counts) == 0

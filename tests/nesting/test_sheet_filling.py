"""Tests of the most valuable panels on one sheet.

Published optima with any number of each part: the pages of PackLib2 (TU Braunschweig) and of
IME-USP ("Unconstrained two-dimensional guillotine cutting"). The data are those of N. Christofides,
C. Whitlock 1977; J. E. Beasley 1985; J. F. Oliveira, J. S. Ferreira 1990 (citations from memory).
"""

from __future__ import annotations

from dataclasses import replace
from random import Random

import numpy as np
import pytest

from cutlist.model.layout import Layout
from cutlist.nesting.columns.sheet_filling import Filling, SheetFiller
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import tightened
from cutlist.nesting.parameters import FillingParameters
from cutlist.nesting.problem import Bin, Item, Problem
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


def random_parts(seed: int) -> tuple[Random, tuple[Item, ...], int]:
    """Return some parts of many sizes, and a kerf."""
    random = Random(seed)
    items = tuple(
        Item(random.randint(3, 14), random.randint(3, 14), 9, random.random() < 0.5)
        for _ in range(3)
    )
    return random, items, random.randint(0, 2)


@pytest.mark.parametrize("seed", range(8))
def test_regions_of_one_filling_beside_fillings_of_their_own(seed: int) -> None:
    """One filling tells of every smaller region what a filling of that region alone finds.

    There are more panels than any region holds, so that one label is the best. Every tree can be
    cut from its region.
    """
    random, items, kerf = random_parts(seed)
    problem = Problem(items, (Bin(40, 30, 1),), kerf)
    filler = SheetFiller(Tables.of(problem), 0)
    values = np.array([random.uniform(0.5, 2) * i.length * i.width for i in items])
    demand = np.full(3, 60, np.int64)
    filler.fill(values, demand, 1)
    lengths = np.array([random.randint(-3, 40) for _ in range(40)])
    widths = np.array([random.randint(-3, 30) for _ in range(40)])
    worths = filler.worths_in(lengths, widths)
    assert len(worths) == len(lengths)
    for length, width, worth in zip(
        lengths.tolist(), widths.tolist(), worths.tolist(), strict=True
    ):
        filling = filler.filling_in(length, width)
        assert (filling is None) == (worth == 0)
        if min(length, width) <= 0:
            assert filling is None
            continue
        alone = SheetFiller(Tables.of(Problem(items, (Bin(length, width, 1),), kerf)), 0)
        best, _ = alone.fill(values, demand, 1)
        assert worth == pytest.approx(best[0] if len(best) else 0)
        if filling is not None:
            assert float(filling.counts @ values) == pytest.approx(worth)
            assert_lies_in(items, filling, (length, width), kerf)


def assert_lies_in(
    items: tuple[Item, ...], filling: Filling, room: tuple[int, int], kerf: int
) -> None:
    """Hold a filling's tree and its counts to a region."""
    as_cut = tuple(replace(item, qty=int(filling.counts[n])) for n, item in enumerate(items))
    layout = Layout(0, tightened(filling.tree, *room, kerf))
    assert check_layouts(Problem(as_cut, (Bin(*room, 1, 1),), kerf), [layout]) == []


@pytest.mark.parametrize("seed", range(8))
def test_a_region_filled_anew(seed: int) -> None:
    """With fewer panels left a region is filled with no more; the filling of the whole stays."""
    random, items, kerf = random_parts(seed)
    problem = Problem(items, (Bin(40, 30, 1),), kerf)
    filler = SheetFiller(Tables.of(problem), 0)
    values = np.array([float(i.length * i.width) for i in items])
    whole, counts = filler.fill(values, np.full(3, 9, np.int64), 1)
    few = np.array([1, 2, 0])
    for _ in range(6):
        room = (random.randint(1, 40), random.randint(1, 30))
        filling = filler.fill_region(values, few, *room)
        fits = [
            min(i.length, i.width) <= min(room) and max(i.length, i.width) <= max(room)
            for i in items
        ]
        if filling is None:
            turns = [item.turnable for item in items]
            assert not any(turned and fit for turned, fit in zip(turns[:2], fits[:2], strict=True))
            continue
        assert (filling.counts <= few).all()
        assert filler.done <= filler.work
        assert_lies_in(items, filling, room, kerf)
    again = filler.filling_in(40, 30)
    assert again is not None
    assert (again.counts == counts[0]).all()
    assert float(filler.worths_in(np.array([40]), np.array([30]))[0]) == whole[0]


def test_fewer_extents_are_looked_at_where_told() -> None:
    """With a sample of ten extents a filling is quicker, still sound, and worth no more."""
    items = tuple(Item(7 + 5 * n, 40 - 6 * n, 9, True) for n in range(5))
    problem = Problem(items, (Bin(150, 120, 1),), 1)
    tables = Tables.of(problem)
    values = np.array([float(i.length * i.width) for i in items])
    all_, some = SheetFiller(tables, 0), SheetFiller(tables, 0, FillingParameters(most_extents=20))
    assert all_.exhaustive
    assert not some.exhaustive
    assert some.work < all_.work / 20
    best, _ = all_.fill(values, tables.demand, 1)
    for _ in range(3):
        worths, _ = some.fill(values, tables.demand, 1)
        assert 0 < worths[0] <= 150 * 120
        filling = some.filling_in(150, 120)
        assert filling is not None
        assert_lies_in(items, filling, (150, 120), 1)
    assert best[0] > 0


def test_a_region_beyond_the_bin_is_as_the_bin() -> None:
    """More room than the bin has is worth what the bin is; less than any panel is worth nothing."""
    problem = Problem((Item(5, 4, 9, False),), (Bin(10, 8, 1),), 0)
    filler = SheetFiller(Tables.of(problem), 0)
    filler.fill(np.array([3.0]), np.array([9]), 1)
    sides = (np.array([10, 99, 4, 99, 5]), np.array([8, 99, 99, 3, 4]))
    assert filler.worths_in(*sides).tolist() == [12, 12, 0, 0, 3]
    assert filler.filling_in(4, 99) is None
    assert filler.fill_region(np.array([3.0]), np.array([9]), 4, 99) is None
    none = SheetFiller(Tables.of(Problem((Item(9, 9, 1, False),), (Bin(5, 5, 1),), 0)), 0)
    assert none.worths_in(*sides).tolist() == [0] * 5
    assert none.filling_in(5, 5) is None

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import cells
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.knapsack import BestPanels, best_value
from cutlist.nesting.stopping import AfterSteps, FirstOf, Standing

# Length, width, copies, value; one sheet, panels not turned. The proven optima are those of the
# PhD theses of Thomopulos and of H. Becker (UFRGS); where a set comes from is told from memory, if
# not said otherwise.
LITERATURE = {
    # N. Christofides, C. Whitlock, "An algorithm for two-dimensional cutting problems", Operations
    # Research 1977 (seen); doi 10.1287/opre.25.1.30 (from memory)
    "cgcut1": (
        (15, 10),
        "8 4 2 66, 3 7 1 35, 8 2 3 24, 3 4 5 17, 3 3 2 11, 3 2 2 8, 2 1 1 2",
        244,
    ),
    # Cung, Hifi & Le Cun 2000, doi 10.1111/j.1475-3995.2000.tb00194.x (from memory)
    "CHL5": (
        (20, 20),
        "14 2 1 28, 1 5 1 5, 20 4 2 80, 12 3 3 36, 11 8 2 88, 11 6 2 66, 7 9 1 63, 17 5 1 85,"
        "7 14 2 98, 1 7 3 7",
        390,
    ),
    # Fekete & Schepers 1997, as quoted in the theses (from memory)
    "okp3": (
        (100, 100),
        "3 98 1 756, 34 36 1 2712, 100 6 1 1633, 49 26 1 2332, 14 56 1 2187, 100 3 1 470,"
        "10 90 1 1569, 23 95 1 4947, 10 97 1 2757, 50 47 1 4274, 41 45 1 4347, 13 12 1 396,"
        "19 68 1 3866, 50 46 1 5447, 23 70 1 2904, 28 82 1 6032, 12 65 1 1799, 9 86 1 929,"
        "21 96 1 5186, 19 64 1 2120, 21 75 1 1629, 45 26 1 2059, 19 77 1 2583, 5 84 1 953,"
        "16 21 1 1000, 23 69 1 2900, 5 89 1 1102, 22 63 1 2234, 41 6 1 458, 76 30 1 5458",
        24019,
    ),
}

# J. C. Herz 1972 (from memory): sheet 127 × 98, any number of each part, the value is the area. The
# optimum 12348 stands in PackLib2 (TU Braunschweig); the others, for kerfs of 1 to 3 and for parts
# that turn, were worked out with another program, by dynamic programming over all sizes.
HERZ = ((21, 13), (36, 17), (54, 20), (24, 27), (18, 65))
HERZ_VALUES = {
    False: (12348, 11301, 10284, 10056),
    True: (12387, 11574, 10899, 10332),
}


def harvest(problem: Problem, values: list[int], enough: int, steps: int = 4000) -> BestPanels:
    """Run until a value is reached or the steps are spent."""

    def reached(standing: Standing) -> bool:
        return standing.cost is not None and -standing.cost >= enough

    return best_value(problem, values, seed=1, stop=FirstOf(AfterSteps(steps), reached))


def assert_sound(problem: Problem, values: list[int], found: BestPanels) -> None:
    """Hold the layouts to the problem with the quantities that they cut."""
    panels = [0] * len(problem.items)
    for layout in found.layouts:
        for cell in cells(layout.root):
            panels[cell.part] += layout.copies
    assert all(n <= item.qty for n, item in zip(panels, problem.items, strict=True))
    assert found.value == sum(n * value for n, value in zip(panels, values, strict=True))
    items = tuple(replace(item, qty=n) for n, item in zip(panels, problem.items, strict=True))
    assert check_layouts(replace(problem, items=items), found.layouts) == []


@pytest.mark.parametrize("name", LITERATURE)
def test_proven_optima_are_reached(name: str) -> None:
    """Published instances give their proven optimum, and no more."""
    (length, width), text, optimum = LITERATURE[name]
    rows = [[int(x) for x in row.split()] for row in text.split(",")]
    items = tuple(Item(a, b, qty, False) for a, b, qty, _ in rows)
    problem = Problem(items, (Bin(length, width, 1, 1),), 0)
    values = [value for *_, value in rows]
    found = harvest(problem, values, optimum)
    assert_sound(problem, values, found)
    assert found.value == optimum


@pytest.mark.slow
@pytest.mark.parametrize("turned", [False, True], ids=["fixed", "turned"])
@pytest.mark.parametrize("kerf", range(4))
def test_any_number_of_each_part(kerf: int, turned: bool) -> None:
    """The best fillings are found for every kerf, fixed and turned; more search finds no better."""
    sheet = Bin(127, 98, 1, 1)
    items = tuple(Item(a, b, sheet.length * sheet.width // (a * b), turned) for a, b in HERZ)
    problem = Problem(items, (sheet,), kerf)
    values = [a * b for a, b in HERZ]
    found = harvest(problem, values, HERZ_VALUES[turned][kerf] + 1, steps=20_000)
    assert_sound(problem, values, found)
    assert found.value == HERZ_VALUES[turned][kerf]


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(st.data())
def test_random_harvests_are_sound(data: st.DataObject) -> None:
    """Whatever is chosen fits the stock, and is worth what it says."""
    items = tuple(
        Item(
            data.draw(st.integers(3, 30)),
            data.draw(st.integers(3, 30)),
            data.draw(st.integers(1, 6)),
            data.draw(st.booleans()),
        )
        for _ in range(data.draw(st.integers(1, 9)))
    )
    bins = tuple(
        Bin(data.draw(st.integers(20, 50)), data.draw(st.integers(20, 50)), 1, 1 + n, n)
        for n in range(data.draw(st.integers(1, 2)))
    )
    reach = data.draw(st.sampled_from([None, 25]))
    problem = Problem(items, bins, data.draw(st.integers(0, 3)), reach)
    values = [data.draw(st.integers(0, 50)) for _ in items]
    assert_sound(problem, values, harvest(problem, values, 10**9, steps=2000))


def test_two_sheets_hold_more_than_one() -> None:
    """With a second sheet, the panels that one cannot hold are cut as well."""
    problem = Problem((Item(60, 40, 5, False),), (Bin(100, 100, 1, 1),), 2)
    assert harvest(problem, [7], 10**9, steps=600).value == 14
    assert harvest(replace(problem, bins=(Bin(100, 100, 1, 2),)), [7], 10**9, 600).value == 28

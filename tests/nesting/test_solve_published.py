"""Published instances with proven optima, reached with few steps."""

from __future__ import annotations

import pytest

from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps, FirstOf, Standing
from tests.nesting.bounds.instances import ORDERS, Order

STEPS = 150_000


def order(name: str, sheet: tuple[int, int], rows: str, optimum: int, *, turned: bool) -> Order:
    """Return an instance; a row is length and width, and the copies where there are several."""
    sizes = [[int(x) for x in row.split()] for row in rows.split(",")]
    items = tuple((size[0], size[1], size[2] if len(size) > 2 else 1) for size in sizes)
    return Order(name, sheet, items, optimum, turned)


# With demands: E. Silva, F. Alvelos, J. M. Valério de Carvalho, EJOR 205 (2010); optima for any
# number of guillotine stages: H. Becker, O. Araújo, L. S. Buriol, LAGOS 2021, table 1. In two
# stages, says the same table, each of them takes one sheet more.
STAGES = (
    ("CHL5", (20, 20), "14 2,1 5,20 4 2,12 3 3,11 8 2,11 6 2,7 9,17 5,7 14 2,1 7 3", 3),
    (
        "OF2",
        (70, 40),
        "22 18 2,40 10,13 27 3,23 18 2,29 8 4,16 4,47 9,19 19 4,13 16 2,36 16 4",
        4,
    ),
    (
        "W",
        (70, 40),
        "17 9,24 15,24 15 2,25 16 4,27 17 2,11 19 4,12 21 3,32 22 3,14 23 4,34 24 4,35 25 3,"
        "36 26 4,37 27 3,38 28 4,18 29 3,39 29 4,41 30 2,21 31 3,43 31 4,23 33 4",
        23,
    ),
)

# J. O. Berkey, P. Y. Wang, Journal of the Operational Research Society 38 (1987): class 3 and 5;
# S. Martello, D. Vigo, Management Science 44 (1998): class 7 and 8; each the first one with 20
# panels. Optima of panels that do not turn and that may: H. Becker, PhD thesis, UFRGS.
CLASSES = (
    (
        "class 3",
        (40, 40),
        "18 30,13 5,33 19,17 22,18 9,34 24,1 16,9 15,19 31,4 11,19 23,24 4,27 9,13 33,13 15,34 9,"
        "27 10,22 28,26 11,25 25",
        6,
        5,
    ),
    (
        "class 5",
        (100, 100),
        "50 85,35 14,94 54,47 62,52 25,96 67,1 43,24 42,53 86,11 31,52 65,66 11,76 25,36 94,36 42,"
        "97 24,76 29,61 79,74 29,71 69",
        8,
        7,
    ),
    (
        "class 7",
        (100, 100),
        "56 75,98 27,74 24,99 34,80 1,84 43,88 6,89 6,98 38,78 21,75 49,31 93,90 37,21 73,71 4,"
        "93 35,89 48,90 12,13 79,10 42",
        5,
        5,
    ),
    (
        "class 8",
        (100, 100),
        "56 75,47 84,13 82,48 89,21 66,27 96,33 69 2,47 92,18 80,15 99,31 93,35 91,21 73,8 68,"
        "39 90,34 99,36 73,13 79,10 42",
        6,
        6,
    ),
)

INSTANCES = (
    *ORDERS,
    *(order(f"demands {n}", sheet, rows, least, turned=False) for n, sheet, rows, least in STAGES),
    *(order(n, sheet, rows, fixed, turned=False) for n, sheet, rows, fixed, _ in CLASSES),
    *(
        order(f"{n}, turned", sheet, rows, turned, turned=True)
        for n, sheet, rows, _, turned in CLASSES
    ),
)


@pytest.mark.parametrize("instance", INSTANCES, ids=lambda instance: instance.name)
def test_proven_optima_are_reached(instance: Order) -> None:
    """The search comes to the proven number of sheets, and to no fewer."""
    problem = instance.problem()

    def reached(standing: Standing) -> bool:
        return standing.cost is not None and standing.cost <= instance.optimum

    found = nest(problem, seed=1, stop=FirstOf(AfterSteps(STEPS), reached))
    assert check_layouts(problem, found.layouts) == []
    assert found.bound <= instance.optimum
    assert found.sheets == found.cost == instance.optimum

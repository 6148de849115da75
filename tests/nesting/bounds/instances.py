"""Small published instances with their optima.

Rolls are problems in one dimension, given as sheets of width 1. Their optima and the values of
their linear programs were also computed with another program, by complete enumeration of patterns.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.nesting.problem import Bin, Item, Problem


@dataclass(frozen=True, slots=True)
class Roll:
    """A one-dimensional instance; ``pieces`` are lengths and demands."""

    name: str
    length: int
    pieces: tuple[tuple[int, int], ...]
    linear: float
    optimum: int

    def problem(self, *, lengthwise: bool = True) -> Problem:
        """Return the roll as a sheet of width 1, along x or along y."""
        items = tuple(
            Item(*((size, 1) if lengthwise else (1, size)), demand, False)
            for size, demand in self.pieces
        )
        bins = (Bin(*((self.length, 1) if lengthwise else (1, self.length)), 1),)
        return Problem(items, bins, 0)


ROLLS = (
    # V. Chvátal, Linear Programming (Freeman 1983), chapter 13 (citation from memory)
    Roll("100", 100, ((45, 97), (36, 610), (31, 395), (14, 211)), 452.25, 453),
    # the column-generation example in the manual of a general solver; lengths doubled
    Roll("94", 188, ((34, 150), (42, 96), (45, 48), (48, 108), (59, 227)), 160.95, 161),
    # encyclopedia article "Cutting stock problem"
    Roll(
        "5600",
        5600,
        (
            (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
            (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20),
        ),
        72.917,
        73,
    ),
    # R. Fourer, D. M. Gay, B. W. Kernighan, AMPL (2nd ed. 2003), cutting chapter (from memory)
    Roll("110", 110, ((20, 48), (45, 35), (50, 24), (55, 10), (75, 8)), 46.25, 47),
    # a textbook exercise attributed to Chvátal (from memory); lengths doubled
    Roll("91", 182, ((51, 78), (45, 40), (40, 30), (30, 30)), 44.0, 44),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Order:
    """A two-dimensional instance; ``items`` are length, width, count; optimum in sheets."""

    name: str
    sheet: tuple[int, int]
    items: tuple[tuple[int, int, int], ...]
    optimum: int
    turnable: bool = False

    def problem(self) -> Problem:
        """Return the order as a problem without kerf, each sheet at cost 1."""
        items = tuple(Item(a, b, count, self.turnable) for a, b, count in self.items)
        return Problem(items, (Bin(*self.sheet, 1),), 0)


# Orders of a furniture company: R. Macedo, C. Alves, J. M. Valério de Carvalho, "Arc-flow model for
# the two-dimensional guillotine cutting stock problem", Computers & Operations Research 37 (2010).
# A2, CU1 and STS2 with demands: E. Silva, F. Alvelos, J. M. Valério de Carvalho, "An integer
# programming model for two- and three-stage two-dimensional cutting stock problems", EJOR 205
# (2010). Optima for any number of guillotine stages: H. Becker, PhD thesis, UFRGS; H. Becker, O.
# Araújo, L. S. Buriol, LAGOS 2021.
ORDERS = (
    Order(
        "furniture 2",
        (2750, 1220),
        ((2357, 935, 28), (2117, 775, 8), (303, 486, 1), (303, 386, 1)),
        36,
    ),
    Order("furniture 3", (2750, 1220), ((2117, 475, 16), (463, 386, 1)), 8),
    Order("furniture 8", (2750, 1220), ((486, 310, 16),), 2),
    Order("furniture 8, turned", (2750, 1220), ((486, 310, 16),), 1, turnable=True),
    Order(
        "furniture 7",
        (2750, 1220),
        ((1120, 986, 12), (706, 516, 16), (1120, 486, 12), (986, 433, 10), (706, 286, 8)),
        13,
    ),
    Order(
        "furniture 42",
        (2750, 1220),
        (
            (1120, 986, 3),
            (706, 516, 2),
            (1120, 486, 1),
            (703, 486, 1),
            (2357, 875, 2),
            (2117, 875, 1),
            (2117, 775, 2),
            (1940, 320, 1),
        ),
        8,
    ),
    Order(
        "furniture 42, turned",
        (2750, 1220),
        (
            (1120, 986, 3),
            (706, 516, 2),
            (1120, 486, 1),
            (703, 486, 1),
            (2357, 875, 2),
            (2117, 875, 1),
            (2117, 775, 2),
            (1940, 320, 1),
        ),
        7,
        turnable=True,
    ),
    Order(
        "furniture 43",
        (2750, 1220),
        (
            (987, 705, 1),
            (1903, 486, 2),
            (1120, 486, 2),
            (986, 433, 4),
            (623, 426, 1),
            (228, 210, 2),
            (2357, 935, 2),
            (1181, 733, 4),
            (2040, 320, 1),
            (1236, 143, 2),
            (1780, 740, 1),
        ),
        7,
    ),
    Order(
        "furniture 43, turned",
        (2750, 1220),
        (
            (987, 705, 1),
            (1903, 486, 2),
            (1120, 486, 2),
            (986, 433, 4),
            (623, 426, 1),
            (228, 210, 2),
            (2357, 935, 2),
            (1181, 733, 4),
            (2040, 320, 1),
            (1236, 143, 2),
            (1780, 740, 1),
        ),
        6,
        turnable=True,
    ),
    Order(
        "furniture 23",
        (2550, 2100),
        (
            (431, 1001, 12),
            (321, 961, 8),
            (465, 494, 8),
            (1002, 481, 32),
            (326, 481, 60),
            (1513, 346, 18),
            (501, 315, 60),
            (711, 281, 50),
        ),
        13,
    ),
    Order(
        "demands A2",
        (60, 60),
        (
            (32, 40, 1),
            (29, 42, 2),
            (31, 39, 1),
            (27, 38, 1),
            (27, 37, 3),
            (24, 36, 4),
            (25, 35, 2),
            (28, 34, 2),
            (33, 25, 4),
            (23, 31, 4),
            (31, 24, 3),
            (26, 18, 3),
            (18, 29, 4),
            (15, 24, 2),
            (16, 25, 4),
            (17, 26, 3),
            (23, 14, 4),
            (21, 15, 3),
            (19, 16, 2),
            (12, 17, 1),
        ),
        12,
    ),
    Order(
        "demands CU1",
        (100, 125),
        (
            (23, 44, 6),
            (20, 56, 9),
            (24, 41, 6),
            (38, 57, 3),
            (23, 57, 4),
            (58, 49, 1),
            (51, 79, 1),
            (43, 35, 3),
            (39, 68, 2),
            (21, 65, 2),
            (24, 80, 3),
            (50, 61, 3),
            (45, 59, 2),
            (42, 69, 1),
            (54, 68, 1),
            (29, 75, 3),
            (24, 39, 7),
            (22, 42, 2),
            (56, 53, 1),
            (24, 49, 1),
            (20, 66, 5),
            (45, 53, 4),
            (23, 50, 8),
            (34, 75, 1),
            (38, 28, 3),
        ),
        12,
    ),
    Order(
        "demands STS2",
        (55, 85),
        (
            (10, 20, 2),
            (11, 21, 1),
            (12, 22, 2),
            (12, 40, 2),
            (13, 23, 3),
            (14, 24, 1),
            (15, 25, 4),
            (15, 26, 3),
            (16, 28, 2),
            (17, 14, 1),
            (18, 27, 2),
            (19, 15, 3),
            (20, 30, 2),
            (21, 13, 2),
            (22, 25, 1),
            (22, 32, 3),
            (23, 14, 4),
            (24, 30, 2),
            (24, 34, 4),
            (25, 30, 2),
            (25, 35, 3),
            (26, 36, 4),
            (26, 40, 2),
            (27, 37, 3),
            (28, 38, 3),
            (29, 19, 5),
            (29, 39, 4),
            (30, 10, 1),
            (31, 21, 3),
            (31, 43, 4),
        ),
        12,
    ),
)

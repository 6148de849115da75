"""Tests of the unlimited guillotine knapsack against published optima.

Herz: J. C. Herz, "Recursive computational procedure for two-dimensional stock cutting", IBM
Journal of Research and Development 16 (1972); cgcut1, cgcut2: N. Christofides, C. Whitlock, "An
algorithm for two-dimensional cutting problems", Operations Research 25 (1977); OF1, OF2: J. F.
Oliveira, J. S. Ferreira, EJOR 44 (1990); gcut1: J. E. Beasley, "Algorithms for unconstrained
two-dimensional guillotine cutting", JORS 36 (1985). The optima with unlimited copies are those
listed by the PackLib2 collection (TU Braunschweig) and, for gcut1, by a page of IME-USP. The item
sizes of Herz, cgcut1, cgcut2 and OF are from memory of the usual listings; they reproduce the
published optima. Optima with a kerf were computed with another program.
"""

from __future__ import annotations

import numpy as np
import pytest

from cutlist.nesting.bounds.grown import grow
from cutlist.nesting.bounds.patterns import Patterns
from cutlist.nesting.parameters import BoundParameters
from cutlist.nesting.problem import Bin, Item, Problem

_HERZ = [(21, 13), (36, 17), (54, 20), (24, 27), (18, 65)]
_CGCUT1 = [(8, 4), (3, 7), (8, 2), (3, 4), (3, 3), (3, 2), (2, 1)]
_CGCUT1_VALUES = [66, 35, 24, 17, 11, 8, 2]
_CGCUT2 = [
    (21, 22), (31, 13), (9, 35), (9, 24), (30, 7), (11, 13), (10, 14), (14, 8), (12, 8), (13, 7),
]  # fmt: skip
_CGCUT2_VALUES = [582, 403, 315, 216, 210, 143, 140, 110, 94, 90]
_OF1 = [
    (29, 5), (9, 39), (55, 9), (31, 15), (11, 16), (23, 21), (29, 14), (16, 19), (9, 36), (22, 4),
]  # fmt: skip
_OF2 = [
    (22, 18), (40, 10), (27, 13), (23, 18), (29, 8), (16, 4), (47, 9), (19, 19), (13, 16), (36, 16),
]  # fmt: skip
_GCUT1 = [
    (167, 184), (114, 118), (167, 152), (83, 140), (70, 86), (143, 166), (120, 160), (66, 148),
    (87, 141), (69, 165),
]  # fmt: skip


def _best(
    sizes: list[tuple[int, int]],
    sheet: tuple[int, int],
    *,
    values: list[int] | None = None,
    turnable: bool = False,
    kerf: int = 0,
    work: float = 1e9,
) -> int:
    """Return the best value of one sheet, by area where no values are given."""
    many = 10_000
    items = tuple(Item(length, width, many, turnable) for length, width in sizes)
    grown = grow(Problem(items, (Bin(*sheet, 1),), kerf))
    patterns = Patterns(grown, BoundParameters(work=work))
    assert patterns.usable
    worth = {
        frozenset(((length + kerf, width + kerf), (width + kerf, length + kerf))) if turnable
        else (length + kerf, width + kerf): value
        for (length, width), value in zip(
            sizes, values or [length * width for length, width in sizes], strict=True
        )
    }  # fmt: skip
    weights = np.array(
        [
            worth[frozenset(((a, b), (b, a))) if turnable else (a, b)]
            for a, b in zip(grown.lengths.tolist(), grown.widths.tolist(), strict=True)
        ],
        dtype=np.int64,
    )
    value = patterns.value(weights)
    best = int(value[patterns.bins[0]])
    # the layout behind the value is worth exactly that
    assert int(patterns.layout(value, weights, 0) @ weights) == best
    return best


@pytest.mark.parametrize(
    ("turnable", "kerf", "optimum"),
    [
        (False, 0, 12348),
        (True, 0, 12387),
        (False, 1, 11301),
        (False, 2, 10284),
        (False, 3, 10056),
        (True, 1, 11574),
        (True, 2, 10899),
        (True, 3, 10332),
    ],
)
def test_herz(turnable: bool, kerf: int, optimum: int) -> None:
    """Herz's sheet of 127 × 98, by area, with and without turning and kerf."""
    assert _best(_HERZ, (127, 98), turnable=turnable, kerf=kerf) == optimum


def test_christofides_whitlock() -> None:
    """The two small sets with values; turning the sheet instead of the items changes the second."""
    assert _best(_CGCUT1, (15, 10), values=_CGCUT1_VALUES) == 249
    assert _best(_CGCUT2, (40, 70), values=_CGCUT2_VALUES) == 3076
    assert _best(_CGCUT2, (70, 40), values=_CGCUT2_VALUES) == 2924


def test_oliveira_ferreira() -> None:
    """Both sets on a sheet of 70 × 40, by area."""
    assert _best(_OF1, (70, 40)) == 2758
    assert _best(_OF2, (70, 40)) == 2776


@pytest.mark.parametrize(
    ("turnable", "kerf", "optimum"),
    [(False, 0, 56460), (True, 0, 58136), (False, 3, 56460), (True, 3, 56687)],
)
def test_beasley(turnable: bool, kerf: int, optimum: int) -> None:
    """Beasley's first unconstrained set on a sheet of 250 × 250, by area."""
    assert _best(_GCUT1, (250, 250), turnable=turnable, kerf=kerf) == optimum


def test_coarser_sizes_never_lose_value() -> None:
    """Where the work allowed forces coarser sizes, the value can only grow."""
    exact = _best(_GCUT1, (250, 250))
    for work in (2e4, 5e3, 1e3):
        assert _best(_GCUT1, (250, 250), work=work) >= exact

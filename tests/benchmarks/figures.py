"""Published figures of the 500 class instances, to compare with.

Lower bounds and numbers of open instances per class and size: H. Becker, PhD thesis, UFRGS
(guillotine models; its tables of proofs and bounds per instance), raised by dual feasible functions
where those prove more. Whole-set totals: the same thesis, quoting D. Pisinger, M. Sigurd, INFORMS
Journal on Computing 19 (2007); E. Pietrobuoni, PhD thesis, Bologna (2015); F. Fontan, L.
Libralesso, "PackingSolver" (2020). 7266 is quoted without a clear origin.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Variant:
    """Sums over the ten instances of a cell, for parts that do not turn, or that may.

    Parameters
    ----------
    functions
        Bound by pairs of dual feasible functions.
    lower
        Best known lower bound.
    unproven
        Instances whose optimum is not known; where 0, ``lower`` is the optimum.
    """

    functions: int
    lower: int
    unproven: int


@dataclass(frozen=True, slots=True)
class Cell:
    """A class and size: ``area`` is the sum of the area bounds."""

    kind: int
    size: int
    area: int
    fixed: Variant
    turned: Variant

    @property
    def group(self) -> str:
        """Name of the group of instances."""
        return f"CLASS{self.kind:02d}_{self.size:03d}"


@dataclass(frozen=True, slots=True)
class Published:
    """A total over the 500 instances; ``seconds`` is the limit for one, None where not given."""

    source: str
    sheets: int
    seconds: float | None


TOTALS_FIXED = (
    Published("quoted best, origin unclear", 7266, None),
    Published("Fontan & Libralesso 2020, three stages", 7278, 60.0),
    Published("Pietrobuoni 2015", 7281, 1800.0),
)
"""Parts not turned. No total for parts that may turn has been published."""

CELLS = (
    Cell(1, 20, 64, Variant(69, 71, 0), Variant(66, 66, 0)),
    Cell(1, 40, 120, Variant(131, 134, 0), Variant(128, 128, 0)),
    Cell(1, 60, 185, Variant(199, 200, 0), Variant(195, 195, 0)),
    Cell(1, 80, 253, Variant(275, 275, 0), Variant(270, 270, 0)),
    Cell(1, 100, 305, Variant(317, 317, 0), Variant(313, 313, 0)),
    Cell(2, 20, 10, Variant(10, 10, 0), Variant(10, 10, 0)),
    Cell(2, 40, 19, Variant(19, 19, 1), Variant(19, 19, 0)),
    Cell(2, 60, 25, Variant(25, 25, 0), Variant(25, 25, 0)),
    Cell(2, 80, 31, Variant(31, 31, 0), Variant(31, 31, 0)),
    Cell(2, 100, 39, Variant(39, 39, 0), Variant(39, 39, 0)),
    Cell(3, 20, 44, Variant(47, 51, 1), Variant(47, 47, 0)),
    Cell(3, 40, 82, Variant(92, 94, 0), Variant(90, 92, 0)),
    Cell(3, 60, 125, Variant(136, 139, 0), Variant(132, 134, 0)),
    Cell(3, 80, 173, Variant(188, 189, 0), Variant(182, 182, 0)),
    Cell(3, 100, 205, Variant(220, 223, 0), Variant(215, 219, 0)),
    Cell(4, 20, 10, Variant(10, 10, 3), Variant(10, 10, 1)),
    Cell(4, 40, 19, Variant(19, 19, 9), Variant(19, 19, 2)),
    Cell(4, 60, 23, Variant(23, 23, 10), Variant(23, 23, 7)),
    Cell(4, 80, 30, Variant(30, 30, 10), Variant(30, 30, 10)),
    Cell(4, 100, 37, Variant(37, 37, 10), Variant(37, 37, 7)),
    Cell(5, 20, 54, Variant(60, 64, 1), Variant(59, 59, 0)),
    Cell(5, 40, 101, Variant(116, 119, 0), Variant(113, 114, 0)),
    Cell(5, 60, 157, Variant(177, 180, 3), Variant(169, 173, 1)),
    Cell(5, 80, 215, Variant(241, 246, 2), Variant(236, 238, 0)),
    Cell(5, 100, 259, Variant(279, 282, 6), Variant(272, 276, 0)),
    Cell(6, 20, 10, Variant(10, 10, 10), Variant(10, 10, 10)),
    Cell(6, 40, 15, Variant(15, 15, 10), Variant(15, 15, 10)),
    Cell(6, 60, 21, Variant(21, 21, 10), Variant(21, 21, 10)),
    Cell(6, 80, 30, Variant(30, 30, 10), Variant(30, 30, 10)),
    Cell(6, 100, 32, Variant(32, 32, 10), Variant(32, 32, 10)),
    Cell(7, 20, 47, Variant(53, 55, 0), Variant(47, 52, 0)),
    Cell(7, 40, 97, Variant(109, 111, 0), Variant(97, 101, 0)),
    Cell(7, 60, 140, Variant(156, 158, 0), Variant(140, 145, 0)),
    Cell(7, 80, 197, Variant(224, 230, 2), Variant(200, 206, 1)),
    Cell(7, 100, 238, Variant(269, 269, 6), Variant(239, 245, 3)),
    Cell(8, 20, 48, Variant(55, 58, 0), Variant(49, 53, 0)),
    Cell(8, 40, 96, Variant(112, 113, 0), Variant(97, 103, 0)),
    Cell(8, 60, 141, Variant(159, 160, 1), Variant(141, 146, 0)),
    Cell(8, 80, 195, Variant(223, 224, 3), Variant(198, 202, 2)),
    Cell(8, 100, 241, Variant(274, 276, 4), Variant(242, 251, 1)),
    Cell(9, 20, 94, Variant(143, 143, 0), Variant(143, 143, 0)),
    Cell(9, 40, 180, Variant(275, 278, 0), Variant(275, 275, 0)),
    Cell(9, 60, 276, Variant(435, 437, 0), Variant(435, 435, 0)),
    Cell(9, 80, 371, Variant(574, 577, 0), Variant(573, 573, 0)),
    Cell(9, 100, 450, Variant(693, 695, 0), Variant(693, 693, 0)),
    Cell(10, 20, 38, Variant(40, 42, 1), Variant(39, 41, 0)),
    Cell(10, 40, 69, Variant(72, 74, 5), Variant(70, 72, 1)),
    Cell(10, 60, 94, Variant(97, 100, 9), Variant(95, 97, 2)),
    Cell(10, 80, 122, Variant(124, 126, 9), Variant(122, 124, 6)),
    Cell(10, 100, 153, Variant(153, 155, 10), Variant(153, 154, 7)),
)

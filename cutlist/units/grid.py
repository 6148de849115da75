"""The integer grid of a job: exact lengths as whole numbers of their greatest common divisor."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm
from typing import TYPE_CHECKING, Final

from cutlist.errors import LengthError

if TYPE_CHECKING:
    from collections.abc import Iterable

#: Longest length in grid units. Products of two such numbers still fit 64-bit integers.
MAX_COUNT: Final = 2**30


@dataclass(frozen=True, slots=True)
class Grid:
    """A unit of which every length of a job is a whole multiple.

    Parameters
    ----------
    unit
        Length of one grid step, in the job's unit.
    """

    unit: Fraction

    @classmethod
    def of(cls, lengths: Iterable[Fraction]) -> Grid:
        """Give the coarsest grid that holds all ``lengths``; zeros are on every grid.

        Raises
        ------
        LengthError
            If the longest would be more than ``MAX_COUNT`` steps: the lengths share no divisor
            that any saw could tell from zero.
        """
        longest = Fraction(0)
        top, bottom = 0, 1
        for length in lengths:
            common = lcm(bottom, length.denominator)
            top = gcd(top * (common // bottom), length.numerator * (common // length.denominator))
            bottom = common
            longest = max(longest, length)
        unit = Fraction(top, bottom) if top else Fraction(1)
        if longest / unit > MAX_COUNT:
            raise LengthError(
                f"a common step of {float(unit):.3g}",
                "the lengths are too fine for each other to be kept exactly",
                "lengths to 1/64 in or 0.1 mm",
            )
        return cls(unit)

    def to_int(self, length: Fraction) -> int:
        """Give ``length`` in grid steps.

        Raises
        ------
        ValueError
            If it is not a whole number of steps.
        """
        steps = length / self.unit
        if steps.denominator != 1:
            raise ValueError(f"{length} is not a multiple of the grid's {self.unit}")
        return steps.numerator

    def to_length(self, steps: int) -> Fraction:
        """Give the length of ``steps`` grid steps, in the job's unit."""
        return _times(self.unit, steps)


@lru_cache(maxsize=50_000)
def _times(unit: Fraction, steps: int) -> Fraction:
    """Multiply; a plan has most of its lengths many times over."""
    return steps * unit

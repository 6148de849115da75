"""Values of Python to the nodes that a job file is read from, so that both are read alike.

A number stays exact. Of a float the shortest decimal that stands for it is taken, where that has at
most 15 digits: every decimal of so many survives being stored as a float of 64 bits (IEEE 754,
binary64), so it is the one that was meant. A float that needs more digits is the nearest to some
number that it is not, such as a third, and is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from math import isfinite
from numbers import Integral, Rational
from typing import TYPE_CHECKING, Final

from cutlist.errors import FaultCode
from cutlist.reading.fields import RefusedError
from cutlist.reading.kinds import TRUTH
from cutlist.reading.nodes import MAX_DEPTH, Items, Node, Refused, Scalar, Table
from cutlist.reading.places import Mark, Spot

if TYPE_CHECKING:
    from cutlist.reading.faults import Faults

#: Decimal digits that a float keeps, whichever they are.
_FLOAT_DIGITS: Final = 15
#: No number of a job comes near to this, nor to its inverse.
_LARGEST_POWER: Final = 40
_LARGEST: Final = 10**_LARGEST_POWER
_EXACT: Final = "a Fraction, a Decimal, or text such as '23 5/8'"


@dataclass(frozen=True, slots=True)
class Measured:
    """A number in a unit that no text of the job file need name: ``kg`` or ``kg/m3``."""

    value: Fraction
    unit: str


@dataclass(frozen=True, slots=True)
class Refusal:
    """Stands for a value whose fault is reported already."""


def exact_number(value: object) -> Fraction:
    """Give a number of any of Python's kinds as the exact one that it stands for.

    Raises
    ------
    RefusedError
        If it is none, not finite, beyond all measure, or a float that is not exact.
    """
    if isinstance(value, bool) or not isinstance(value, Rational | Decimal | float):
        raise RefusedError(f"{_a(value)} is no number", _EXACT, FaultCode.WRONG_TYPE)
    if isinstance(value, Decimal | float) and not isfinite(value):
        raise RefusedError("this is not a finite number", _EXACT, FaultCode.OUT_OF_RANGE)
    if isinstance(value, float):
        decimal = Decimal(repr(float(value)))
        if len(decimal.normalize().as_tuple().digits) > _FLOAT_DIGITS:
            problem = "this float is the nearest to a number that it does not keep"
            raise RefusedError(problem, _EXACT, FaultCode.LOSSY)
        value = decimal
    if isinstance(value, Decimal) and value and abs(value.adjusted()) > _LARGEST_POWER:
        raise RefusedError("this number is beyond all measure", _EXACT, FaultCode.OUT_OF_RANGE)
    exact = Fraction(int(value)) if isinstance(value, Integral) else Fraction(value)
    if abs(exact) > _LARGEST or exact.denominator > _LARGEST:
        raise RefusedError("this number is beyond all measure", _EXACT, FaultCode.OUT_OF_RANGE)
    return exact


def number_text(value: object, exact: Fraction) -> str:
    """Write a number as a job file would: a decimal where it is one, else a fraction."""
    if isinstance(value, Decimal | float):
        return format(Decimal(repr(float(value)) if isinstance(value, float) else value), "f")
    places = 0
    while places < 20 and (exact * 10**places).denominator != 1:
        places += 1
    if (exact * 10**places).denominator != 1:
        return str(exact)
    return format(Decimal(int(exact * 10**places)).scaleb(-places), "f")


def _a(value: object) -> str:
    if value is None or isinstance(value, bool):
        return str(value)
    name = type(value).__name__
    return f"{'an' if name[:1].lower() in 'aeiou' else 'a'} {name}"


class NodeMaker:
    """Turns values into nodes, each with its place in the order in which they are read."""

    def __init__(self, faults: Faults) -> None:
        self._faults = faults
        self._count = 0

    def node(self, value: object, path: str = "", depth: int = 1) -> Node:
        """Turn a value into a node; what cannot stand in a job is reported."""
        self._count += 1
        mark = Mark(0, 0, self._count)
        if isinstance(value, Refusal):
            return Refused(mark)
        if depth > MAX_DEPTH:
            message = f"this is nested more than {MAX_DEPTH} deep"
            self._faults.at(Spot(mark, path), FaultCode.TOO_MANY, message, "keys, lists and values")
            return Refused(mark)
        if isinstance(value, Mapping):
            return self._table(value, mark, path, depth)
        if isinstance(value, list | tuple):
            items = (
                self.node(item, f"{path}[{number}]", depth + 1)
                for number, item in enumerate(value, 1)
            )
            return Items(mark, tuple(items))
        return self._scalar(value, mark, path)

    def _table(self, value: Mapping[object, object], mark: Mark, path: str, depth: int) -> Table:
        pairs: list[tuple[Node, Node]] = []
        for key, below in value.items():
            name = key.value if isinstance(key, Enum) else key
            where = f"{path}.{name}".lstrip(".")
            word = Scalar(mark, str(name), plain=name is None)
            pairs.append((word, self.node(below, where, depth + 1)))
        return Table(mark, tuple(pairs))

    def _scalar(self, value: object, mark: Mark, path: str) -> Node:
        if value is None:
            return Scalar(mark, "null", plain=True)
        if isinstance(value, Enum):
            value = value.value
        if isinstance(value, str):
            return Scalar(mark, value, plain=False)
        if isinstance(value, bool):
            return Scalar(mark, repr_of(value), plain=False, exact=Fraction(value), unit=TRUTH)
        if isinstance(value, Measured):
            text = f"{float(value.value):.6g} {value.unit}"
            return Scalar(mark, text, plain=False, exact=value.value, unit=value.unit)
        try:
            exact = exact_number(value)
        except RefusedError as error:
            problem = error.problem
            if not isinstance(value, int | float | Decimal | Fraction):
                problem = f"{_a(value)} stands for nothing in a job"
            self._faults.at(Spot(mark, path, repr_of(value)), error.code, problem, error.accepted)
            return Refused(mark)
        return Scalar(mark, number_text(value, exact), plain=True, exact=exact)


def repr_of(value: object) -> str:
    """Show a value in a fault, whatever it is."""
    if isinstance(value, int) and abs(value) > _LARGEST:
        return f"a number of {value.bit_length()} bits"
    if isinstance(value, str | int | float | Decimal | Fraction | None):
        return str(value)
    if isinstance(value, Iterable):
        return type(value).__name__
    return f"{value!r}"

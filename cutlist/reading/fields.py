"""From a value's text to the value, one function for each kind; nothing is guessed.

What was built in code may hold the exact number itself in place of a text: lengths are taken so,
weights and densities in kilograms, and truth values. The same limits hold for both.
"""

from __future__ import annotations

import re
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeAlias, TypeVar

from cutlist.errors import FaultCode, LengthError
from cutlist.reading.faults import did_you_mean
from cutlist.units.lengths import read_length, read_size
from cutlist.units.masses import KG_PER_LB, KG_PER_M3_OF_A_LB_PER_FT3

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from cutlist.units.system import Units

E = TypeVar("E", bound=StrEnum)

#: In kg/m³; outside these a unit was mixed up. Balsa cores weigh more than the one, high-pressure
#: laminate less than the other (from memory).
DENSITIES: Final = (100, 1500)
MAX_COUNT: Final = 9999
LONGEST_NAME: Final = 80
MAX_MONEY: Final = 10_000_000
_RANGE: Final = FaultCode.OUT_OF_RANGE


#: What a length or another quantity may be read from: a text, or the exact number itself.
Given: TypeAlias = str | Fraction


class RefusedError(Exception):
    """A value cannot be taken; ``problem`` says why, ``accepted`` what to write instead."""

    def __init__(
        self, problem: str, accepted: str, code: FaultCode = FaultCode.WRONG_VALUE
    ) -> None:
        self.problem = problem
        self.accepted = accepted
        self.code = code
        super().__init__(problem)


def code_of(error: RefusedError | LengthError) -> FaultCode:
    """Give the code of the fault that a refused value is."""
    return error.code if isinstance(error, RefusedError) else FaultCode.WRONG_LENGTH


def name(text: str) -> str:
    """Read a name: one line of printable text; white space within counts as one space."""
    words = " ".join(text.split())
    if not words:
        raise RefusedError("the name is empty", "a name, such as shelf")
    if not words.isprintable():
        raise RefusedError("a name is plain printable text", "a name, such as shelf")
    if len(words) > LONGEST_NAME:
        raise RefusedError(f"a name has at most {LONGEST_NAME} characters", "a shorter name")
    return words


def length(units: Units) -> Callable[[Given], Fraction]:
    """Give the reader of a length of 0 or more."""
    return lambda given: read_length(given, units)


def positive_length(units: Units) -> Callable[[Given], Fraction]:
    """Give the reader of a length of more than 0."""

    def read(given: Given) -> Fraction:
        value = read_length(given, units)
        if not value:
            raise RefusedError("this must be more than 0", "a length above 0", _RANGE)
        return value

    return read


def size(units: Units) -> Callable[[str | Sequence[Given]], tuple[Fraction, Fraction]]:
    """Give the reader of a size, both sides more than 0."""

    def read(value: str | Sequence[Given]) -> tuple[Fraction, Fraction]:
        length, width = read_size(value, units)
        if not length or not width:
            raise RefusedError("both sides must be more than 0", "two lengths above 0", _RANGE)
        return length, width

    return read


def whole(least: int) -> Callable[[str], int]:
    """Give the reader of a whole number of at least ``least``."""
    accepted = f"a whole number from {least} to {MAX_COUNT}"

    def read(text: str) -> int:
        if not re.fullmatch(r"-?(0|[1-9][0-9]*)", text):
            whole_part = re.fullmatch(r"([1-9][0-9]*)\.0*", text)
            hint = accepted if whole_part is None else f"{whole_part[1]}, without the point"
            raise RefusedError("this is not a whole number", hint)
        if len(text) > len(str(MAX_COUNT)) or not least <= int(text) <= MAX_COUNT:
            raise RefusedError("this number is out of range", accepted, _RANGE)
        return int(text)

    return read


def money(text: str) -> Decimal:
    """Read an amount of money, 0 or more, in whatever currency the user thinks in."""
    accepted = "a plain number, such as 74.00"
    if text.startswith("-"):
        raise RefusedError("money cannot be negative here", accepted, _RANGE)
    if "," in text:
        raise RefusedError("a decimal is written with a point", accepted)
    if not re.fullmatch(r"[0-9]{1,9}(\.[0-9]{1,4})?", text):
        raise RefusedError("this is not an amount of money", accepted)
    amount = Decimal(text)
    if amount > MAX_MONEY:
        raise RefusedError("this is more money than any sheet costs", accepted, _RANGE)
    return amount


def weight(given: Given) -> Fraction:
    """Read a weight in lb or kg; the result, as a number given, is in kilograms."""
    accepted = "a weight with its unit: 600 lb or 270 kg"
    value = given if isinstance(given, Fraction) else _kilograms(given, accepted)
    if value <= 0:
        raise RefusedError("this must be more than 0", accepted, _RANGE)
    return value


def _kilograms(text: str, accepted: str) -> Fraction:
    match = re.fullmatch(r"([0-9]{1,9}(?:\.[0-9]{1,4})?)\s*(lbs?|kg)?", text)
    if match is None:
        raise RefusedError("this is not a weight", accepted)
    if match[2] is None:
        raise RefusedError("the weight's unit is missing", accepted, FaultCode.MISSING_UNIT)
    return Fraction(match[1]) * (1 if match[2] == "kg" else KG_PER_LB)


def density(given: Given) -> Fraction:
    """Read a mass by volume in kg/m3 or lb/ft3; the result, as a number given, is in kg/m³."""
    accepted = "a density with its unit: 700 kg/m3 or 44 lb/ft3"
    value = given if isinstance(given, Fraction) else _kg_per_m3(given, accepted)
    if not DENSITIES[0] <= value <= DENSITIES[1]:
        problem = "no board is so light or so heavy; is the unit right?"
        raise RefusedError(problem, accepted, FaultCode.UNIT_DOUBT)
    return value


def _kg_per_m3(text: str, accepted: str) -> Fraction:
    match = re.fullmatch(r"([0-9]{1,9}(?:\.[0-9]{1,4})?)\s*((?:kg/m|lb/ft)[3³])?", text)
    if match is None:
        raise RefusedError("this is not a density", accepted)
    if match[2] is None:
        raise RefusedError("the density's unit is missing", accepted, FaultCode.MISSING_UNIT)
    return Fraction(match[1]) * (1 if match[2].startswith("kg") else KG_PER_M3_OF_A_LB_PER_FT3)


def percent(text: str) -> Decimal:
    """Read a rate in per cent; the sign has to stand there, since 0.08 may mean 8 %."""
    match = re.fullmatch(r"([0-9]{1,2}(?:\.[0-9]{1,4})?)\s*%", text)
    if match is None:
        raise RefusedError("this is not a rate in per cent", "a rate with its sign, such as 8.25 %")
    return Decimal(match[1])


def minutes(text: str) -> Fraction:
    """Read a number of minutes, 0 or more."""
    if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,4})?", text):
        raise RefusedError("this is not a number of minutes", "a plain number, such as 2 or 1.5")
    return Fraction(text)


def yes_or_no(given: Given) -> bool:
    """Read yes or no, also as YAML's truth values are written out, or 1 or 0 for them."""
    if isinstance(given, Fraction):
        return bool(given)
    if given not in ("yes", "true", "no", "false"):
        raise RefusedError("this is neither yes nor no", "yes | no")
    return given in ("yes", "true")


def choice(kind: type[E]) -> Callable[[str], E]:
    """Give the reader of one of a few words."""
    words = [member.value for member in kind]

    def read(text: str) -> E:
        if text not in words:
            hint = did_you_mean(text, words, " | ".join(words))
            raise RefusedError(f"this is none of {', '.join(words)}", hint)
        return kind(text)

    return read

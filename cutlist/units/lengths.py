"""Exact lengths: read as people write them, printed as the trade prints them.

A length is a :class:`fractions.Fraction` in the job's unit, from reading to printing; nothing is
rounded on the way in, and what printing has to round is marked with ``≈``.

Conversion is exact: 1 in = 25.4 mm (international yard and pound agreement of 1959; NIST Special
Publication 811, appendix B).
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import floor, isfinite
from typing import TYPE_CHECKING, Final

from cutlist.errors import LengthError
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = [
    "MM_PER_INCH",
    "LengthError",
    "convert",
    "finest_mark",
    "format_area",
    "format_length",
    "format_size",
    "format_thickness",
    "is_shown_exactly",
    "other_unit",
    "read_length",
    "read_size",
]

MM_PER_INCH: Final = Fraction(254, 10)

#: Millimetres in each unit a length may carry.
_MM: Final = {
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}
_UNIT_WORDS: Final = {
    '"': "in",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "'": "ft",
    "ft": "ft",
    "foot": "ft",
    "feet": "ft",
    "mm": "mm",
    "cm": "cm",
    "m": "m",
}
_VULGAR: Final = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅐": "1/7", "⅛": "1/8", "⅜": "3/8",
    "⅝": "5/8", "⅞": "7/8", "⅑": "1/9", "⅒": "1/10",
}  # fmt: skip
#: What word processors and drawings put in place of the plain characters.
_PLAIN: Final = str.maketrans(
    {
        **dict.fromkeys("′’‘ʹ", "'"),
        **dict.fromkeys("″”“ʺ", '"'),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("‐‑–", "-"),
        **dict.fromkeys("\t\xa0\u2002\u2003\u2007\u2008\u2009\u200a\u202f", " "),
        **{v: f" {text}" for v, text in _VULGAR.items()},
    }
)
_LONGEST_TEXT: Final = 60
#: A kilometre in mm; whatever is longer is a slip of the finger.
_LONGEST: Final = 10**6
#: A Decimal may carry an exponent that no memory holds once written out.
_DIGITS: Final = 40
_MAX_DENOMINATOR: Final = 1000
#: Places after the point that still read well: 0.0005 in is finer than any caliper in a shop.
_PLACES: Final = {Units.INCH: 4, Units.MM: 3}

_NUMBER: Final = r"(?:\d+\.\d*|\.\d+|\d+(?:\s*-\s*|\s+)\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+)"
_UNIT: Final = r"(?:\"|''|'|in(?:ch(?:es)?)?\.?|ft\.?|foot|feet|mm|cm|m)"
_LENGTH: Final = re.compile(
    rf"(?P<first>{_NUMBER})\s*(?P<unit>{_UNIT})?"
    rf"(?:\s*-?\s*(?P<second>{_NUMBER})\s*(?P<second_unit>{_UNIT}))?",
    re.IGNORECASE | re.ASCII,
)
_NUMBER_PARTS: Final = re.compile(r"(?:(?P<whole>\d+)[\s-]+)?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)")
_TIMES: Final = re.compile(r"[x×]", re.IGNORECASE)


# ---- reading -------------------------------------------------------------------------------


def read_length(value: str | int | float | Fraction | Decimal, units: Units) -> Fraction:
    """Read a length, zero or more, into the job's unit.

    Parameters
    ----------
    value
        A number in the job's unit, or text that may carry a unit of its own: ``23.625``,
        ``23 5/8``, ``23-5/8``, ``23 5/8"``, ``2' 3 1/2"``, ``2 ft 3 1/2 in``, ``600 mm``,
        ``60 cm``, ``½``, ``1½``. Of a float the shortest decimal that stands for it is taken.
    units
        Unit of the result, and of a value that carries none.

    Raises
    ------
    LengthError
        For everything else; the message shows an accepted form.
    """
    if isinstance(value, str):
        number, unit, _ = _parse(value, units)
        return _sane(_in_job_unit(number, unit, units), value, units)
    if isinstance(value, bool) or not isinstance(value, (int, float, Fraction, Decimal)):
        raise _refusal(str(value), "this is not a length", units)
    if isinstance(value, float) and not isfinite(value):
        raise _refusal(str(value), "this is not a length", units)
    if isinstance(value, Decimal) and not (value.is_finite() and abs(value.adjusted()) < _DIGITS):
        raise _refusal(str(value), "this is not a length", units)
    exact = Fraction(repr(value)) if isinstance(value, float) else Fraction(value)
    if exact < 0:
        raise _refusal(str(value), "a length cannot be negative", units)
    return _sane(exact, str(value), units)


def read_size(
    value: str | Sequence[str | int | float | Fraction | Decimal], units: Units
) -> tuple[Fraction, Fraction]:
    """Read a size, ``LENGTH x WIDTH`` or a list of the two, into the job's unit.

    Each length may carry its own unit: ``24 in x 600 mm``. A unit in letters that stands only
    after the second counts for both: ``2440 x 1220 mm`` is 2440 mm by 1220 mm, and ``8 x 4 ft`` is
    in feet, in a job of either unit. A mark belongs to its own number: ``30 x 4'`` is 30 in by 4 ft
    in an inch job, and is refused in a mm job, where the 30 may be either.

    Raises
    ------
    LengthError
        If it is not two readable lengths.
    """
    if not isinstance(value, str):
        if isinstance(value, (bytes, bytearray)) or not hasattr(value, "__len__"):
            raise _size_refusal(str(value), "a size is two lengths", units)
        if len(value) != 2:
            raise _size_refusal(str(value), f"a size is two lengths, not {len(value)}", units)
        return read_length(value[0], units), read_length(value[1], units)
    halves = _TIMES.split(value)
    if len(halves) != 2:
        problem = "a size is a length and a width with x between them"
        raise _size_refusal(value, problem, units)
    if not all(half.strip() for half in halves):
        raise _size_refusal(value, "one side of the size is missing", units)
    length, length_unit, _ = _parse(halves[0], units)
    width, width_unit, is_lettered = _parse(halves[1], units)
    if length_unit is None and width_unit is not None:
        if is_lettered:
            length_unit = width_unit
        elif units is Units.MM:
            problem = "it is not clear which unit the first length is in"
            raise _size_refusal(value, problem, units)
    return (
        _sane(_in_job_unit(length, length_unit, units), value, units),
        _sane(_in_job_unit(width, width_unit, units), value, units),
    )


def _in_job_unit(number: Fraction, unit: str | None, units: Units) -> Fraction:
    return number if unit is None else number * _MM[unit] / _MM[units.value]


def _sane(length: Fraction, text: str, units: Units) -> Fraction:
    if length > _LONGEST:
        raise _refusal(text, "this is longer than any sheet", units)
    return length


def _parse(text: str, units: Units) -> tuple[Fraction, str | None, bool]:
    """Give the number, its unit (None: it carries none), and whether that is one in letters."""
    if len(text) > _LONGEST_TEXT:
        raise _refusal(text, "this is too long for a length", units)
    plain = text.translate(_PLAIN).strip(" ")
    match = _LENGTH.fullmatch(plain)
    if match is None:
        raise _refusal(text, _problem(plain), units)
    number = _number(text, match["first"], units)
    unit = _unit(match["unit"])
    if match["second"] is None:
        return number, unit, (match["unit"] or "").rstrip(".").isalpha()
    inches = _number(text, match["second"], units)
    if unit != "ft" or _unit(match["second_unit"]) != "in":
        raise _refusal(text, "only feet and inches go together in one length", units)
    if number.denominator != 1:
        raise _refusal(text, "feet must be whole where inches follow", units)
    if inches >= 12:
        raise _refusal(text, "inches after feet must be less than 12", units)
    return 12 * number + inches, "in", False


def _unit(written: str | None) -> str | None:
    if written is None:
        return None
    return "in" if written == "''" else _UNIT_WORDS[written.lower().rstrip(".")]


def _number(text: str, written: str, units: Units) -> Fraction:
    """Read a decimal, a whole number, a fraction or a whole number with a fraction."""
    if re.match(r"0\d", written):
        raise _refusal(text, "a number does not start with a needless 0", units)
    parts = _NUMBER_PARTS.fullmatch(written)
    if parts is None:
        return Fraction(f"0{written}" if written.startswith(".") else written.rstrip("."))
    top, bottom = int(parts["top"]), int(parts["bottom"])
    if bottom == 0:
        raise _refusal(text, "a fraction cannot have 0 below the line", units)
    if bottom > _MAX_DENOMINATOR:
        problem = f"a fraction finer than 1/{_MAX_DENOMINATOR} is written with a decimal point"
        raise _refusal(text, problem, units)
    if parts["whole"] is None:
        return Fraction(top, bottom)
    if top >= bottom:
        raise _refusal(text, "a fraction after a whole number must be less than 1", units)
    return int(parts["whole"]) + Fraction(top, bottom)


#: What is usually meant by text that is no length; the first pattern found names the problem.
_PROBLEMS: Final = tuple(
    (re.compile(pattern, re.IGNORECASE), problem)
    for pattern, problem in (
        (r"^$", "the length is missing"),
        (r"^[-−]\s*[\d.]", "a length cannot be negative"),
        (r"^\+", "a length carries no sign"),
        (r"\d,\d", "a decimal is written with a point, thousands without a mark"),
        (r"^[\d.]+e[-+]?\d+$", "an exponent is not read; write the number out"),
        (r"^0x[0-9a-f]+$|\d_\d|\d:\d", "write the number in plain digits"),
        (r"/.*/|\d\s+\d+/\d+\s+\d", "there is one fraction too many"),
        (r"\d\.\d*\s+\d+/\d+|\d/\d+\.\d|\.\d+/", "a decimal and a fraction do not go together"),
        (r"\d\s*['\"]?\s*[x×]\s*\d", "this is a size; one length is wanted"),
        (r"\d\s*'\s*\d", "the inches after feet need their own mark"),
        (r"^\d+\s+\d+$", "two numbers; is a fraction's line missing?"),
        (r"[²³¹⁰-⁹₀-₉]", "raised and lowered figures are not read"),
        (r"\d[^\d]*[a-z]", "this unit is not known; in, ft, mm, cm and m are"),
    )
)


def _problem(plain: str) -> str:
    for pattern, problem in _PROBLEMS:
        if pattern.search(plain):
            return problem
    return "this is not a length"


def _shorten(text: str) -> str:
    return text if len(text) <= _LONGEST_TEXT else text[: _LONGEST_TEXT - 1] + "…"


def _refusal(text: str, problem: str, units: Units) -> LengthError:
    accepted = (
        "23 5/8, 23.625, 2' 3 1/2\" or 600 mm"
        if units is Units.INCH
        else '600, 600.5, 60 cm or 23 5/8"'
    )
    return LengthError(_shorten(text), problem, accepted)


def _size_refusal(text: str, problem: str, units: Units) -> LengthError:
    accepted = (
        "34 1/2 x 23 1/4 or 2440 mm x 1220 mm"
        if units is Units.INCH
        else "600 x 400.5 or 24 in x 12 in"
    )
    return LengthError(_shorten(text), problem, accepted)


# ---- printing ------------------------------------------------------------------------------


def convert(value: Fraction, units: Units, to: Units) -> Fraction:
    """Give the same length in another unit, exactly."""
    return value * _MM[units.value] / _MM[to.value]


def finest_mark(units: Units) -> Fraction:
    """Give the finest mark printed where no scale is given: 1/64 in or 0.1 mm."""
    return Fraction(1, 64) if units is Units.INCH else Fraction(1, 10)


def is_shown_exactly(value: Fraction, scale: Fraction) -> bool:
    """Tell whether a scale with marks ``scale`` apart has a mark at ``value``."""
    return value % scale == 0


def format_length(
    value: Fraction, units: Units, scale: Fraction | None = None, *, unit: bool = True
) -> str:
    """Print a length to the marks of a scale: ``23 5/8"``, ``600 mm``.

    What the scale cannot show is rounded to the nearest mark (upwards from the middle) and marked:
    ``≈ 23 5/8"``. Text without that mark reads back to exactly ``value``.

    Parameters
    ----------
    value
        Length in ``units``.
    scale
        Distance of the marks, in ``units``; None for 1/64 in or 0.1 mm.
    unit
        False leaves the unit out, for a column whose head names it.
    """
    figure, exact = _figure(value, units, finest_mark(units) if scale is None else scale)
    suffix = _suffix(units) if unit else ""
    return f"{'' if exact else '≈ '}{figure}{suffix}"


def format_size(
    length: Fraction, width: Fraction, units: Units, scale: Fraction | None = None
) -> str:
    """Print a size: ``34 1/2" × 23 1/4"`` or ``2440 × 1220 mm``.

    Rounding is as for a length; one mark stands in front if either of the two is rounded.
    """
    step = finest_mark(units) if scale is None else scale
    first, first_exact = _figure(length, units, step)
    second, second_exact = _figure(width, units, step)
    mark = "" if first_exact and second_exact else "≈ "
    first += '"' if units is Units.INCH else ""
    return f"{mark}{first} × {second}{_suffix(units)}"


def format_thickness(value: Fraction, units: Units) -> str:
    """Print a thickness in the unit in which it is a plain figure.

    In an inch job 18 mm of plywood stays ``18 mm``; a label thickness stays ``0.703"``.
    """
    other = Units.MM if units is Units.INCH else Units.INCH
    for candidate, in_units in ((value, units), (convert(value, units, other), other)):
        figure, exact = _figure(candidate, in_units, finest_mark(in_units))
        if exact:
            return figure + _suffix(in_units)
    decimal = _decimal(value, _PLACES[units])
    return format_length(value, units) if decimal is None else decimal + _suffix(units)


def format_area(area: Fraction, units: Units, places: int) -> str:
    """Print an area, given in square units of a job, in square feet or square metres."""
    unit, name = (144, "sq ft") if units is Units.INCH else (1_000_000, "m²")
    return f"{float(area / unit):.{places}f} {name}"


def other_unit(value: Fraction, units: Units) -> str:
    """Print the same length in the other unit, for a second figure: ``≈ 600.1 mm``."""
    other = Units.MM if units is Units.INCH else Units.INCH
    return format_length(convert(value, units, other), other)


def _suffix(units: Units) -> str:
    return '"' if units is Units.INCH else " mm"


@lru_cache(maxsize=20_000)
def _figure(value: Fraction, units: Units, scale: Fraction) -> tuple[str, bool]:
    """Give the digits for the mark nearest to ``value``, and whether they stand for ``value``."""
    mark = floor(value / scale + Fraction(1, 2)) * scale
    exact = mark == value
    bottom = mark.denominator
    if units is Units.INCH and bottom <= 128 and bottom & (bottom - 1) == 0:
        return _mixed(mark), exact
    decimal = _decimal(mark, _PLACES[units])
    if decimal is not None:
        return decimal, exact
    # Marks of the other unit, or thirds: no figure of this unit is exact.
    places = _PLACES[units] - 1
    rounded = _decimal(Fraction(round(mark * 10**places), 10**places), places)
    assert rounded is not None
    return rounded, False


def _mixed(value: Fraction) -> str:
    """Print as a whole number and a fraction: ``23 5/8``, ``5/8``, ``0``."""
    sign, value = ("-", -value) if value < 0 else ("", value)
    whole, rest = divmod(value, 1)
    return sign + (" ".join(str(term) for term in (whole, rest) if term) or "0")


def _decimal(value: Fraction, places: int) -> str | None:
    """Print as a decimal without needless zeros; None if it has more than ``places`` places."""
    scaled = value * 10**places
    if scaled.denominator != 1:
        return None
    digits = f"{abs(scaled.numerator):0{places + 1}d}"
    text = f"{digits[:-places]}.{digits[-places:]}".rstrip("0").rstrip(".")
    return f"-{text}" if value < 0 else text

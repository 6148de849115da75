"""Exact lengths of the rack as text, and the rack as a list that a spreadsheet reads.

The list is comma-separated text (RFC 4180) in UTF-8 with a head; every length carries its unit.
"""

from __future__ import annotations

import csv
import io
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.units.lengths import convert
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from cutlist.model.rack import RackOffcut

__all__ = ["COLUMNS", "exact_text", "list_text"]

COLUMNS: Final = (
    "name",
    "material",
    "thickness",
    "size",
    "grain",
    "trim",
    "edges",
    "date",
    "job",
)
#: The finest fraction on a rule, and the finest that is read as a fraction.
_RULE: Final = 64
_FINEST: Final = 1000
#: Places after the point that still fit into what is read as one length.
_PLACES: Final = 40


def list_text(offcuts: Iterable[RackOffcut], units: Units) -> str:
    """Write pieces as a list: first the head, then a line for each."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in offcuts:
        writer.writerow(
            (
                one.name,
                one.material,
                exact_text(one.thickness, units),
                f"{exact_text(one.length, units)} x {exact_text(one.width, units)}",
                one.grain.value,
                exact_text(one.trim, units) if one.trim else "",
                " ".join(one.edges),
                "" if one.day is None else one.day.isoformat(),
                one.job,
            )
        )
    return stream.getvalue()


def exact_text(mm: Fraction, units: Units) -> str:
    """Write a length, given in millimetres, exactly, with its unit: ``23 5/8 in``, ``600.5 mm``.

    The unit asked for is taken where the length is on a rule in it, else whichever writes it
    plainly. What neither a decimal nor a fraction down to a thousandth can write is given as a
    plain fraction of a millimetre.
    """
    return next(_ways(mm, units))


def _ways(mm: Fraction, units: Units) -> Iterator[str]:
    inches = convert(mm, Units.MM, Units.INCH)
    decimal = _decimal(mm)
    on_rule = inches.denominator <= _RULE and not inches.denominator & (inches.denominator - 1)
    as_inches = f"{_mixed(inches)} in"
    if units is Units.MM and decimal is not None and len(decimal.partition(".")[2]) <= 2:
        yield f"{decimal} mm"
    if on_rule:
        yield as_inches
    if decimal is not None:
        yield f"{decimal} mm"
    if min(inches.denominator, mm.denominator) <= _FINEST:
        yield as_inches if inches.denominator < mm.denominator else f"{_mixed(mm)} mm"
    yield f"{mm} mm"


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    return " ".join(str(term) for term in (whole, rest) if term) or "0"


def _decimal(value: Fraction) -> str | None:
    """Write as a decimal; None where it would never end, or be too long to be read again."""
    rest, twos, fives = value.denominator, 0, 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    places = max(twos, fives)
    if rest != 1 or places > _PLACES:
        return None
    digits = f"{value.numerator * 10**places // value.denominator:0{places + 1}d}"
    return f"{digits[: len(digits) - places]}.{digits[len(digits) - places :]}".rstrip(".")

"""The kinds of value that a job file holds: how each is read, and what a schema says of it."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

from cutlist.model.job import FactoryEdge, Goal, Grain, Remainders, SawKind
from cutlist.model.rack import RackGrain
from cutlist.reading import fields, patterns
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from decimal import Decimal
    from enum import StrEnum

T = TypeVar("T")

#: Stands where a number has its unit: the number is 1 or 0 for True or False.
TRUTH: Final = "truth"


@dataclass(frozen=True, slots=True)
class Kind(Generic[T]):
    """A kind of value.

    Parameters
    ----------
    read
        For the job's unit the function that reads a text, or an exact number if it takes one. It
        raises `RefusedError` or `LengthError`.
    schema
        What a JSON Schema says of it.
    takes
        The unit in which an exact number, of a job built in code, is taken: empty for that of the
        job, :data:`TRUTH` for a truth value, None where only the text is read.
    is_size
        Whether two values in a list do as well.
    name
        What the schema calls it, to say it once for all keys that hold it; empty for an anonymous
        one.
    """

    read: Callable[[Units], Callable[[Any], T]]
    schema: Mapping[str, Any] = field(repr=False)
    takes: str | None = None
    is_size: bool = False
    name: str = ""


def _number_or_text(pattern: str, **limits: int) -> dict[str, Any]:
    return {"anyOf": [{"type": "number", **limits}, {"type": "string", "pattern": pattern}]}


def _choice(of: type[StrEnum]) -> dict[str, Any]:
    return {"enum": [member.value for member in of]}


def _whole(least: int) -> Kind[int]:
    limits: dict[str, Any] = {"type": "integer", "minimum": least, "maximum": fields.MAX_COUNT}
    # A text in quotes is read like one without.
    quoted = {"type": "string", "pattern": patterns.WHOLE if not least else patterns.COUNT}
    return Kind(lambda _: fields.whole(least), {"anyOf": [limits, quoted]})


#: An editor takes ``5``, ``1.5`` or ``true`` for more than text; here they are names.
NAME: Final[Kind[str]] = Kind(
    lambda _: fields.name,
    {
        "type": ["string", "number", "boolean"],
        "pattern": r"\S",
        "minLength": 1,
        "maxLength": fields.LONGEST_NAME,
    },
    name="name",
)
LENGTH: Final[Kind[Fraction]] = Kind(
    fields.length, _number_or_text(patterns.LENGTH, minimum=0), takes="", name="length"
)
POSITIVE_LENGTH: Final[Kind[Fraction]] = Kind(
    fields.positive_length,
    _number_or_text(patterns.POSITIVE_LENGTH, exclusiveMinimum=0),
    takes="",
    name="positive_length",
)
SIZE: Final[Kind[tuple[Fraction, Fraction]]] = Kind(
    fields.size,
    {
        "anyOf": [
            {"type": "string", "pattern": patterns.SIZE},
            {
                "type": "array",
                "items": {"$ref": "#/$defs/positive_length"},
                "minItems": 2,
                "maxItems": 2,
            },
        ]
    },
    takes="",
    is_size=True,
    name="size",
)
COUNT: Final = _whole(1)
COUNT_OR_0: Final = _whole(0)
MONEY: Final[Kind[Decimal]] = Kind(
    lambda _: fields.money,
    _number_or_text(patterns.MONEY, minimum=0, maximum=fields.MAX_MONEY),
    name="money",
)
MINUTES: Final[Kind[Fraction]] = Kind(
    lambda _: fields.minutes,
    _number_or_text(patterns.MINUTES, minimum=0, exclusiveMaximum=1000),
    name="minutes",
)
WEIGHT: Final[Kind[Fraction]] = Kind(
    lambda _: fields.weight, {"type": "string", "pattern": patterns.WEIGHT}, takes="kg"
)
DENSITY: Final[Kind[Fraction]] = Kind(
    lambda _: fields.density, {"type": "string", "pattern": patterns.DENSITY}, takes="kg/m3"
)
PERCENT: Final[Kind[Decimal]] = Kind(
    lambda _: fields.percent, {"type": "string", "pattern": patterns.PERCENT}
)
UNITS: Final[Kind[Units]] = Kind(lambda _: fields.choice(Units), _choice(Units))
SAW_KIND: Final[Kind[SawKind]] = Kind(lambda _: fields.choice(SawKind), _choice(SawKind))
PART_GRAIN: Final[Kind[Grain]] = Kind(lambda _: fields.choice(Grain), _choice(Grain))
STOCK_GRAIN: Final[Kind[RackGrain]] = Kind(lambda _: fields.choice(RackGrain), _choice(RackGrain))
REMAINDERS: Final[Kind[Remainders]] = Kind(lambda _: fields.choice(Remainders), _choice(Remainders))
FACTORY_EDGE: Final[Kind[FactoryEdge]] = Kind(
    lambda _: fields.choice(FactoryEdge), _choice(FactoryEdge)
)
GOAL: Final[Kind[Goal]] = Kind(lambda _: fields.choice(Goal), _choice(Goal))
#: YAML 1.1 reads ``yes`` and ``no`` as truth values, 1.2 as text.
YES_OR_NO: Final[Kind[bool]] = Kind(
    lambda _: fields.yes_or_no,
    {"anyOf": [{"type": "boolean"}, {"type": "string", "pattern": patterns.YES_OR_NO}]},
    takes=TRUTH,
)

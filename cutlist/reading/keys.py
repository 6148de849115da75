"""Every key of the job file: the one description that both the reader and the JSON Schema go by.

A key without a word on being needed may be left out; what the job is then is told by the model and
by ``docs/job-file.md``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Generic, TypeAlias, TypeVar

from cutlist.model.edges import Edge
from cutlist.reading import kinds
from cutlist.reading.kinds import Kind
from cutlist.units.system import Units

T = TypeVar("T")

#: What a fault shows where a key is missing; it may depend on the job's unit.
Example: TypeAlias = str | Mapping[Units, str]


@dataclass(frozen=True, slots=True)
class Key(Generic[T]):
    """A key that holds a single value, or a size.

    Parameters
    ----------
    name
        As it stands in the file.
    kind
        What it holds.
    needed
        An example to show where it is missing; None where it may be left out.
    may_be_none
        Whether ``none`` (or ``null``, ``~``) may stand there for "left out".
    or_else
        What may stand there instead of a single value: keys, or a list of entries.
    most
        So many values may stand there, in a list where there is more than one.
    """

    name: str
    kind: Kind[T]
    needed: Example | None = None
    may_be_none: bool = False
    or_else: Keys | Each | None = None
    most: int = 1


@dataclass(frozen=True, slots=True)
class Below:
    """A key that holds keys."""

    name: str
    keys: Keys
    needed: Example | None = None


@dataclass(frozen=True, slots=True)
class Each:
    """A key that holds a list, each entry of which has these keys."""

    name: str
    keys: Keys
    least: int = 0


@dataclass(frozen=True, slots=True)
class Keys:
    """The keys of one mapping, in the order in which they are told.

    ``elsewhere`` is the list whose entries have further keys that may be looked for here.
    """

    entries: tuple[Key[Any] | Below | Each, ...]
    elsewhere: Each | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The names alone."""
        return tuple(entry.name for entry in self.entries)


KERF: Final = Key("kerf", kinds.LENGTH, needed={Units.INCH: "kerf: 1/8", Units.MM: "kerf: 3.2"})
MAX_RIP: Final = Key("max_rip", kinds.POSITIVE_LENGTH, may_be_none=True)
SCALE: Final = Key("scale", kinds.POSITIVE_LENGTH, may_be_none=True)
MINUTES: Final = Key("minutes_per_setup", kinds.MINUTES)
SAW: Final = Keys((KERF, MAX_RIP, SCALE))

SAW_KIND: Final = Key("kind", kinds.SAW_KIND, needed="kind: table saw")
SAW_NAME: Final = Key("name", kinds.NAME)
LONGEST_CUT: Final = Key("longest_cut", kinds.POSITIVE_LENGTH, may_be_none=True)
#: More sizes than any sled is told of; each is looked at for every cut.
LARGEST_PIECE: Final = Key("largest_piece", kinds.SIZE, may_be_none=True, most=8)
SMALLEST_PIECE: Final = Key("smallest_piece", kinds.LENGTH, may_be_none=True)
STEADY_EDGE: Final = Key("steady_edge", kinds.LENGTH, may_be_none=True)
THINNEST_STRIP: Final = Key("thinnest_strip", kinds.LENGTH, may_be_none=True)
REPEATS: Final = Key("repeats", kinds.YES_OR_NO)
LISTED_SAW: Final = Keys(
    (
        SAW_KIND,
        SAW_NAME,
        *SAW.entries,
        LONGEST_CUT,
        LARGEST_PIECE,
        SMALLEST_PIECE,
        STEADY_EDGE,
        THINNEST_STRIP,
        REPEATS,
        MINUTES,
    )
)

STOCK_NAME: Final = Key("name", kinds.NAME, needed="name: rack 3")
MATERIAL: Final = Key("material", kinds.NAME, needed="material: birch ply")
STOCK_THICKNESS: Final = Key(
    "thickness",
    kinds.POSITIVE_LENGTH,
    needed={Units.INCH: "thickness: 3/4", Units.MM: "thickness: 18"},
)
STOCK_SIZE: Final = Key(
    "size", kinds.SIZE, needed={Units.INCH: "size: 96 x 48", Units.MM: "size: 2440 x 1220"}
)
PRICE: Final = Key("price", kinds.MONEY)
IN_STOCK: Final = Key("in_stock", kinds.COUNT_OR_0, may_be_none=True)
QTY: Final = Key("qty", kinds.COUNT)
TRIM: Final = Key("trim", kinds.LENGTH)
EDGES: Final = {edge: Key(edge.value, kinds.LENGTH) for edge in Edge}
TRIM_OF_EACH: Final = Key("trim", kinds.LENGTH, or_else=Keys(tuple(EDGES.values())))
FACTORY_EDGE: Final = Key("factory_edge", kinds.FACTORY_EDGE)
STOCK_GRAIN: Final = Key("grain", kinds.STOCK_GRAIN)
DENSITY: Final = Key("density", kinds.DENSITY)
WEIGHT: Final = Key("weight", kinds.WEIGHT)
_STOCK: Final = (STOCK_NAME, MATERIAL, STOCK_THICKNESS, STOCK_SIZE)
_WEIGHING: Final = (STOCK_GRAIN, DENSITY, WEIGHT)
SHEET: Final = Keys((*_STOCK, PRICE, IN_STOCK, TRIM, FACTORY_EDGE, *_WEIGHING))
OFFCUT: Final = Keys((*_STOCK, QTY, TRIM_OF_EACH, *_WEIGHING))

PART_NAME: Final = Key("name", kinds.NAME, needed="name: shelf")
PART_THICKNESS: Final = Key("thickness", kinds.POSITIVE_LENGTH)
PART_SIZE: Final = Key(
    "size",
    kinds.SIZE,
    needed={Units.INCH: "size: 34 1/2 x 23 1/4", Units.MM: "size: 720 x 560"},
)
PART_GRAIN: Final = Key("grain", kinds.PART_GRAIN)
VALUE: Final = Key("value", kinds.MONEY)
#: The sides of a part that a match may name, in the order of its size.
MATCHED_SIDES: Final = (Key("length", kinds.NAME), Key("width", kinds.NAME))
MATCH: Final = Key("match", kinds.NAME, or_else=Keys(MATCHED_SIDES))
PART: Final = Keys((PART_NAME, MATERIAL, PART_THICKNESS, PART_SIZE, QTY, PART_GRAIN, MATCH, VALUE))

ACCURACY: Final = Key("accuracy", kinds.LENGTH)
MAX_CUTS: Final = Key("max_cuts", kinds.COUNT_OR_0, may_be_none=True)
FREE_CUTS: Final = Key("free_cuts", kinds.COUNT_OR_0)
CUT_PRICE: Final = Key("cut_price", kinds.MONEY)
MIN_PIECE: Final = Key("min_piece", kinds.LENGTH)
STORE: Final = Keys((KERF, ACCURACY, MAX_CUTS, FREE_CUTS, CUT_PRICE, MIN_PIECE))

BED: Final = Key(
    "bed", kinds.SIZE, needed={Units.INCH: "bed: 72 x 40", Units.MM: "bed: 1800 x 1000"}
)
SECOND_OPENING: Final = Key("second_opening", kinds.SIZE, may_be_none=True)
MAX_LOAD: Final = Key("max_load", kinds.WEIGHT, may_be_none=True)
VEHICLE: Final = Keys((BED, SECOND_OPENING, MAX_LOAD))

KEPT_MATERIAL: Final = Key("material", kinds.NAME)
KEPT_SIZE: Final = Key("size", kinds.SIZE, needed="size: 12 x 4 in")
KEPT_OF_EACH: Final = Each("keep_from", Keys((KEPT_MATERIAL, KEPT_SIZE)))
KEEP_FROM: Final = Key("keep_from", kinds.SIZE, or_else=KEPT_OF_EACH)

JOB: Final = Key("job", kinds.NAME, needed="job: a name for the job")
UNITS: Final = Key("units", kinds.UNITS, needed="units: in | mm")
SAWS: Final = Each("saws", LISTED_SAW, least=1)
ONE_SAW: Final = Below(
    "saw",
    Keys(SAW.entries, elsewhere=SAWS),
    needed={Units.INCH: "saw: {kerf: 1/8}", Units.MM: "saw: {kerf: 3.2}"},
)
SHEETS: Final = Each("sheets", SHEET)
OFFCUTS: Final = Each("offcuts", OFFCUT)
#: The path of a rack, which is read where it is known from which folder it starts.
RACK: Final = Key("offcuts", kinds.NAME, or_else=OFFCUTS)
PARTS: Final = Each("parts", PART, least=1)
ONE_STORE: Final = Below("store", STORE)
ONE_VEHICLE: Final = Below("vehicle", VEHICLE)
ALSO_IN: Final = Key("also_in", kinds.UNITS)
REMAINDERS: Final = Key("remainders", kinds.REMAINDERS)
GOAL: Final = Key("goal", kinds.GOAL)
HOURLY_RATE: Final = Key("hourly_rate", kinds.MONEY)
TAX: Final = Key("tax", kinds.PERCENT)
TOP: Final = Keys(
    (
        JOB,
        UNITS,
        ONE_SAW,
        SAWS,
        SHEETS,
        RACK,
        PARTS,
        ONE_STORE,
        ONE_VEHICLE,
        KEEP_FROM,
        ALSO_IN,
        REMAINDERS,
        GOAL,
        MINUTES,
        HOURLY_RATE,
        TAX,
    )
)

"""Why a sound job cannot be cut, and what would help: values, put into words elsewhere."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import ClassVar

from cutlist.errors import Reason, ReasonCode
from cutlist.model.job import Job, Part, Sheet

#: Length and width.
Size = tuple[Fraction, Fraction]


class ObstacleKind(StrEnum):
    """What keeps a sheet from being taken home."""

    SIZE = "too large uncut"
    WEIGHT = "too heavy uncut"
    CUTS = "more cuts than the store makes"
    NARROW = "a piece narrower than the store cuts"
    NO_CUTS = "no cuts make it fit"


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A sheet that is not taken home.

    Parameters
    ----------
    sheet, kind
        Which, and why.
    kg
        Its weight where that is more than the vehicle carries.
    cuts, most
        Cuts that it takes, and that the store makes of one.
    """

    sheet: Sheet
    kind: ObstacleKind
    kg: Fraction | None = None
    cuts: int = 0
    most: int = 0


class RemedyKind(StrEnum):
    """What would do by itself."""

    MORE_CUTS = "more cuts a sheet"
    NARROWER_PIECES = "a store that cuts narrower pieces"
    LOAD = "a larger load"
    BED = "a larger bed"
    OPENING = "another opening"
    SHEET = "another size of sheet"


@dataclass(frozen=True, slots=True)
class Remedy:
    """Something that would do.

    Parameters
    ----------
    kind
        What.
    number
        Cuts a sheet, or the load in pounds or kilograms.
    more
        Cuts beyond those of the store.
    size, name
        Of a bed, an opening or a sheet; the sheet's name where the job has one of the size.
    """

    kind: RemedyKind
    number: int = 0
    more: int = 0
    size: Size | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class NoStock(Reason):
    """There is nothing of the material and thickness to cut the parts from."""

    code: ClassVar[ReasonCode] = ReasonCode.NO_STOCK
    material: str


@dataclass(frozen=True, slots=True)
class FitsNowhere(Reason):
    """A part fits no stock.

    Parameters
    ----------
    left_behind
        Sheets that the vehicle does not take.
    is_beyond_reach
        Whether it lies within some stock, so that it is the fence that does not reach.
    """

    code: ClassVar[ReasonCode] = ReasonCode.FITS_NOWHERE
    job: Job
    part: Part
    left_behind: tuple[Sheet, ...]
    is_beyond_reach: bool


@dataclass(frozen=True, slots=True)
class StockShort(Reason):
    """The stock does not hold all panels.

    Parameters
    ----------
    short
        The parts, and how many panels of each are lacking.
    missing
        Sheets by name, and how many more of them would do; empty if that is not known.
    left_behind
        Sheets that the vehicle does not take.
    is_proven
        Whether no layout holds them, or just none that was found.
    """

    code: ClassVar[ReasonCode] = ReasonCode.STOCK_SHORT
    job: Job
    short: tuple[tuple[Part, int], ...]
    missing: tuple[tuple[str, int], ...]
    left_behind: tuple[Sheet, ...]
    is_proven: bool


@dataclass(frozen=True, slots=True)
class LeftBehind(Reason):
    """Sheets that might have served are not taken home."""

    code: ClassVar[ReasonCode] = ReasonCode.LEFT_BEHIND
    job: Job
    obstacles: tuple[Obstacle, ...]
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, slots=True)
class NoSheetHome(Reason):
    """No sheet for the parts goes into the vehicle."""

    code: ClassVar[ReasonCode] = ReasonCode.NO_SHEET_HOME
    job: Job
    obstacles: tuple[Obstacle, ...]
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, slots=True)
class NotWhole(Reason):
    """Sheets do not get home without cuts at the store."""

    code: ClassVar[ReasonCode] = ReasonCode.NOT_WHOLE
    job: Job
    obstacles: tuple[Obstacle, ...]


class PartLimit(StrEnum):
    """What a part is too much for."""

    OPENING = "the vehicle's openings"
    LOAD = "its load"
    BLANK = "the blanks that the store can make"


@dataclass(frozen=True, slots=True)
class PartTooLarge(Reason):
    """A part fits no piece that the store can make and the vehicle takes.

    ``kg`` is its weight where that is too much; ``remedies`` is None where they are told for
    several parts together.
    """

    code: ClassVar[ReasonCode] = ReasonCode.PART_TOO_LARGE
    job: Job
    part: Part
    limit: PartLimit
    kg: Fraction | None
    remedies: tuple[Remedy, ...] | None


@dataclass(frozen=True, slots=True)
class WouldHelp(Reason):
    """What would help for all parts that were told of."""

    code: ClassVar[ReasonCode] = ReasonCode.WOULD_HELP
    job: Job
    remedies: tuple[Remedy, ...]

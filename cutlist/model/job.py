"""What is asked for: the job as read from its file.

All lengths are exact :class:`fractions.Fraction` values in the job's unit. A size is
``length`` × ``width``; the grain of a sheet runs along its length.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.edges import EdgeTrims
from cutlist.model.sawing import Device
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.rack import Rack
    from cutlist.model.weights import Density


class Grain(StrEnum):
    """Which side of a part lies along the grain (the length) of the sheet."""

    LENGTH = "length"
    WIDTH = "width"
    ANY = "any"


class SawKind(StrEnum):
    """What a saw guides the work by: a fence, a stop, or a guide laid on the work."""

    TABLE_SAW = "table saw"
    SLED = "sled"
    MITRE_GAUGE = "mitre gauge"
    TRACK_SAW = "track saw"
    CIRCULAR_SAW = "circular saw"


class FactoryEdge(StrEnum):
    """Whether a sheet's own edges are true enough to bear on a fence or a stop."""

    STRAIGHT = "straight"
    ROUGH = "rough"


class Remainders(StrEnum):
    """Whether a panel may be what is left of a strip, or gets a cut of its own."""

    KEEP = "keep"
    CUT = "cut"


class Goal(StrEnum):
    """What a plan is chosen by where less money and fewer set-ups pull against each other."""

    COST = "cost"
    SETUPS = "setups"
    BALANCED = "balanced"


@dataclass(frozen=True, slots=True)
class Saw:
    """A saw; the table saw where nothing else is said.

    Parameters
    ----------
    kerf
        Width of the blade's cut.
    max_rip
        Largest distance fence to blade, stop to blade, or edge to guide; None for no limit.
    scale
        Finest mark the distance can be set to; None where any length can be set.
    name
        What the plan calls it; no other saw of the job has the same.
    kind
        Which rules of safe work hold for it.
    longest_cut
        Longest cut that it makes; None for no limit.
    largest_pieces
        Sled and mitre gauge: the pieces that they carry, each across the cut by along it; a piece
        goes on that fits one of them. Empty for no limit.
    smallest_piece
        Table saw: the shortest edge that may ride the fence. Sled and mitre gauge: the shortest
        piece along the stop's bar. Guided saw: the shortest side of a piece that carries the guide.
    steady_edge
        Table saw: an edge so long holds a piece steady along the fence whatever it is across; a
        shorter one only a piece no larger across than along. None where no edge is long enough.
    thinnest_strip
        Smallest distance between fence and blade; of no meaning beside a stop or a guide.
    repeats
        Guided saw: whether one set-up serves all cuts of its distance, as with parallel guides;
        else the guide is laid anew for every cut.
    minutes_per_setup
        Time that one setting takes.
    """

    kerf: Fraction
    max_rip: Fraction | None = None
    scale: Fraction | None = None
    name: str = SawKind.TABLE_SAW.value
    kind: SawKind = SawKind.TABLE_SAW
    longest_cut: Fraction | None = None
    largest_pieces: tuple[tuple[Fraction, Fraction], ...] = ()
    smallest_piece: Fraction = Fraction(0)
    steady_edge: Fraction | None = None
    thinnest_strip: Fraction = Fraction(0)
    repeats: bool = False
    minutes_per_setup: Fraction | None = None

    @property
    def device(self) -> Device:
        """What its distance is measured to."""
        return _DEVICES[self.kind]

    @property
    def serves_one_cut(self) -> bool:
        """Whether it is set anew for every cut."""
        return self.device is Device.GUIDE and not self.repeats


_DEVICES: Final = {
    SawKind.TABLE_SAW: Device.FENCE,
    SawKind.SLED: Device.STOP,
    SawKind.MITRE_GAUGE: Device.STOP,
    SawKind.TRACK_SAW: Device.GUIDE,
    SawKind.CIRCULAR_SAW: Device.GUIDE,
}


@dataclass(frozen=True, slots=True)
class UsualLimits:
    """What a saw of a kind may do where the job does not say; meanings as of :class:`Saw`."""

    max_rip: Fraction | None = None
    longest_cut: Fraction | None = None
    largest_pieces: tuple[tuple[Fraction, Fraction], ...] = ()
    smallest_piece: Fraction = Fraction(0)
    steady_edge: Fraction | None = None
    thinnest_strip: Fraction = Fraction(0)


def _usual(units: Units) -> dict[SawKind, UsualLimits]:
    def of(inches: str, millimetres: int) -> Fraction:
        return Fraction(inches) if units is Units.INCH else Fraction(millimetres)

    fence = UsualLimits(
        smallest_piece=of("12", 300), steady_edge=of("24", 600), thinnest_strip=of("3/8", 10)
    )
    sled = UsualLimits(
        max_rip=of("48", 1200),
        longest_cut=of("24", 600),
        largest_pieces=((of("60", 1500), of("24", 600)), (of("97", 2500), of("12", 300))),
    )
    gauge = UsualLimits(
        max_rip=of("48", 1200),
        longest_cut=of("12", 300),
        largest_pieces=((of("36", 900), of("12", 300)),),
    )
    guide = UsualLimits(smallest_piece=of("8", 200))
    return {
        SawKind.TABLE_SAW: fence,
        SawKind.SLED: sled,
        SawKind.MITRE_GAUGE: gauge,
        SawKind.TRACK_SAW: guide,
        SawKind.CIRCULAR_SAW: guide,
    }


#: Common practice, but for an edge of 12 in (300 mm) along the fence: where the warnings common to
#: table-saw manuals begin to call work short. The manual of the saw decides.
USUAL_LIMITS: Final = {units: _usual(units) for units in Units}


def home_shop(saw: Saw, units: Units) -> tuple[Saw, ...]:
    """Return what a home shop has: its table saw, a sled for the same blade, a guided saw."""
    fence, stop, guide = (
        USUAL_LIMITS[units][kind]
        for kind in (SawKind.TABLE_SAW, SawKind.SLED, SawKind.CIRCULAR_SAW)
    )
    return (
        Saw(
            saw.kerf,
            saw.max_rip,
            saw.scale,
            smallest_piece=fence.smallest_piece,
            steady_edge=fence.steady_edge,
            thinnest_strip=fence.thinnest_strip,
        ),
        Saw(
            saw.kerf,
            stop.max_rip,
            saw.scale,
            SawKind.SLED.value,
            SawKind.SLED,
            stop.longest_cut,
            stop.largest_pieces,
        ),
        Saw(
            saw.kerf,
            scale=saw.scale,
            name="guided saw",
            kind=SawKind.CIRCULAR_SAW,
            smallest_piece=guide.smallest_piece,
        ),
    )


def layout_saw(saws: Sequence[Saw]) -> Saw:
    """Return one saw to lay sheets out for and print by: widest kerf, farthest reach, finest scale.

    What is laid out for the widest blade can be cut with every thinner one.
    """
    reaches = [saw.max_rip for saw in saws if saw.max_rip is not None]
    scales = [saw.scale for saw in saws if saw.scale is not None]
    return Saw(
        kerf=max(saw.kerf for saw in saws),
        max_rip=max(reaches) if len(reaches) == len(saws) else None,
        scale=min(scales) if len(scales) == len(saws) else None,
    )


@dataclass(frozen=True, slots=True)
class Sheet:
    """Stock that can be bought.

    Parameters
    ----------
    name
        What the store calls it; no other sheet or offcut of the job has the same.
    material, thickness
        A part is cut only from stock of the same two.
    length, width
        Full size; the grain runs along the length.
    price
        Money for one; None where the job gives no prices.
    in_stock
        At most so many can be bought; None for no limit.
    trim
        Factory edge to clean off, each edge.
    density
        What it weighs by volume; None where that is not known.
    has_grain
        Whether its material has one; on stock without, panels may be turned as they like.
    factory_edge
        Whether its own edges may ride the fence or bear on a stop before they are cleaned.
    """

    name: str
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    price: Decimal | None = None
    in_stock: int | None = None
    trim: Fraction = Fraction(0)
    density: Density | None = None
    has_grain: bool = True
    factory_edge: FactoryEdge = FactoryEdge.STRAIGHT

    @property
    def trims(self) -> EdgeTrims[Fraction]:
        """What comes off each edge: the trim."""
        return EdgeTrims.of(self.trim)


@dataclass(frozen=True, slots=True)
class Offcut:
    """Stock on hand, used at price 0: ``qty`` pieces of this size; the rest as of a sheet.

    ``trim`` is what comes off every edge at least; ``edges`` tells it of each where they are not
    alike.
    """

    name: str
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    qty: int = 1
    trim: Fraction = Fraction(0)
    density: Density | None = None
    edges: EdgeTrims[Fraction] | None = None
    has_grain: bool = True

    @property
    def trims(self) -> EdgeTrims[Fraction]:
        """What comes off each edge."""
        return EdgeTrims.of(self.trim) if self.edges is None else self.edges


#: What panels are cut from.
Stock = Sheet | Offcut


@dataclass(frozen=True, slots=True)
class Part:
    """A line of the cut list: ``qty`` panels of the same size.

    ``length`` and ``width`` are the finished size as the job gives it; ``grain`` says which of
    the two lies along the sheet's grain. ``value`` weighs a panel against others where the stock
    does not suffice for all; None weighs it by its area in square units of the job.
    """

    name: str
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    qty: int = 1
    grain: Grain = Grain.ANY
    value: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Match:
    """Parts, by name, whose sides of length ``distance`` have to come from one setting."""

    name: str
    distance: Fraction
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Store:
    """The saw where the sheets are bought; ``cut_price`` is for each cut beyond the free ones.

    ``accuracy`` is how far its cuts may be off, ``max_cuts`` a limit per sheet (None: no limit),
    ``free_cuts`` a number per trip; ``min_piece`` is the shortest side of any piece that it cuts
    off or leaves.
    """

    kerf: Fraction
    accuracy: Fraction = Fraction(0)
    max_cuts: int | None = None
    free_cuts: int = 0
    cut_price: Decimal = Decimal(0)
    min_piece: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Vehicle:
    """How the pieces get home: the largest flat piece that goes in, and the load in kilograms.

    ``second_opening`` is the largest piece that goes in, or on, another way.
    """

    bed_length: Fraction
    bed_width: Fraction
    max_load_kg: Fraction | None = None
    second_opening: tuple[Fraction, Fraction] | None = None

    @property
    def openings(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """Return length and width of each way in, the bed first."""
        bed = (self.bed_length, self.bed_width)
        return (bed,) if self.second_opening is None else (bed, self.second_opening)


@dataclass(frozen=True, slots=True)
class KeepFrom:
    """The smallest offcut worth keeping, either way round."""

    length: Fraction
    width: Fraction


#: The same where the job does not say: a drawer front, a shelf end.
DEFAULT_KEEP_FROM: Final = {
    Units.INCH: KeepFrom(Fraction(12), Fraction(4)),
    Units.MM: KeepFrom(Fraction(300), Fraction(100)),
}


#: Minutes that a set-up takes where the job does not say (common practice): a fence is measured,
#: locked and tried; a stop clamped; a guide marked at both ends, laid and clamped.
USUAL_MINUTES: Final = {
    Device.FENCE: Fraction(3),
    Device.STOP: Fraction(2),
    Device.GUIDE: Fraction(5),
}
#: Minutes that a cut takes (common practice).
MINUTES_A_CUT: Final = Fraction(1)


@dataclass(frozen=True, slots=True)
class Job:
    """Everything the job file says; ``sha256`` is the hex digest of the file's bytes.

    ``text`` is what the file holds; empty for a job that comes from none.

    ``saws`` is empty where ``saw``, the table saw, stands for what a home shop has; else ``saw`` is
    the :func:`layout_saw` of them all.
    """

    name: str
    units: Units
    saw: Saw
    sheets: tuple[Sheet, ...]
    parts: tuple[Part, ...]
    offcuts: tuple[Offcut, ...] = ()
    #: Panels that meet flush, and the unit besides the job's own in which distances are printed.
    matches: tuple[Match, ...] = ()
    also_in: Units | None = None
    store: Store | None = None
    vehicle: Vehicle | None = None
    keep_from: KeepFrom | None = None
    #: The same for single materials, by name.
    keep_from_of: tuple[tuple[str, KeepFrom], ...] = ()
    #: The rack that the offcuts come from, where the job names one.
    rack: Rack | None = None
    saws: tuple[Saw, ...] = ()
    remainders: Remainders = Remainders.KEEP
    #: What set-ups are worth: which of money and set-ups goes first, the minutes that one takes
    #: where its saw does not say, and the money for an hour; None where the job does not say.
    goal: Goal = Goal.COST
    minutes_per_setup: Fraction | None = None
    hourly_rate: Decimal | None = None
    #: Tax on what is bought, in per cent of the price; None where the job does not say.
    tax_percent: Decimal | None = None
    sha256: str = field(default="", compare=False)
    text: str = field(default="", compare=False, repr=False)

    def minutes_of(self, saw: Saw) -> Fraction:
        """Return what a set-up of a saw takes; :data:`USUAL_MINUTES` where the job does not say."""
        if saw.minutes_per_setup is not None:
            return saw.minutes_per_setup
        if self.minutes_per_setup is not None:
            return self.minutes_per_setup
        return USUAL_MINUTES[saw.device]

    def price_of(self, minutes: Fraction) -> Decimal | None:
        """Return what so much time costs; None where the job gives no hourly rate."""
        if self.hourly_rate is None:
            return None
        return self.hourly_rate * minutes.numerator / minutes.denominator / 60

    def least_kept(self, material: str) -> KeepFrom:
        """Return the smallest offcut of a material worth keeping."""
        general = self.keep_from or DEFAULT_KEEP_FROM[self.units]
        return dict(self.keep_from_of).get(material, general)

    @property
    def tools(self) -> tuple[Saw, ...]:
        """Every saw there is: those listed, or what a home shop has beside its table saw."""
        return self.saws or home_shop(self.saw, self.units)

    @property
    def stock(self) -> tuple[Stock, ...]:
        """Everything to cut from: sheets to buy, then offcuts on hand."""
        return (*self.sheets, *self.offcuts)

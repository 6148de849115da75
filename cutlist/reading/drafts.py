"""The job as far as it could be read: every value with its place, wrong ones left open."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.rack import RackGrain

if TYPE_CHECKING:
    from collections.abc import Mapping
    from decimal import Decimal

    from cutlist.model.job import FactoryEdge, Goal, Grain, Remainders, SawKind
    from cutlist.model.rack import Rack
    from cutlist.reading.places import Spot
    from cutlist.reading.section import Found
    from cutlist.units.system import Units


@dataclass(frozen=True, slots=True)
class SawDraft:
    """The ``saw``."""

    kerf: Found[Fraction]
    max_rip: Found[Fraction]
    scale: Found[Fraction]


@dataclass(frozen=True, slots=True)
class ListedSawDraft:
    """An entry of ``saws``."""

    spot: Spot
    kind: Found[SawKind]
    name: Found[str]
    saw: SawDraft
    longest_cut: Found[Fraction]
    largest_piece: Found[tuple[tuple[Fraction, Fraction], ...]]
    smallest_piece: Found[Fraction]
    steady_edge: Found[Fraction]
    thinnest_strip: Found[Fraction]
    repeats: Found[bool]
    minutes: Found[Fraction]


@dataclass(frozen=True, slots=True)
class StockDraft:
    """An entry of ``sheets`` or of ``offcuts``; ``count`` is ``in_stock`` or ``qty``.

    ``price`` and ``factory_edge`` are None for an offcut, which has neither.

    ``edges`` is None unless the trim is told of single edges; ``trim`` is left open then.
    """

    spot: Spot
    on_hand: bool
    name: Found[str]
    material: Found[str]
    thickness: Found[Fraction]
    size: Found[tuple[Fraction, Fraction]]
    count: Found[int]
    trim: Found[Fraction]
    density: Found[Fraction]
    weight: Found[Fraction]
    price: Found[Decimal] | None
    grain: Found[RackGrain]
    factory_edge: Found[FactoryEdge] | None = None
    edges: Mapping[Edge, Found[Fraction]] | None = None

    @property
    def trims(self) -> EdgeTrims[Fraction] | None:
        """What comes off each edge; None where that cannot be read."""
        if self.edges is None:
            trim = self.trim.or_else(Fraction(0))
            return None if self.trim.is_wrong else EdgeTrims.of(trim)
        if any(found.is_wrong for found in self.edges.values()):
            return None
        return EdgeTrims(*(self.edges[edge].or_else(Fraction(0)) for edge in Edge))


@dataclass(frozen=True, slots=True)
class MatchDraft:
    """A group that a part names; ``side`` is 0 for its length, 1 for its width, None for either."""

    name: Found[str]
    side: int | None


@dataclass(frozen=True, slots=True)
class PartDraft:
    """An entry of ``parts``."""

    spot: Spot
    name: Found[str]
    material: Found[str]
    thickness: Found[Fraction]
    size: Found[tuple[Fraction, Fraction]]
    qty: Found[int]
    grain: Found[Grain]
    value: Found[Decimal]
    matches: tuple[MatchDraft, ...]


@dataclass(frozen=True, slots=True)
class StoreDraft:
    """The ``store``."""

    kerf: Found[Fraction]
    accuracy: Found[Fraction]
    max_cuts: Found[int]
    free_cuts: Found[int]
    cut_price: Found[Decimal]
    min_piece: Found[Fraction]


@dataclass(frozen=True, slots=True)
class VehicleDraft:
    """The ``vehicle``."""

    bed: Found[tuple[Fraction, Fraction]]
    second_opening: Found[tuple[Fraction, Fraction]]
    max_load: Found[Fraction]


@dataclass(frozen=True, slots=True)
class KeepDraft:
    """A size worth keeping; ``material`` is None where one size alone is given for all."""

    spot: Spot
    material: Found[str] | None
    size: Found[tuple[Fraction, Fraction]]


@dataclass(frozen=True, slots=True)
class JobDraft:
    """The whole file.

    ``saws``, ``sheets``, ``offcuts`` and ``parts`` are None where the list itself could not be
    read; ``units`` is a stand-in where ``units_known`` is False.
    """

    spot: Spot
    name: Found[str]
    units: Units
    units_known: bool
    saw: SawDraft | None
    saw_spot: Spot
    saws: tuple[ListedSawDraft, ...] | None
    saws_spot: Spot
    lists_saws: bool
    remainders: Found[Remainders]
    sheets: tuple[StockDraft, ...] | None
    offcuts: tuple[StockDraft, ...] | None
    parts: tuple[PartDraft, ...] | None
    sheets_spot: Spot
    parts_spot: Spot
    store: StoreDraft | None
    vehicle: VehicleDraft | None
    keep_from: tuple[KeepDraft, ...]
    rack: Rack | None
    also_in: Found[Units]
    goal: Found[Goal]
    minutes_per_setup: Found[Fraction]
    hourly_rate: Found[Decimal]
    tax_percent: Found[Decimal]

    @property
    def every_saw(self) -> tuple[SawDraft, ...]:
        """The saw that stands by itself, and those listed."""
        listed = tuple(entry.saw for entry in self.saws or ())
        return listed if self.saw is None else (self.saw, *listed)

    def has_grain(self, stock: StockDraft) -> bool:
        """Whether stock has a grain: a material has none anywhere once one of its sheets has none.

        So a rack need not say it of every piece.
        """
        material = stock.material.value
        alike = (sheet for sheet in self.sheets or () if sheet.material.value == material)
        return all(one.grain.value is not RackGrain.NONE for one in (stock, *alike))

    @property
    def stock(self) -> tuple[StockDraft, ...]:
        """Sheets and offcuts together."""
        return (self.sheets or ()) + (self.offcuts or ())

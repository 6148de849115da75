"""Nodes to a draft of the job, and a faultless draft to the job itself."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeVar

from cutlist.model.job import (
    FactoryEdge,
    Goal,
    Grain,
    Job,
    Offcut,
    Part,
    Remainders,
    Sheet,
    Store,
    Vehicle,
    layout_saw,
)
from cutlist.reading import keys
from cutlist.reading.densities import given_density, with_densities
from cutlist.reading.drafts import (
    JobDraft,
    MatchDraft,
    PartDraft,
    StockDraft,
    StoreDraft,
    VehicleDraft,
)
from cutlist.reading.keeping import build_keeping, draft_keeping
from cutlist.reading.matching import found_matches
from cutlist.reading.nodes import Scalar
from cutlist.reading.rack import rack_at, rack_sections
from cutlist.reading.saws import build_listed_saw, build_saw, draft_listed_saw, draft_saw
from cutlist.reading.section import Found, Section
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from cutlist.model.edges import Edge
    from cutlist.model.rack import Rack
    from cutlist.reading.faults import Faults
    from cutlist.reading.nodes import Node

D = TypeVar("D")

_ZERO: Final = Fraction(0)


def draft_job(root: Node, faults: Faults, folder: Path) -> JobDraft:
    """Read every key; what is wrong goes to ``faults`` and stays open in the draft.

    A rack's path starts at ``folder``.
    """
    top = Section(root, "", keys.TOP, faults)
    found_units = top.get(keys.UNITS, Units.INCH)
    # With the unit unknown the lengths are still looked through for slips of writing.
    units = found_units.or_else(Units.INCH)
    saws = top.each(keys.SAWS)
    saw = top.below(keys.ONE_SAW, units, is_needed=not saws.given)
    sheets = top.each(keys.SHEETS)
    parts = top.each(keys.PARTS)
    store = top.below(keys.ONE_STORE, units)
    vehicle = top.below(keys.ONE_VEHICLE, units)
    sheet_drafts = _each(sheets, lambda section: _sheet(section, units))
    part_drafts = _each(parts, lambda section: _part(section, units))
    node = top.node(keys.OFFCUTS.name)
    if isinstance(node, Scalar) and not node.is_null:
        rack = top.get_with(rack_at(folder), keys.RACK, units)
        offcuts = _on_rack(rack, sheet_drafts or (), part_drafts or (), units, faults)
    else:
        rack = None
        offcuts = top.each(keys.OFFCUTS)
    return JobDraft(
        spot=top.spot,
        name=top.get(keys.JOB, units),
        units=units,
        units_known=found_units.value is not None,
        saw=None if saw is None else draft_saw(saw, units),
        saw_spot=top.spot if saw is None else saw.spot,
        saws=_each(saws, lambda section: draft_listed_saw(section, units)),
        saws_spot=saws.spot,
        lists_saws=saws.given,
        remainders=top.get(keys.REMAINDERS, units),
        sheets=sheet_drafts,
        offcuts=_each(offcuts, lambda section: _offcut(section, units)),
        parts=part_drafts,
        sheets_spot=sheets.spot,
        parts_spot=parts.spot,
        store=None if store is None else _store(store, units),
        vehicle=None if vehicle is None else _vehicle(vehicle, units),
        keep_from=draft_keeping(top, units),
        rack=None if rack is None else rack.value,
        goal=top.get(keys.GOAL, units),
        minutes_per_setup=top.get(keys.MINUTES, units),
        hourly_rate=top.get(keys.HOURLY_RATE, units),
        tax_percent=top.get(keys.TAX, units),
        also_in=top.get(keys.ALSO_IN, units),
    )


def _each(found: Found[tuple[Section, ...]], draft: Callable[[Section], D]) -> tuple[D, ...] | None:
    if found.is_wrong:
        return None
    return tuple(draft(section) for section in found.or_else(()))


def _on_rack(
    rack: Found[Rack],
    sheets: tuple[StockDraft, ...],
    parts: tuple[PartDraft, ...],
    units: Units,
    faults: Faults,
) -> Found[tuple[Section, ...]]:
    if rack.value is None:
        return Found(rack.spot, given=True)
    entries = rack_sections(rack.value, rack.spot, sheets, parts, units, faults)
    return Found(rack.spot, tuple(entries), given=True)


def _sheet(section: Section, units: Units) -> StockDraft:
    return _stock(
        section,
        units,
        on_hand=False,
        count=section.get(keys.IN_STOCK, units),
        trim=section.get(keys.TRIM, units),
        price=section.get(keys.PRICE, units),
        factory_edge=section.get(keys.FACTORY_EDGE, units),
    )


def _offcut(section: Section, units: Units) -> StockDraft:
    trim, sides = section.get_or_below(keys.TRIM_OF_EACH, units)
    edges = None
    if sides is not None:
        edges = {edge: sides.get(key, units) for edge, key in keys.EDGES.items()}
    count = section.get(keys.QTY, units)
    return _stock(section, units, on_hand=True, count=count, trim=trim, edges=edges)


def _stock(
    section: Section,
    units: Units,
    *,
    on_hand: bool,
    count: Found[int],
    trim: Found[Fraction],
    price: Found[Decimal] | None = None,
    factory_edge: Found[FactoryEdge] | None = None,
    edges: dict[Edge, Found[Fraction]] | None = None,
) -> StockDraft:
    return StockDraft(
        spot=section.spot,
        on_hand=on_hand,
        name=section.get(keys.STOCK_NAME, units),
        material=section.get(keys.MATERIAL, units),
        thickness=section.get(keys.STOCK_THICKNESS, units),
        size=section.get(keys.STOCK_SIZE, units),
        count=count,
        trim=trim,
        density=section.get(keys.DENSITY, units),
        weight=section.get(keys.WEIGHT, units),
        price=price,
        grain=section.get(keys.STOCK_GRAIN, units),
        factory_edge=factory_edge,
        edges=edges,
    )


def _part(section: Section, units: Units) -> PartDraft:
    return PartDraft(
        spot=section.spot,
        name=section.get(keys.PART_NAME, units),
        material=section.get(keys.MATERIAL, units),
        thickness=section.get(keys.PART_THICKNESS, units),
        size=section.get(keys.PART_SIZE, units),
        qty=section.get(keys.QTY, units),
        grain=section.get(keys.PART_GRAIN, units),
        value=section.get(keys.VALUE, units),
        matches=_matches(section, units),
    )


def _matches(section: Section, units: Units) -> tuple[MatchDraft, ...]:
    """Read the groups of a part: one name, or a name for a side or for both."""
    name, sides = section.get_or_below(keys.MATCH, units)
    if sides is None:
        return (MatchDraft(name, None),) if name.given else ()
    named = [sides.get(key, units) for key in keys.MATCHED_SIDES]
    return tuple(MatchDraft(found, side) for side, found in enumerate(named) if found.given)


def _store(section: Section, units: Units) -> StoreDraft:
    return StoreDraft(
        kerf=section.get(keys.KERF, units),
        accuracy=section.get(keys.ACCURACY, units),
        max_cuts=section.get(keys.MAX_CUTS, units),
        free_cuts=section.get(keys.FREE_CUTS, units),
        cut_price=section.get(keys.CUT_PRICE, units),
        min_piece=section.get(keys.MIN_PIECE, units),
    )


def _vehicle(section: Section, units: Units) -> VehicleDraft:
    return VehicleDraft(
        bed=section.get(keys.BED, units),
        second_opening=section.get(keys.SECOND_OPENING, units),
        max_load=section.get(keys.MAX_LOAD, units),
    )


def build_job(draft: JobDraft, sha256: str, text: str) -> Job:
    """Make the job of a draft in which no fault was found."""
    thicknesses: dict[str, Fraction] = {
        stock.material.sure(): stock.thickness.sure() for stock in draft.stock
    }
    saws = tuple(build_listed_saw(saw, draft.units) for saw in draft.saws or ())
    sheets, offcuts = with_densities(
        (_build_sheet(sheet, draft) for sheet in draft.sheets or ()),
        (_build_offcut(offcut, draft) for offcut in draft.offcuts or ()),
    )
    keep_from, keep_from_of = build_keeping(draft)
    return Job(
        name=draft.name.sure(),
        units=draft.units,
        saw=layout_saw(saws) if draft.saw is None else build_saw(draft.saw),
        sheets=sheets,
        parts=tuple(_build_part(part, thicknesses) for part in draft.parts or ()),
        offcuts=offcuts,
        matches=found_matches(draft),
        also_in=draft.also_in.value,
        store=None if draft.store is None else _build_store(draft.store),
        vehicle=None if draft.vehicle is None else _build_vehicle(draft.vehicle),
        keep_from=keep_from,
        keep_from_of=keep_from_of,
        rack=draft.rack,
        saws=saws,
        remainders=draft.remainders.or_else(Remainders.KEEP),
        goal=draft.goal.or_else(Goal.COST),
        minutes_per_setup=draft.minutes_per_setup.value,
        hourly_rate=draft.hourly_rate.value,
        tax_percent=draft.tax_percent.value,
        sha256=sha256,
        text=text,
    )


def _build_sheet(draft: StockDraft, job: JobDraft) -> Sheet:
    length, width = draft.size.sure()
    edge = draft.factory_edge
    return Sheet(
        name=draft.name.sure(),
        material=draft.material.sure(),
        thickness=draft.thickness.sure(),
        length=length,
        width=width,
        price=None if draft.price is None else draft.price.value,
        in_stock=draft.count.value,
        trim=draft.trim.or_else(_ZERO),
        density=given_density(draft, job.units),
        has_grain=job.has_grain(draft),
        factory_edge=FactoryEdge.STRAIGHT if edge is None else edge.or_else(FactoryEdge.STRAIGHT),
    )


def _build_offcut(draft: StockDraft, job: JobDraft) -> Offcut:
    length, width = draft.size.sure()
    trims = draft.trims
    assert trims is not None
    least = min(trims.each)
    return Offcut(
        name=draft.name.sure(),
        material=draft.material.sure(),
        thickness=draft.thickness.sure(),
        length=length,
        width=width,
        qty=draft.count.or_else(1),
        trim=least,
        density=given_density(draft, job.units),
        edges=None if least == max(trims.each) else trims,
        has_grain=job.has_grain(draft),
    )


def _build_part(draft: PartDraft, thicknesses: dict[str, Fraction]) -> Part:
    material = draft.material.sure()
    length, width = draft.size.sure()
    return Part(
        name=draft.name.sure(),
        material=material,
        # Left out only where the material comes in one thickness: that was checked.
        thickness=draft.thickness.or_else(thicknesses[material]),
        length=length,
        width=width,
        qty=draft.qty.or_else(1),
        grain=draft.grain.or_else(Grain.ANY),
        value=draft.value.value,
    )


def _build_store(draft: StoreDraft) -> Store:
    return Store(
        kerf=draft.kerf.sure(),
        accuracy=draft.accuracy.or_else(_ZERO),
        max_cuts=draft.max_cuts.value,
        free_cuts=draft.free_cuts.or_else(0),
        cut_price=draft.cut_price.or_else(Decimal(0)),
        min_piece=draft.min_piece.or_else(_ZERO),
    )


def _build_vehicle(draft: VehicleDraft) -> Vehicle:
    length, width = draft.bed.sure()
    return Vehicle(length, width, draft.max_load.value, draft.second_opening.value)

"""Nodes to a draft of the job, and a faultless draft to the job itself."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final, TypeVar

from cutlist.model.edges import Edge
from cutlist.model.job import (
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
from cutlist.model.rack import RackGrain
from cutlist.reading import fields
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
from cutlist.reading.saws import (
    KERF_EXAMPLE,
    LISTED_SAW_KEYS,
    SAW_KEYS,
    build_listed_saw,
    build_saw,
    draft_listed_saw,
    draft_saw,
)
from cutlist.reading.section import Found, Section
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from cutlist.model.rack import Rack
    from cutlist.reading.faults import Faults
    from cutlist.reading.nodes import Node

D = TypeVar("D")

TOP_KEYS: Final = (
    "job",
    "units",
    "saw",
    "saws",
    "sheets",
    "offcuts",
    "parts",
    "store",
    "vehicle",
    "keep_from",
    "also_in",
    "remainders",
    "goal",
    "minutes_per_setup",
    "hourly_rate",
    "tax",
)
SHEET_KEYS: Final = (
    "name",
    "material",
    "thickness",
    "size",
    "price",
    "in_stock",
    "trim",
    "grain",
    "density",
    "weight",
)
OFFCUT_KEYS: Final = (
    "name",
    "material",
    "thickness",
    "size",
    "qty",
    "trim",
    "grain",
    "density",
    "weight",
)
PART_KEYS: Final = ("name", "material", "thickness", "size", "qty", "grain", "match", "value")
#: The sides of a part that a match may name, in the order of its size.
MATCH_KEYS: Final = ("length", "width")
STORE_KEYS: Final = ("kerf", "accuracy", "max_cuts", "free_cuts", "cut_price", "min_piece")
VEHICLE_KEYS: Final = ("bed", "second_opening", "max_load")

_ZERO: Final = Fraction(0)
#: Examples shown where a required key is missing.
_THICKNESS_EXAMPLE: Final = {Units.INCH: "thickness: 3/4", Units.MM: "thickness: 18"}
_SHEET_EXAMPLE: Final = {Units.INCH: "size: 96 x 48", Units.MM: "size: 2440 x 1220"}
_PART_EXAMPLE: Final = {Units.INCH: "size: 34 1/2 x 23 1/4", Units.MM: "size: 720 x 560"}
_BED_EXAMPLE: Final = {Units.INCH: "bed: 72 x 40", Units.MM: "bed: 1800 x 1000"}


def draft_job(root: Node, faults: Faults, folder: Path) -> JobDraft:
    """Read every key; what is wrong goes to ``faults`` and stays open in the draft.

    A rack's path starts at ``folder``.
    """
    top = Section(root, "", TOP_KEYS, faults)
    found_units = top.value("units", fields.choice(Units), required="units: in | mm")
    # With the unit unknown the lengths are still looked through for slips of writing.
    units = found_units.or_else(Units.INCH)
    saws = top.children("saws", LISTED_SAW_KEYS)
    needed = None if saws.given else f"saw: {{{KERF_EXAMPLE[units]}}}"
    saw = top.child("saw", SAW_KEYS, required=needed)
    sheets = top.children("sheets", SHEET_KEYS)
    parts = top.children("parts", PART_KEYS)
    store = top.child("store", STORE_KEYS)
    vehicle = top.child("vehicle", VEHICLE_KEYS)
    sheet_drafts = _each(sheets, lambda section: _stock(section, units, on_hand=False))
    part_drafts = _each(parts, lambda section: _part(section, units))
    node = top.node("offcuts")
    if isinstance(node, Scalar) and not node.is_null:
        rack = top.value("offcuts", rack_at(folder))
        offcuts = _on_rack(rack, sheet_drafts or (), part_drafts or (), units, faults)
    else:
        rack = None
        offcuts = top.children("offcuts", OFFCUT_KEYS)
    return JobDraft(
        spot=top.spot,
        name=top.value("job", fields.name, required="job: a name for the job"),
        units=units,
        units_known=found_units.value is not None,
        saw=None if saw is None else draft_saw(saw, units),
        saw_spot=top.spot if saw is None else saw.spot,
        saws=_each(saws, lambda section: draft_listed_saw(section, units)),
        saws_spot=saws.spot,
        lists_saws=saws.given,
        remainders=top.value("remainders", fields.choice(Remainders)),
        sheets=sheet_drafts,
        offcuts=_each(offcuts, lambda section: _stock(section, units, on_hand=True)),
        parts=part_drafts,
        sheets_spot=sheets.spot,
        parts_spot=parts.spot,
        store=None if store is None else _store(store, units),
        vehicle=None if vehicle is None else _vehicle(vehicle, units),
        keep_from=draft_keeping(top, units),
        rack=None if rack is None else rack.value,
        goal=top.value("goal", fields.choice(Goal)),
        minutes_per_setup=top.value("minutes_per_setup", fields.minutes),
        hourly_rate=top.value("hourly_rate", fields.money),
        tax_percent=top.value("tax", fields.percent),
        also_in=top.value("also_in", fields.choice(Units)),
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
    entries = rack_sections(rack.value, rack.spot, sheets, parts, units, faults, keys=OFFCUT_KEYS)
    return Found(rack.spot, tuple(entries), given=True)


def _stock(section: Section, units: Units, *, on_hand: bool) -> StockDraft:
    trim, edges = _trim(section, units, on_hand=on_hand)
    return StockDraft(
        spot=section.spot,
        on_hand=on_hand,
        name=section.value("name", fields.name, required="name: rack 3"),
        material=section.value("material", fields.name, required="material: birch ply"),
        thickness=section.value(
            "thickness", fields.positive_length(units), required=_THICKNESS_EXAMPLE[units]
        ),
        size=section.size("size", fields.size(units), required=_SHEET_EXAMPLE[units]),
        count=section.value("qty", fields.whole(1))
        if on_hand
        else section.value("in_stock", fields.whole(0), none=True),
        trim=trim,
        density=section.value("density", fields.density),
        weight=section.value("weight", fields.weight),
        price=None if on_hand else section.value("price", fields.money),
        grain=section.value("grain", fields.choice(RackGrain)),
        edges=edges,
    )


def _trim(
    section: Section, units: Units, *, on_hand: bool
) -> tuple[Found[Fraction], dict[Edge, Found[Fraction]] | None]:
    """Read what comes off every edge or, of stock on hand, of single ones."""
    if not on_hand:
        return section.value("trim", fields.length(units)), None
    trim, sides = section.value_or_child("trim", fields.length(units), tuple(Edge))
    if sides is None:
        return trim, None
    return trim, {edge: sides.value(edge, fields.length(units)) for edge in Edge}


def _part(section: Section, units: Units) -> PartDraft:
    return PartDraft(
        spot=section.spot,
        name=section.value("name", fields.name, required="name: shelf"),
        material=section.value("material", fields.name, required="material: birch ply"),
        thickness=section.value("thickness", fields.positive_length(units)),
        size=section.size("size", fields.size(units), required=_PART_EXAMPLE[units]),
        qty=section.value("qty", fields.whole(1)),
        grain=section.value("grain", fields.choice(Grain)),
        value=section.value("value", fields.money),
        matches=_matches(section),
    )


def _matches(section: Section) -> tuple[MatchDraft, ...]:
    """Read the groups of a part: one name, or a name for a side or for both."""
    name, sides = section.value_or_child("match", fields.name, MATCH_KEYS)
    if sides is None:
        return (MatchDraft(name, None),) if name.given else ()
    named = [sides.value(key, fields.name) for key in MATCH_KEYS]
    return tuple(MatchDraft(found, side) for side, found in enumerate(named) if found.given)


def _store(section: Section, units: Units) -> StoreDraft:
    return StoreDraft(
        kerf=section.value("kerf", fields.length(units), required=KERF_EXAMPLE[units]),
        accuracy=section.value("accuracy", fields.length(units)),
        max_cuts=section.value("max_cuts", fields.whole(0), none=True),
        free_cuts=section.value("free_cuts", fields.whole(0)),
        cut_price=section.value("cut_price", fields.money),
        min_piece=section.value("min_piece", fields.length(units)),
    )


def _vehicle(section: Section, units: Units) -> VehicleDraft:
    return VehicleDraft(
        bed=section.size("bed", fields.size(units), required=_BED_EXAMPLE[units]),
        second_opening=section.size("second_opening", fields.size(units), none=True),
        max_load=section.value("max_load", fields.weight, none=True),
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

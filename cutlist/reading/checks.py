"""Whether the values of a job agree with each other; each check looks past values left open."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.errors import FaultCode, LengthError
from cutlist.model.job import FactoryEdge, Grain
from cutlist.reading.densities import check_weight
from cutlist.reading.faults import did_you_mean, one_of
from cutlist.reading.keeping import check_keeping
from cutlist.reading.matching import check_matches
from cutlist.reading.places import Spot
from cutlist.reading.saws import check_saws
from cutlist.units.grid import Grid
from cutlist.units.lengths import convert, format_length, format_size, format_thickness
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.reading.drafts import JobDraft, PartDraft, StockDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.section import Found

#: Limits in mm beyond which a unit was mixed up. Widths of blades and boards: common practice.
_MAX_KERF_MM: Final = Fraction(254, 10)
_MAX_SCALE_MM: Final = Fraction(254, 10)
_MIN_MAX_RIP_MM: Final = Fraction(508, 10)
_MAX_THICKNESS_MM: Final = Fraction(1016, 10)
_UNIT_DOUBT: Final = "is the unit right?"


def check(draft: JobDraft, faults: Faults) -> None:
    """Add every disagreement to ``faults``."""
    _check_lists(draft, faults)
    _check_names(draft, faults)
    _check_prices(draft, faults)
    check_saws(draft, faults)
    check_keeping(draft, faults)
    if draft.units_known:
        _check_magnitudes(draft, faults)
        for stock in draft.stock:
            _check_trim(stock, draft.units, faults)
            check_weight(stock, draft.units, faults)
        by_material = _by_material(draft)
        for part in draft.parts or ():
            _check_kerf(part, draft, faults)
            if by_material:
                _check_material(part, by_material, draft, faults)
        check_matches(draft, faults)
        if draft.also_in.value is draft.units:
            other = next(unit for unit in Units if unit is not draft.units)
            message = "this is the job's own unit"
            faults.at(draft.also_in.spot, FaultCode.CONTRADICTION, message, f"{other}, or no key")
        _check_grid(draft, faults)


def _check_lists(draft: JobDraft, faults: Faults) -> None:
    if draft.parts is not None and not draft.parts:
        accepted = "parts: with at least one entry"
        spot = Spot(draft.parts_spot.mark, "parts")
        faults.at(spot, FaultCode.NO_PARTS, "the job has no parts", accepted)
    if draft.sheets is not None and draft.offcuts is not None and not draft.stock:
        accepted = "sheets: or offcuts: with at least one entry"
        message = "there is nothing to cut from: no sheets and no offcuts"
        faults.at(Spot(draft.sheets_spot.mark, "sheets"), FaultCode.NO_STOCK, message, accepted)


def _check_names(draft: JobDraft, faults: Faults) -> None:
    for entries in (draft.stock, draft.parts or ()):
        first: dict[str, Spot] = {}
        for entry in entries:
            name, spot = entry.name.value, entry.name.spot
            if name is None:
                continue
            if name in first:
                message = f"the name {name} is taken, {first[name].place}"
                faults.at(spot, FaultCode.NAME_TAKEN, message, "a name of its own")
            first.setdefault(name, spot)


def _check_prices(draft: JobDraft, faults: Faults) -> None:
    prices = [(sheet, sheet.price) for sheet in draft.sheets or () if sheet.price is not None]
    if not any(price.given for _, price in prices):
        return
    for sheet, price in prices:
        if not price.given:
            message = "this sheet has no price though another one has"
            spot = Spot(sheet.spot.mark, f"{sheet.spot.path}.price")
            accepted = "a price for every sheet, or for none"
            faults.at(spot, FaultCode.PRICE_MISSING, message, accepted)


def _check_magnitudes(draft: JobDraft, faults: Faults) -> None:
    units = draft.units

    def above(found: Found[Fraction], limit_mm: Fraction, what: str) -> None:
        limit = convert(limit_mm, Units.MM, units)
        if found.value is not None and found.value > limit:
            most = f"at most {format_length(limit, units)}"
            message = f"this is too much for {what}; {_UNIT_DOUBT}"
            faults.at(found.spot, FaultCode.UNIT_DOUBT, message, most)

    for saw in draft.every_saw:
        above(saw.kerf, _MAX_KERF_MM, "a blade's kerf")
        above(saw.scale, _MAX_SCALE_MM, "the finest mark of a scale")
        reach, least = saw.max_rip, convert(_MIN_MAX_RIP_MM, Units.MM, units)
        if reach.value is not None and reach.value < least:
            message = f"this is too little for the reach of a fence; {_UNIT_DOUBT}"
            accepted = f"at least {format_length(least, units)}"
            faults.at(reach.spot, FaultCode.UNIT_DOUBT, message, accepted)
    if draft.store is not None:
        above(draft.store.kerf, _MAX_KERF_MM, "a blade's kerf")
        above(draft.store.accuracy, _MAX_KERF_MM, "the error of a store's saw")
    for entry in _entries(draft):
        above(entry.thickness, _MAX_THICKNESS_MM, "sheet goods")


def _entries(draft: JobDraft) -> list[StockDraft | PartDraft]:
    return [*draft.stock, *(draft.parts or ())]


def _usable(stock: StockDraft) -> tuple[Fraction, Fraction] | None:
    """Give the size left when the trim is off, None where it is not known."""
    trims = stock.trims
    if stock.size.value is None or trims is None:
        return None
    return trims.inside(*stock.size.value)


def _check_trim(stock: StockDraft, units: Units, faults: Faults) -> None:
    usable = _usable(stock)
    edge = stock.factory_edge
    if (
        edge is not None
        and edge.value is FactoryEdge.ROUGH
        and not stock.trim.is_wrong
        and not stock.trim.value
    ):
        message = "a rough edge has to be cut off, and the trim is 0"
        faults.at(edge.spot, FaultCode.CONTRADICTION, message, "a trim above 0, or straight")
    if usable is not None and min(usable) <= 0 and stock.size.value is not None:
        size = format_size(*stock.size.value, units)
        message = f"the trim on both edges leaves nothing of {size}"
        faults.at(stock.trim.spot, FaultCode.TRIM, message, "the width taken off one edge")


def _check_kerf(part: PartDraft, draft: JobDraft, faults: Faults) -> None:
    kerf = max((s.kerf.value for s in draft.every_saw if s.kerf.value is not None), default=None)
    # A kerf beyond all measure has its own fault; its parts need none.
    if (
        kerf is None
        or part.size.value is None
        or convert(kerf, draft.units, Units.MM) > _MAX_KERF_MM
    ):
        return
    if min(part.size.value) < kerf:
        width = format_length(kerf, draft.units)
        message = f"the part is narrower than the saw's kerf of {width}"
        faults.at(part.size.spot, FaultCode.PART_TOO_NARROW, message, "a part wider than the kerf")


def _by_material(draft: JobDraft) -> dict[str, list[StockDraft]]:
    """Give the stock of each material; empty where not all of it could be read."""
    stock: dict[str, list[StockDraft]] = {}
    if draft.sheets is None or draft.offcuts is None:
        return stock
    for entry in draft.stock:
        if entry.material.value is None:
            return {}
        stock.setdefault(entry.material.value, []).append(entry)
    return stock


def _check_material(
    part: PartDraft, by_material: dict[str, list[StockDraft]], draft: JobDraft, faults: Faults
) -> None:
    """Check that the part's material is there, then its thickness, then that the part fits."""
    material = part.material.value
    if material is None:
        return
    stocks = by_material.get(material)
    if stocks is None:
        message = f"no sheet or offcut is of the material {material}"
        hint = did_you_mean(material, by_material, one_of(by_material))
        faults.at(part.material.spot, FaultCode.UNKNOWN_NAME, message, hint)
        return
    thicknesses = sorted({s.thickness.value for s in stocks if s.thickness.value is not None})
    if part.thickness.is_wrong or any(stock.thickness.is_wrong for stock in stocks):
        return
    shown = ", ".join(format_thickness(value, draft.units) for value in thicknesses)
    if not part.thickness.given and len(thicknesses) > 1:
        message = f"{material} comes in several thicknesses: {shown}"
        spot = Spot(part.spot.mark, f"{part.spot.path}.thickness")
        faults.at(spot, FaultCode.THICKNESS, message, "a thickness, one of these")
        return
    thickness = part.thickness.or_else(thicknesses[0])
    if thickness not in thicknesses:
        told = _explain_thickness(thickness, thicknesses, draft.units, shown)
        faults.at(part.thickness.spot, FaultCode.THICKNESS, *told)
        return
    there = [stock for stock in stocks if stock.thickness.value == thickness]
    has_grain = any(draft.has_grain(stock) for stock in there)
    _check_fits(part, there, draft.units, faults, has_grain=has_grain)


def _explain_thickness(
    thickness: Fraction, known: list[Fraction], units: Units, shown: str
) -> tuple[str, str]:
    message = f"this material comes in {shown}"
    nearest = min(known, key=lambda value: abs(value - thickness))
    if abs(nearest - thickness) < convert(Fraction(2), Units.MM, units):
        # 3/4 in and 18 mm are both said of one board, but differ by a millimetre in a joint.
        both = " and ".join(_in_both_units(value, units) for value in (thickness, nearest))
        message = f"{message}; {both}: not the same"
    return message, f"the thickness as the stock has it: {shown}"


def _in_both_units(value: Fraction, units: Units) -> str:
    """Say a thickness in its plain unit and, finely, in the other: ``3/4" is 19.05 mm``."""
    plain = format_thickness(value, units)
    other, fine = (Units.INCH, 1000) if plain.endswith("mm") else (Units.MM, 100)
    return f"{plain} is {format_length(convert(value, units, other), other, Fraction(1, fine))}"


def _check_fits(
    part: PartDraft, stocks: list[StockDraft], units: Units, faults: Faults, *, has_grain: bool
) -> None:
    if part.size.value is None or part.grain.is_wrong:
        return
    usable = [_usable(stock) for stock in stocks]
    sizes = [size for size in usable if size is not None and min(size) > 0]
    if not sizes or len(sizes) < len(usable):
        return
    grain = part.grain.or_else(Grain.ANY) if has_grain else Grain.ANY
    turns = list(_turns(part.size.value, grain))
    if any(length <= sheet[0] and width <= sheet[1] for sheet in sizes for length, width in turns):
        return
    largest = max(sizes, key=lambda size: size[0] * size[1])
    message = "the part is larger than every sheet and offcut of its material"
    if len(turns) == 1:
        message += f" with its {grain.value} along the grain"
    trimmed = " once trimmed" if any(s.trims and any(s.trims.each) for s in stocks) else ""
    # The reader compares with the part as written: its width lies along the sheet's length.
    most = largest[::-1] if grain is Grain.WIDTH else largest
    accepted = f"at most {format_size(*most, units)}, the largest{trimmed}"
    faults.at(part.size.spot, FaultCode.PART_TOO_LARGE, message, accepted)


def _turns(size: tuple[Fraction, Fraction], grain: Grain) -> Iterator[tuple[Fraction, Fraction]]:
    """Give the ways a part may lie, as length and width along and across the sheet's grain."""
    if grain is not Grain.WIDTH:
        yield size
    if grain is not Grain.LENGTH:
        yield size[1], size[0]


def _check_grid(draft: JobDraft, faults: Faults) -> None:
    """Refuse lengths that share no step coarse enough for whole numbers."""
    spots = list(_plane_lengths(draft))
    try:
        Grid.of(length for _, length in spots)
    except LengthError as error:
        spot, _ = max(spots, key=lambda entry: entry[1].denominator)
        message = f"beside the others {error.problem}"
        faults.at(spot, FaultCode.NO_COMMON_STEP, message, error.accepted)


def _plane_lengths(draft: JobDraft) -> Iterator[tuple[Spot, Fraction]]:
    """Give every length that cutting adds and subtracts."""
    singles = [stock.trim for stock in draft.stock]
    for stock in draft.stock:
        singles += (stock.edges or {}).values()
    for saw in draft.every_saw:
        singles += [saw.kerf, saw.scale]
    if draft.saw is not None:
        singles.append(draft.saw.max_rip)
    if draft.store is not None:
        singles += [draft.store.kerf, draft.store.accuracy]
    for found in singles:
        if found.value is not None:
            yield found.spot, found.value
    for entry in _entries(draft):
        for side in entry.size.value or ():
            yield entry.size.spot, side

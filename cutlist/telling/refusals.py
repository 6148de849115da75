"""Why a sound job cannot be cut, and what would help, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cutlist.model.job import Grain
from cutlist.model.refusals import (
    FitsNowhere,
    LeftBehind,
    NoSheetHome,
    NoStock,
    NotWhole,
    ObstacleKind,
    PartLimit,
    PartTooLarge,
    RemedyKind,
    StockShort,
    WouldHelp,
)
from cutlist.units.lengths import format_length, format_size, format_thickness
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.errors import Reason
    from cutlist.model.job import Job, Sheet
    from cutlist.model.refusals import Obstacle, Remedy

__all__ = ["reason_words"]


def reason_words(reason: Reason) -> str:
    """Say one reason, as a sentence without a full stop."""
    if isinstance(reason, NoStock):
        names = ", ".join(reason.parts)
        return f"{names}: no {reason.material} of this thickness is in stock"
    if isinstance(reason, FitsNowhere):
        return _fits_nowhere(reason)
    if isinstance(reason, StockShort):
        return _short(reason)
    if isinstance(reason, LeftBehind):
        return f"{_obstacles(reason.job, reason.obstacles)}; {_remedies(reason)}"
    if isinstance(reason, NoSheetHome):
        return _no_sheet_home(reason)
    if isinstance(reason, PartTooLarge):
        words = _too_large(reason)
        return words if reason.remedies is None else f"{words}; {_remedies(reason)}"
    if isinstance(reason, NotWhole):
        return _uncut(reason.job, reason.obstacles)
    if isinstance(reason, WouldHelp):
        return f"for all of them {_remedies(reason)}"
    return str(reason)


def _fits_nowhere(reason: FitsNowhere) -> str:
    job, part = reason.job, reason.part
    size = format_size(part.length, part.width, job.units)
    stock = [
        piece
        for piece in job.stock
        if (piece.material, piece.thickness) == (part.material, part.thickness)
        and piece not in reason.left_behind
    ]
    listed = ", ".join(
        f"{piece.name} {format_size(piece.length, piece.width, job.units)}" for piece in stock
    )
    turn = "" if part.grain is Grain.ANY else f" with the grain along its {part.grain}"
    reach = ""
    if reason.is_beyond_reach:
        reach = (
            "; the fence does not reach across it, so a sheet must be exactly its size or more than"
            " a kerf larger"
        )
    return f"{part.name} {size}{turn} cannot be cut from {listed}{reach}"


def _short(reason: StockShort) -> str:
    job, left_behind = reason.job, reason.left_behind
    part = reason.short[0][0]
    thickness = format_thickness(part.thickness, job.units)
    panels = ", ".join(f"{count} × {one.name}" for one, count in reason.short)
    verdict = (
        "cannot hold all panels"
        if reason.is_proven
        else "did not hold all panels in any layout found"
    )
    limited = [
        f"{piece.name} ({piece.in_stock} in stock)"
        for piece in job.sheets
        if (piece.material, piece.thickness) == (part.material, part.thickness)
        and piece.in_stock is not None
        and piece not in left_behind
    ]
    remedy = f"raise in_stock of {' or '.join(limited)}" if limited else "add a sheet to buy"
    if reason.missing:
        more = " and ".join(f"{count} more {name}" for name, count in reason.missing)
        remedy = f"{more} would do: {remedy}"
    words = f"the stock of {part.material} {thickness} {verdict}: short of {panels}"
    # Where there are sheets that cannot be taken home, these are what there is to speak of.
    is_all = left_behind and not limited and not reason.missing
    return words if is_all else f"{words}; {remedy}"


def _no_sheet_home(reason: NoSheetHome) -> str:
    job = reason.job
    trouble = f"{', '.join(reason.parts)}: no sheet goes into the vehicle"
    why = _obstacles(job, reason.obstacles)
    if job.store is None:
        saw = "describe the saw where you buy under store: to have them broken down"
        return f"{trouble}: {why}; {saw}, or else {_remedies(reason)}"
    return f"{trouble} ({_room(job)}): {why}; {_remedies(reason)}"


def _too_large(reason: PartTooLarge) -> str:
    job, part = reason.job, reason.part
    assert job.store is not None
    name = f"{part.name} {format_size(part.length, part.width, job.units)}"
    if reason.limit is PartLimit.OPENING:
        return f"{name} is larger than the vehicle takes ({_room(job)})"
    if reason.kg is not None:
        return f"{name} weighs {_weight(reason.kg, job)}, too much for the vehicle"
    why = "with the edges that have to be cleaned up after the store's cuts"
    if job.store.max_cuts is not None:
        noun = "cut" if job.store.max_cuts == 1 else "cuts"
        why += f", within {job.store.max_cuts} {noun} a sheet"
    return f"{name} fits no blank for the vehicle ({_room(job)}) {why}"


def _obstacles(job: Job, obstacles: Sequence[Obstacle]) -> str:
    """Say of each sheet that is not taken home what is in the way."""
    if job.store is None:
        return _uncut(job, obstacles)
    return "; ".join(_obstacle(job, one) for one in obstacles)


def _uncut(job: Job, obstacles: Sequence[Obstacle]) -> str:
    """Say of sheets that do not get home uncut why they do not."""
    words = []
    light = [one for one in obstacles if one.kind is ObstacleKind.SIZE]
    heavy = [one for one in obstacles if one.kind is ObstacleKind.WEIGHT]
    if light:
        verb = "does" if len(light) == 1 else "do"
        listed = ", ".join(_named(job, one) for one in light)
        words.append(f"{listed} {verb} not go into the vehicle uncut ({_openings(job)})")
    if heavy:
        verb = "is" if len(heavy) == 1 else "are"
        listed = ", ".join(_named(job, one) for one in heavy)
        words.append(f"{listed} {verb} too heavy to carry uncut")
    return "; ".join(words)


def _obstacle(job: Job, one: Obstacle) -> str:
    assert job.store is not None
    name = _named(job, one)
    if one.kind is ObstacleKind.CUTS:
        noun = "cut" if one.cuts == 1 else "cuts"
        return f"{name} takes {one.cuts} {noun} to go in and max_cuts is {one.most}"
    if one.kind is ObstacleKind.NARROW:
        least = format_length(job.store.min_piece, job.units)
        return f"{name} leaves a piece narrower than the store cuts (min_piece {least})"
    return f"{name} has no cuts that make it fit"


def _remedies(reason: LeftBehind | NoSheetHome | PartTooLarge | WouldHelp) -> str:
    """Say what would do, or that nothing was found that would."""
    found = [_remedy(reason.job, one) for one in reason.remedies or ()]
    if not found:
        return "no larger bed and no further cuts would do by themselves"
    listed = ", ".join(found[:-1])
    return f"{listed} or {found[-1]} would do" if listed else f"{found[-1]} would do"


def _remedy(job: Job, one: Remedy) -> str:
    size = "" if one.size is None else format_size(*one.size, job.units)
    if one.kind is RemedyKind.MORE_CUTS:
        noun = "cut" if one.more == 1 else "cuts"
        return f"{one.more} more {noun} a sheet (max_cuts {one.number})"
    if one.kind is RemedyKind.NARROWER_PIECES:
        return "a store that cuts narrower pieces (min_piece)"
    if one.kind is RemedyKind.LOAD:
        return f"a max_load of {one.number} {WEIGHT_UNIT[job.units]}"
    if one.kind is RemedyKind.BED:
        return f"a bed of {size}"
    if one.kind is RemedyKind.OPENING:
        return f"a roof rack or other second opening of {size}"
    same = f", the size of {one.name}," if one.name else ""
    return f"a sheet of {size}{same}"


def _named(job: Job, one: Obstacle) -> str:
    """Name a sheet with its size, and its weight where it is too heavy."""
    name = f"{one.sheet.name} {_size(job, one.sheet)}"
    return name if one.kg is None else f"{name}, {_weight(one.kg, job)},"


def _size(job: Job, sheet: Sheet) -> str:
    return format_size(sheet.length, sheet.width, job.units)


def _room(job: Job) -> str:
    """Say what the vehicle takes and carries."""
    assert job.vehicle is not None
    if job.vehicle.max_load_kg is None:
        return _openings(job)
    return f"{_openings(job)}, {_weight(job.vehicle.max_load_kg, job)} load"


def _openings(job: Job) -> str:
    vehicle = job.vehicle
    assert vehicle is not None
    words = f"{format_size(vehicle.bed_length, vehicle.bed_width, job.units)} bed"
    if vehicle.second_opening is not None:
        words += f", {format_size(*vehicle.second_opening, job.units)} second opening"
    return words


def _weight(kg: Fraction, job: Job) -> str:
    return f"{float(in_weight_unit(kg, job.units)):.1f} {WEIGHT_UNIT[job.units]}"

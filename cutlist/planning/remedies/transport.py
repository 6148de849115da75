"""What goes into the vehicle: sheets as they are bought, or broken down at the store.

Says which of the limits is in the way where nothing does: the openings, the load, the store's
number of cuts, or the smallest piece that it cuts; and what would help.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlist.breakdown.fewest_cuts import TOO_MANY_CUTS, FewestCuts
from cutlist.breakdown.patterns import StoreLimits
from cutlist.errors import CannotCutError
from cutlist.model.job import Job, Part, Sheet, Stock
from cutlist.planning.remedies.remedies import Case, remedies, weight_of
from cutlist.units.lengths import format_length, format_size
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.units.grid import Grid


def goes_in(stock: Stock, job: Job) -> bool:
    """Say whether a piece of stock gets home as it is: offcuts are there already."""
    vehicle = job.vehicle
    if vehicle is None or not isinstance(stock, Sheet):
        return True
    return _lies_in((stock.length, stock.width), job) and not _is_too_heavy(stock, job)


def _lies_in(size: tuple[Fraction, Fraction], job: Job) -> bool:
    """Say whether a piece goes through one of the vehicle's openings, one way or the other."""
    assert job.vehicle is not None
    return any(
        all(side <= room for side, room in zip(sorted(size), sorted(opening), strict=True))
        for opening in job.vehicle.openings
    )


def _is_too_heavy(sheet: Sheet, job: Job) -> bool:
    """Say whether a whole sheet, where its weight is known, is more than the vehicle carries."""
    assert job.vehicle is not None
    kg, most = weight_of(sheet, job), job.vehicle.max_load_kg
    return kg is not None and most is not None and kg > most


def fewest_cuts(sheet: Sheet, limits: StoreLimits, grid: Grid) -> int:
    """Return the fewest cuts after which every piece goes in; ``TOO_MANY_CUTS`` if none do."""
    size = (grid.to_int(sheet.length), grid.to_int(sheet.width))
    return FewestCuts(limits.of_sheet(sheet)).of_sheet(*size)


def is_broken_down(sheet: Sheet, limits: StoreLimits, grid: Grid) -> bool:
    """Say whether the store makes enough cuts for every piece of a sheet to go in."""
    return fewest_cuts(sheet, limits, grid) <= limits.max_cuts


def not_whole(job: Job, sheets: Sequence[Sheet]) -> str:
    """Say of sheets that do not get home uncut why they do not."""
    light = [sheet for sheet in sheets if not _is_too_heavy(sheet, job)]
    heavy = [sheet for sheet in sheets if _is_too_heavy(sheet, job)]
    words = []
    if light:
        verb = "does" if len(light) == 1 else "do"
        listed = ", ".join(_named(job, sheet) for sheet in light)
        words.append(f"{listed} {verb} not go into the vehicle uncut ({_openings(job)})")
    if heavy:
        verb = "is" if len(heavy) == 1 else "are"
        listed = ", ".join(_named(job, sheet) for sheet in heavy)
        words.append(f"{listed} {verb} too heavy to carry uncut")
    return "; ".join(words)


def in_the_way(job: Job, sheets: Sequence[Sheet], grid: Grid) -> str:
    """Say of each sheet that is not taken home, whole or broken down, what is in the way."""
    if job.store is None:
        return not_whole(job, sheets)
    return "; ".join(_in_the_way(job, sheet, grid) for sheet in sheets)


def why_left_behind(case: Case) -> str:
    """Say of sheets that are not taken home what is in the way, and what would help."""
    return f"{in_the_way(case.job, case.left_behind, case.grid)}; {remedies(case)}"


def _in_the_way(job: Job, sheet: Sheet, grid: Grid) -> str:
    assert job.store is not None
    assert job.vehicle is not None
    store, name = job.store, _named(job, sheet)
    limits = StoreLimits.of(store, job.vehicle, grid, job.units)
    needed = fewest_cuts(sheet, limits, grid)
    if needed < TOO_MANY_CUTS:
        noun = "cut" if needed == 1 else "cuts"
        return f"{name} takes {needed} {noun} to go in and max_cuts is {limits.max_cuts}"
    if store.min_piece and fewest_cuts(sheet, replace(limits, least=1), grid) < TOO_MANY_CUTS:
        least = format_length(store.min_piece, job.units)
        return f"{name} leaves a piece narrower than the store cuts (min_piece {least})"
    return f"{name} has no cuts that make it fit"


def too_large(parts: Sequence[Part], case: Case) -> CannotCutError:
    """Return the error for parts all of whose sheets are too large or too heavy for the vehicle."""
    job = case.job
    names = ", ".join(part.name for part in parts)
    trouble = f"{names}: no sheet goes into the vehicle"
    reasons = in_the_way(job, case.left_behind, case.grid)
    if job.store is None:
        saw = "describe the saw where you buy under store: to have them broken down"
        return CannotCutError([f"{trouble}: {reasons}; {saw}, or else {remedies(case)}"])
    return CannotCutError([f"{trouble} ({_room(job)}): {reasons}; {remedies(case)}"])


def parts_too_large(parts: Sequence[Part], case: Case) -> list[str]:
    """Return the reasons for parts that fit no piece that the store can make and the car takes."""
    reasons = [_part_too_large(part, case) for part in parts]
    if len(reasons) == 1:
        return [f"{reasons[0]}; {remedies(case)}"]
    return [*reasons, f"for all of them {remedies(case)}"]


def _part_too_large(part: Part, case: Case) -> str:
    job = case.job
    assert job.store is not None
    name = f"{part.name} {format_size(part.length, part.width, job.units)}"
    if not _lies_in((part.length, part.width), job):
        return f"{name} is larger than the vehicle takes ({_room(job)})"
    kg = weight_of(replace(case.sheets[0], length=part.length, width=part.width), job)
    most = job.vehicle.max_load_kg if job.vehicle else None
    if kg is not None and most is not None and kg > most:
        return f"{name} weighs {_weight(kg, job)}, too much for the vehicle"
    why = "with the edges that have to be cleaned up after the store's cuts"
    if job.store.max_cuts is not None:
        noun = "cut" if job.store.max_cuts == 1 else "cuts"
        why += f", within {job.store.max_cuts} {noun} a sheet"
    return f"{name} fits no blank for the vehicle ({_room(job)}) {why}"


def _named(job: Job, sheet: Sheet) -> str:
    """Name a sheet with its size, and its weight where it is too heavy."""
    name = f"{sheet.name} {format_size(sheet.length, sheet.width, job.units)}"
    kg = weight_of(sheet, job)
    return f"{name}, {_weight(kg, job)}," if kg is not None and _is_too_heavy(sheet, job) else name


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

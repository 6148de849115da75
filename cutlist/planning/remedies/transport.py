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
from cutlist.errors import CannotCutError, Reason
from cutlist.model.job import Job, Part, Sheet, Stock
from cutlist.model.refusals import (
    LeftBehind,
    NoSheetHome,
    NotWhole,
    Obstacle,
    ObstacleKind,
    PartLimit,
    PartTooLarge,
    WouldHelp,
)
from cutlist.planning.remedies.remedies import Case, remedies, weight_of

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


def obstacles(job: Job, sheets: Sequence[Sheet], grid: Grid) -> tuple[Obstacle, ...]:
    """Return of each sheet that is not taken home, whole or broken down, what is in the way."""
    return tuple(_obstacle(job, sheet, grid) for sheet in sheets)


def not_whole(job: Job, sheets: Sequence[Sheet]) -> NotWhole:
    """Return of sheets that do not get home uncut why they do not."""
    return NotWhole((), job, tuple(_uncut(job, sheet) for sheet in sheets))


def _uncut(job: Job, sheet: Sheet) -> Obstacle:
    if _is_too_heavy(sheet, job):
        return Obstacle(sheet, ObstacleKind.WEIGHT, weight_of(sheet, job))
    return Obstacle(sheet, ObstacleKind.SIZE)


def why_left_behind(case: Case) -> LeftBehind:
    """Return of sheets that are not taken home what is in the way, and what would help."""
    job = case.job
    return LeftBehind((), job, obstacles(job, case.left_behind, case.grid), remedies(case))


def _obstacle(job: Job, sheet: Sheet, grid: Grid) -> Obstacle:
    assert job.vehicle is not None
    store = job.store
    if store is None:
        return _uncut(job, sheet)
    kg = weight_of(sheet, job) if _is_too_heavy(sheet, job) else None
    limits = StoreLimits.of(store, job.vehicle, grid, job.units)
    needed = fewest_cuts(sheet, limits, grid)
    if needed < TOO_MANY_CUTS:
        return Obstacle(sheet, ObstacleKind.CUTS, kg, needed, limits.max_cuts)
    if store.min_piece and fewest_cuts(sheet, replace(limits, least=1), grid) < TOO_MANY_CUTS:
        return Obstacle(sheet, ObstacleKind.NARROW, kg)
    return Obstacle(sheet, ObstacleKind.NO_CUTS, kg)


def too_large(parts: Sequence[Part], case: Case) -> CannotCutError:
    """Return the error for parts all of whose sheets are too large or too heavy for the vehicle."""
    job, names = case.job, tuple(part.name for part in parts)
    found = obstacles(job, case.left_behind, case.grid)
    return CannotCutError([NoSheetHome(names, job, found, remedies(case))])


def parts_too_large(parts: Sequence[Part], case: Case) -> list[Reason]:
    """Return the reasons for parts that fit no piece that the store can make and the car takes."""
    reasons = [_part_too_large(part, case) for part in parts]
    if len(reasons) == 1:
        return [replace(reasons[0], remedies=remedies(case))]
    names = tuple(part.name for part in parts)
    return [*reasons, WouldHelp(names, case.job, remedies(case))]


def _part_too_large(part: Part, case: Case) -> PartTooLarge:
    job, limit, too_heavy = case.job, PartLimit.BLANK, None
    if not _lies_in((part.length, part.width), job):
        limit = PartLimit.OPENING
    else:
        kg = weight_of(replace(case.sheets[0], length=part.length, width=part.width), job)
        most = job.vehicle.max_load_kg if job.vehicle else None
        if kg is not None and most is not None and kg > most:
            limit, too_heavy = PartLimit.LOAD, kg
    return PartTooLarge((part.name,), job, part, limit, too_heavy, None)

"""What goes into the vehicle: sheets as they are bought, or broken down at the store.

Says which of the limits is in the way where nothing does: the bed, the store's number of cuts, or
the smallest piece that it cuts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlist.errors import CannotCutError
from cutlist.lengths import format_length, format_size
from cutlist.model.job import Job, Part, Sheet, Stock, Store
from cutlist.model.weights import cubic_metres
from cutlist.planning.patterns import Limits, whole
from cutlist.planning.splitting import MANY, Splitter

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.grid import Grid


def goes_in(stock: Stock, job: Job) -> bool:
    """Say whether a piece of stock gets home as it is: offcuts are there already."""
    vehicle = job.vehicle
    if vehicle is None or not isinstance(stock, Sheet):
        return True
    if is_too_heavy(stock, job):
        return False
    return any(_lies_in((stock.length, stock.width), opening) for opening in vehicle.openings)


def is_too_heavy(sheet: Sheet, job: Job) -> bool:
    """Say whether a whole sheet, where its weight is known, is more than the vehicle carries."""
    if job.vehicle is None or job.vehicle.max_load_kg is None or sheet.density is None:
        return False
    volume = cubic_metres(sheet.length, sheet.width, sheet.thickness, job.units)
    return volume * sheet.density.kg_per_m3 > job.vehicle.max_load_kg


def _lies_in(size: tuple[Fraction, Fraction], opening: tuple[Fraction, Fraction]) -> bool:
    """Say whether a piece goes through an opening, one way or the other."""
    return all(side <= room for side, room in zip(sorted(size), sorted(opening), strict=True))


def fewest_cuts(stock: Stock, limits: Limits, grid: Grid) -> int:
    """Return the fewest cuts after which every piece of a sheet goes in; ``MANY`` if none do."""
    sheet = whole(grid.to_int(stock.length), grid.to_int(stock.width), grid.to_int(stock.trim))
    return Splitter(sheet, limits.of_sheet(stock), (), 0).fewest


def is_broken_down(stock: Stock, limits: Limits, grid: Grid) -> bool:
    """Say whether the store makes enough cuts for every piece of a sheet to go in."""
    return fewest_cuts(stock, limits, grid) <= limits.max_cuts


def too_large(job: Job, parts: Sequence[Part], grid: Grid) -> CannotCutError:
    """Return the error for parts all of whose sheets are too large for the vehicle."""
    assert job.vehicle is not None
    first = parts[0]
    sheets = [
        sheet
        for sheet in job.sheets
        if (sheet.material, sheet.thickness) == (first.material, first.thickness)
    ]
    names = ", ".join(part.name for part in parts)
    listed = ", ".join(
        f"{sheet.name} {format_size(sheet.length, sheet.width, job.units)}" for sheet in sheets
    )
    trouble = f"{names}: no sheet goes into the vehicle ({_bed(job)} bed)"
    if job.store is None:
        remedy = (
            "describe the saw where you buy under store: to have them broken down, list a size that"
            " fits, or give a larger bed"
        )
        return CannotCutError([f"{trouble} uncut: {listed}; {remedy}"])
    limits = Limits.of(job.store, job.vehicle, grid, job.units)
    reasons = [_in_the_way(job, job.store, sheet, limits, grid) for sheet in sheets]
    remedy = "another sheet size or a larger bed would do as well"
    return CannotCutError([f"{trouble}: {'; '.join(reasons)}; {remedy}"])


def _in_the_way(job: Job, store: Store, sheet: Sheet, limits: Limits, grid: Grid) -> str:
    """Say why the store cannot break a sheet down."""
    name = f"{sheet.name} {format_size(sheet.length, sheet.width, job.units)}"
    needed = fewest_cuts(sheet, limits, grid)
    if needed < MANY:
        more = needed - limits.max_cuts
        noun = "cut" if more == 1 else "cuts"
        makes = f"max_cuts is {limits.max_cuts}"
        return f"{name} takes {needed} cuts and {makes}: {more} more {noun} would do"
    if store.min_piece and fewest_cuts(sheet, replace(limits, least=1), grid) < MANY:
        least = format_length(store.min_piece, job.units)
        return f"{name} leaves a piece narrower than the store cuts (min_piece {least})"
    return f"{name} has no cuts that make it fit"


def parts_too_large(job: Job, parts: Sequence[Part]) -> list[str]:
    """Return the reasons for parts that fit no piece that the store can make and the car takes."""
    assert job.vehicle is not None
    assert job.store is not None
    reasons = []
    for part in parts:
        size = format_size(part.length, part.width, job.units)
        sides = (part.length, part.width)
        if any(_lies_in(sides, opening) for opening in job.vehicle.openings):
            why = "with the edges that have to be cleaned up after the store's cuts"
            if job.store.max_cuts is not None:
                why += f", or within the store's {job.store.max_cuts} cuts a sheet"
            remedy = "one more cut, another sheet size or a larger bed would help"
            reasons.append(
                f"{part.name} {size} fits no blank for the vehicle ({_bed(job)} bed)"
                f" {why}; {remedy}"
            )
        else:
            reasons.append(
                f"{part.name} {size} is larger than the vehicle takes ({_bed(job)} bed): only a"
                " larger bed, or a smaller part, would do"
            )
    return reasons


def _bed(job: Job) -> str:
    assert job.vehicle is not None
    return format_size(job.vehicle.bed_length, job.vehicle.bed_width, job.units)

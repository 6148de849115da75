"""What goes into the vehicle as it is bought.

Sheets are taken home whole: one that does not fit the vehicle's bed is not bought.
"""

from __future__ import annotations

from cutlist.errors import CannotCutError
from cutlist.lengths import format_size
from cutlist.model.job import Job, Part, Sheet, Stock, Vehicle


def goes_in(stock: Stock, vehicle: Vehicle | None) -> bool:
    """Say whether a piece of stock gets home: offcuts are there already."""
    if vehicle is None or not isinstance(stock, Sheet):
        return True
    bed = sorted((vehicle.bed_length, vehicle.bed_width))
    return all(s <= b for s, b in zip(sorted((stock.length, stock.width)), bed, strict=True))


def too_large(job: Job, parts: list[Part]) -> CannotCutError:
    """Return the error for parts all of whose sheets are too large for the vehicle."""
    assert job.vehicle is not None
    bed = format_size(job.vehicle.bed_length, job.vehicle.bed_width, job.units)
    first = parts[0]
    sheets = ", ".join(
        f"{sheet.name} {format_size(sheet.length, sheet.width, job.units)}"
        for sheet in job.sheets
        if (sheet.material, sheet.thickness) == (first.material, first.thickness)
    )
    names = ", ".join(part.name for part in parts)
    remedy = "cuts at the store are not planned: add a size that fits, or leave vehicle out"
    return CannotCutError(
        [f"{names}: no sheet goes into the vehicle ({bed} bed) uncut: {sheets}; {remedy}"]
    )

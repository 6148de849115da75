"""Random jobs whose boards have a weight, and whose vehicle a largest load."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Job, Sheet, Units, Vehicle
from cutlist.model.weights import cubic_metres
from cutlist.reading.densities import with_densities


def with_load(job: Job, seed: int) -> Job:
    """Weigh a job's boards by their names, and take them home a little at a time.

    Poplar plywood stays of unknown weight.
    """
    rng = random.Random(f"load {seed}")
    sheets, offcuts = with_densities(job.sheets, job.offcuts)
    bed = max(max(stock.length, stock.width) for stock in job.stock)
    # No sheet is heavier than that: there is no store to cut it.
    sheet = max((_weight(sheet, job.units) for sheet in sheets), default=Fraction(0))
    vehicle = Vehicle(bed, bed, max(sheet, Fraction(rng.choice((30, 60, 100, 400)))))
    tax = Decimal(rng.choice(("0", "8.25", "19")))
    return replace(job, sheets=sheets, offcuts=offcuts, vehicle=vehicle, tax_percent=tax)


def _weight(sheet: Sheet, units: Units) -> Fraction:
    """Return what a sheet weighs in kg; 0 where that is not known."""
    if sheet.density is None:
        return Fraction(0)
    volume = cubic_metres(sheet.length, sheet.width, sheet.thickness, units)
    return volume * sheet.density.kg_per_m3

"""Random jobs whose boards have a weight, and whose vehicle a largest load."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Job, Sheet, Vehicle
from cutlist.reading.densities import with_densities
from cutlist.units.masses import cubic_metres
from cutlist.units.system import Units


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


def with_light_loads(job: Job, seed: int) -> Job:
    """Weigh a job's boards, and let its vehicle carry not quite, or just, the heaviest sheet.

    It carries each part with half as much again of its board. In half of the jobs every sheet goes
    in whole, if it is not too heavy.
    """
    rng = random.Random(f"light {seed}")
    assert job.vehicle is not None
    sheets, offcuts = with_densities(job.sheets, job.offcuts)
    heaviest = max(_weight(sheet, job.units) for sheet in sheets)
    parts = [
        _weight(replace(sheet, length=part.length, width=part.width), job.units)
        for part in job.parts
        for sheet in sheets
        if sheet.material == part.material
    ]
    load = max(heaviest * rng.randint(40, 110) / 100, max(parts) * 3 / 2)
    vehicle = replace(job.vehicle, max_load_kg=load or None)
    if rng.random() < 0.5:
        longest = max(max(sheet.length, sheet.width) for sheet in sheets)
        vehicle = replace(vehicle, bed_length=longest, bed_width=longest)
    return replace(job, sheets=sheets, offcuts=offcuts, vehicle=vehicle)


def _weight(sheet: Sheet, units: Units) -> Fraction:
    """Return what a sheet weighs in kg; 0 where that is not known."""
    if sheet.density is None:
        return Fraction(0)
    volume = cubic_metres(sheet.length, sheet.width, sheet.thickness, units)
    return volume * sheet.density.kg_per_m3

"""Random jobs such as a home shop has: cabinets, cases and shelves from sheet goods."""

from __future__ import annotations

import random
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Grain, Job, Match, Offcut, Part, Saw, Sheet, Store, Vehicle
from cutlist.units.system import Units

_INCH_SHEETS = ((96, 48), (48, 48), (60, 60), (97, 49), (48, 24))
_MM_SHEETS = ((2440, 1220), (2500, 1250), (2800, 2070), (1525, 1525), (1220, 1220))


def random_job(seed: int) -> Job:
    """Return the job of a seed; it can be cut, unless its stock is limited."""
    rng = random.Random(seed)
    units = rng.choice((Units.INCH, Units.MM))
    is_inch = units is Units.INCH
    kerf = rng.choice(
        (Fraction(1, 8), Fraction(3, 32), Fraction(0))
        if is_inch
        else (Fraction(3), Fraction(32, 10), Fraction(22, 10))
    )
    trim = rng.choice((0, 0, Fraction(1, 4) if is_inch else Fraction(6)))
    reach = rng.choice(
        (None, None, Fraction(30 if is_inch else 750), Fraction(52 if is_inch else 1300))
    )
    scale = rng.choice((None, Fraction(1, 32) if is_inch else Fraction(1, 2)))
    saw = Saw(kerf, reach, scale)
    materials = rng.sample(("birch ply", "mdf", "poplar ply"), rng.choice((1, 1, 2)))
    sheets: list[Sheet] = []
    offcuts: list[Offcut] = []
    parts: list[Part] = []
    for material in materials:
        thickness = Fraction(rng.choice((18, 12, 6))) / (Fraction(254, 10) if is_inch else 1)
        sizes = rng.sample(_INCH_SHEETS if is_inch else _MM_SHEETS, rng.choice((1, 1, 2, 3)))
        for along, across in sizes:
            sheets.append(
                Sheet(
                    name=f"{material} {along} x {across}",
                    material=material,
                    thickness=thickness,
                    length=Fraction(along),
                    width=Fraction(across),
                    price=Decimal(rng.randrange(2000, 9000)) / 100,
                    in_stock=rng.choice((None, None, 40)),
                    trim=Fraction(trim),
                )
            )
        largest = max(sizes, key=lambda size: size[0] * size[1])
        for index in range(rng.choice((0, 0, 1, 2))):
            offcuts.append(
                Offcut(
                    name=f"{material} rack {index + 1}",
                    material=material,
                    thickness=thickness,
                    length=_size(rng, largest[0] // 2, is_inch=is_inch),
                    width=_size(rng, largest[1] // 2, is_inch=is_inch),
                    qty=rng.choice((1, 2)),
                )
            )
        depths = [_size(rng, largest[1] // 2, is_inch=is_inch) for _ in range(2)]
        for index in range(rng.randrange(2, 9)):
            length = _size(rng, largest[0] * 6 // 10, is_inch=is_inch)
            width = rng.choice((*depths, _size(rng, largest[1] * 6 // 10, is_inch=is_inch)))
            parts.append(
                Part(
                    name=f"{material} part {index + 1}",
                    material=material,
                    thickness=thickness,
                    length=length,
                    width=width,
                    qty=rng.choice((1, 1, 2, 2, 3, 4, 6)),
                    grain=rng.choice((Grain.ANY, Grain.LENGTH))
                    if length > largest[1] - 2
                    else rng.choice(tuple(Grain)),
                )
            )
    return Job(
        name=f"random job {seed}",
        units=units,
        saw=saw,
        sheets=tuple(sheets),
        parts=tuple(parts),
        offcuts=tuple(offcuts),
    )


def with_matches(job: Job) -> Job:
    """Let the parts of a job that share a size match, in up to four groups."""
    by_size: dict[Fraction, list[Part]] = {}
    for part in job.parts:
        for side in dict.fromkeys((part.length, part.width)):
            by_size.setdefault(side, []).append(part)
    groups = [(side, parts) for side, parts in by_size.items() if sum(p.qty for p in parts) > 1]
    groups.sort(key=lambda group: -len(group[1]))
    matches = (
        Match(f"group {number}", side, tuple(part.name for part in parts))
        for number, (side, parts) in enumerate(groups[:4], start=1)
    )
    return replace(job, matches=tuple(matches), also_in=next(u for u in Units if u != job.units))


def with_small_car(job: Job, seed: int) -> Job:
    """Let a job's sheets get home in a car into which not all of them go whole.

    The bed takes every part with what has to be cleaned up around it.
    """
    rng = random.Random(f"car {seed}")
    is_inch = job.units is Units.INCH
    step = Fraction(1) if is_inch else Fraction(10)
    store = Store(
        kerf=rng.choice(
            (Fraction(1, 8), Fraction(3, 16), Fraction(7, 64))
            if is_inch
            else (Fraction(3), Fraction(4), Fraction(32, 10))
        ),
        accuracy=rng.choice(
            (Fraction(0), Fraction(1, 16), Fraction(1, 8))
            if is_inch
            else (Fraction(0), Fraction(2), Fraction(3))
        ),
        max_cuts=rng.choice((4, 5, 6, None)),
        free_cuts=rng.choice((0, 2, 4)),
        cut_price=Decimal(rng.choice((0, 25, 50))) / 100,
        min_piece=rng.choice((Fraction(0), 4 * step)),
    )
    margin = 2 * max(store.accuracy, *(sheet.trim for sheet in job.sheets)) + step
    long = max(max(part.length, part.width) for part in job.parts) + margin
    short = max(min(part.length, part.width) for part in job.parts) + margin
    # The sheet with the longest short side leaves the most to be cut.
    sheet = max(job.sheets, key=lambda sheet: (min(sheet.length, sheet.width), sheet.length))
    sides = sorted((sheet.length, sheet.width))
    long = max(long, _share(rng, sides[1], step))
    short = max(short, _share(rng, sides[0], step))
    return replace(job, store=store, vehicle=Vehicle(max(long, short), min(long, short)))


def with_two_openings(job: Job, seed: int) -> Job:
    """Let the sheets get home through a bed and a long narrow slot beside it.

    A part goes through one of them at least, with what has to be cleaned up around it.
    """
    rng = random.Random(f"openings {seed}")
    job = with_small_car(job, seed)
    assert job.store is not None
    store = replace(job.store, max_cuts=rng.choice((6, 8, None)))
    step = Fraction(1) if job.units is Units.INCH else Fraction(10)
    margin = 2 * max(store.accuracy, *(sheet.trim for sheet in job.sheets)) + step
    sheet = max(job.sheets, key=lambda sheet: (min(sheet.length, sheet.width), sheet.length))
    sides = sorted((sheet.length, sheet.width))
    narrow = max(3 * step, int(sides[0] * rng.randint(10, 40) / 100 / step) * step)
    slot = (max(max(sheet.length, sheet.width) for sheet in job.sheets), narrow)
    wide = [p for p in job.parts if min(p.length, p.width) + margin > narrow]
    long = max([_share(rng, sides[1], step), *(max(p.length, p.width) + margin for p in wide)])
    short = max([_share(rng, sides[0], step), *(min(p.length, p.width) + margin for p in wide)])
    vehicle = Vehicle(max(long, short), min(long, short), second_opening=slot)
    return replace(job, store=store, vehicle=vehicle)


def _share(rng: random.Random, side: Fraction, step: Fraction) -> Fraction:
    """Return a random share of a sheet's side, in whole steps."""
    return int(side * rng.randint(50, 90) / 100 / step) * step


def _size(rng: random.Random, most: int, *, is_inch: bool) -> Fraction:
    step = Fraction(1, rng.choice((1, 2, 8, 16))) if is_inch else Fraction(rng.choice((1, 5, 10)))
    least = 3 if is_inch else 75
    count = int((most - least) / step)
    return least + step * rng.randrange(max(1, count))

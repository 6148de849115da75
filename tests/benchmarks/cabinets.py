"""Random cabinet jobs, the same for a number on every machine: what the set-ups are measured on.

A job is one to four cabinets of one or two kinds that share a depth, as a run of cabinets in a
shop does: sides, top and bottom, shelves, doors, a back, drawers. Sizes are drawn as a woodworker
writes them, to an eighth of an inch or a millimetre; panels that run between the sides are shorter
than the cabinet by twice the thickness. All jobs have 8 to 50 panels.

Only ``random.Random`` with the job's number as its seed is drawn from, so the set stays the same.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Grain, Job, Part, Saw, Sheet
from cutlist.units.system import Units

JOBS = 100
LEAST_PANELS, MOST_PANELS = 8, 50


@dataclass(frozen=True, slots=True)
class _Trade:
    """What is usual in one system of units."""

    units: Units
    step: Fraction
    depths: tuple[Fraction, ...]
    heights: tuple[Fraction, ...]
    widths: tuple[Fraction, ...]
    drawer_heights: tuple[Fraction, ...]
    carcass: Fraction
    back: Fraction
    gap: Fraction
    kerfs: tuple[Fraction, ...]
    reaches: tuple[Fraction | None, ...]
    sheets: tuple[tuple[int, int], ...]
    trim: Fraction


def _inches(*texts: str) -> tuple[Fraction, ...]:
    return tuple(Fraction(text) for text in texts)


_INCH = _Trade(
    units=Units.INCH,
    step=Fraction(1, 8),
    depths=_inches("11", "45/4", "47/4", "12", "15", "16", "20", "93/4", "47/2"),
    heights=_inches("24", "30", "123/4", "69/2", "36", "42", "48", "60", "72"),
    widths=_inches("12", "15", "18", "21", "24", "27", "30", "33", "36"),
    drawer_heights=_inches("3", "4", "5", "6", "8"),
    carcass=Fraction(3, 4),
    back=Fraction(1, 4),
    gap=Fraction(1, 8),
    kerfs=(Fraction(1, 8), Fraction(1, 8), Fraction(3, 32)),
    reaches=(None, None, None, Fraction(52), Fraction(36), Fraction(30)),
    sheets=((96, 48), (96, 48), (60, 60), (48, 48)),
    trim=Fraction(1, 4),
)
_MM = _Trade(
    units=Units.MM,
    step=Fraction(1),
    depths=tuple(map(Fraction, (280, 300, 320, 350, 400, 510, 560, 580))),
    heights=tuple(map(Fraction, (600, 700, 720, 780, 870, 1000, 1200, 1500, 1800))),
    widths=tuple(map(Fraction, (300, 400, 450, 500, 600, 700, 800, 900))),
    drawer_heights=tuple(map(Fraction, (80, 100, 120, 150, 200))),
    carcass=Fraction(18),
    back=Fraction(6),
    gap=Fraction(3),
    kerfs=(Fraction(3), Fraction(32, 10), Fraction(24, 10)),
    reaches=(None, None, None, Fraction(1300), Fraction(900), Fraction(750)),
    sheets=((2440, 1220), (2440, 1220), (2500, 1250), (1525, 1525)),
    trim=Fraction(6),
)


def cabinet_job(number: int) -> Job:
    """Return the job of a number; its stock is not limited, and it can be cut."""
    rng = random.Random(f"cabinets {number}")
    while True:
        job = _draw(rng, number)
        if LEAST_PANELS <= sum(part.qty for part in job.parts) <= MOST_PANELS:
            return job


def with_trim(job: Job) -> Job:
    """Return the job with a factory edge to clean off every side of its sheets.

    That is 1/4 in, or 6 mm.
    """
    trim = (_INCH if job.units is Units.INCH else _MM).trim
    return replace(job, sheets=tuple(replace(sheet, trim=trim) for sheet in job.sheets))


def with_short_fence(job: Job) -> Job:
    """Return the job for a table saw whose fence reaches 30 in, or 760 mm."""
    reach = Fraction(30) if job.units is Units.INCH else Fraction(760)
    return replace(job, saw=replace(job.saw, max_rip=reach))


def dimensions(job: Job) -> int:
    """Count distinct widths and distinct lengths of the parts.

    That is what ripping all to width and crosscutting all to length would set.
    """
    return len({part.width for part in job.parts}) + len({part.length for part in job.parts})


def _draw(rng: random.Random, number: int) -> Job:
    trade = rng.choice((_INCH, _MM))
    length, width = rng.choice(trade.sheets)
    stock = {"carcass": ("birch ply", trade.carcass)}
    stock["back"] = rng.choice((("hardboard", trade.back), ("birch ply", trade.carcass)))
    room = (Fraction(length) - 2 * trade.trim, Fraction(width) - 2 * trade.trim)
    kinds = [_cabinet(rng, trade, stock, room)]
    depth = kinds[0][0].width
    if rng.random() < 0.5:
        kinds.append(_cabinet(rng, trade, stock, room, depth))
    parts: list[Part] = []
    for letter, kind in zip("AB", kinds, strict=False):
        cabinets = rng.choice((1, 1, 2)) if len(kinds) > 1 else rng.choice((1, 2, 3, 4))
        parts += [replace(p, name=f"{letter} {p.name}", qty=p.qty * cabinets) for p in kind]
    sheets = []
    for name, thickness in dict.fromkeys(stock.values()):
        price = Decimal(rng.randrange(3000, 9000) if name == "birch ply" else 2200) / 100
        sheets.append(
            Sheet(f"{name} full", name, thickness, Fraction(length), Fraction(width), price)
        )
        if rng.random() < 0.25 and length > width:
            half = (price * Decimal("0.6")).quantize(Decimal("0.01"))
            shape = (Fraction(length, 2), Fraction(width))
            sheets.append(Sheet(f"{name} half", name, thickness, *shape, half))
    scale = Fraction(1, 32) if trade.units is Units.INCH else Fraction(1, 2)
    saw = Saw(rng.choice(trade.kerfs), rng.choice(trade.reaches), rng.choice((None, scale)))
    return Job(f"cabinets {number}", trade.units, saw, tuple(sheets), tuple(parts))


def _cabinet(
    rng: random.Random,
    trade: _Trade,
    stock: dict[str, tuple[str, Fraction]],
    room: tuple[Fraction, Fraction],
    depth: Fraction | None = None,
) -> list[Part]:
    """Return the parts of one cabinet, the sides first; all of them fit ``room``."""
    least = min(room)
    depth = depth or rng.choice(trade.depths)
    height = rng.choice([h for h in trade.heights if h <= max(room)])
    width = rng.choice([w for w in trade.widths if w <= least])
    if min(height, width) > least:
        width = min(trade.widths)
    inside = width - 2 * trade.carcass
    material, thickness = stock["carcass"]
    grain = rng.choice((Grain.LENGTH, Grain.LENGTH, Grain.ANY))

    def part(name: str, along: Fraction, across: Fraction, qty: int, grain: Grain) -> Part:
        return Part(name, material, thickness, along, across, qty, grain)

    parts = [
        part("side", height, depth, 2, grain),
        part("top and bottom", inside, depth, 2, grain),
    ]
    shelves = rng.choice((0, 1, 1, 2, 3, 4))
    if shelves:
        setback = rng.choice((Fraction(0), 2 * trade.step, 6 * trade.step))
        parts.append(part("shelf", inside, depth - setback, shelves, grain))
    drawers = rng.choice((0, 0, 0, 2, 3, 4))
    if drawers:
        parts += _drawers(rng, trade, stock, (inside, depth), drawers)
    elif rng.random() < 0.7:
        leaves = 2 if width > trade.widths[4] else 1
        leaf = (width - (leaves + 1) * trade.gap) / leaves
        leaf -= leaf % trade.step
        parts.append(part("door", height - 2 * trade.gap, leaf, leaves, Grain.LENGTH))
    if rng.random() < 0.85 and min(height, width) <= least:
        name, sheet = stock["back"]
        free = Grain.ANY if name == "hardboard" or height > max(room) else grain
        parts.append(Part("back", name, sheet, height, width, 1, free))
    return parts


def _drawers(
    rng: random.Random,
    trade: _Trade,
    stock: dict[str, tuple[str, Fraction]],
    inside: tuple[Fraction, Fraction],
    drawers: int,
) -> list[Part]:
    """Return the parts of drawers of one height; the box is a little shorter than the cabinet."""
    material, thickness = stock["carcass"]
    tall = rng.choice(trade.drawer_heights)
    between = inside[0] - 8 * trade.step - 2 * thickness
    deep = inside[1] - 8 * trade.step
    parts = [
        Part("drawer side", material, thickness, deep, tall, 2 * drawers, Grain.ANY),
        Part("drawer end", material, thickness, between, tall, 2 * drawers, Grain.ANY),
    ]
    name, sheet = stock["back"]
    if name == "hardboard":
        size = (between + 2 * thickness, deep)
        parts.append(Part("drawer bottom", name, sheet, *size, drawers, Grain.ANY))
    if rng.random() < 0.5:
        front = (inside[0] - 2 * trade.gap, tall + 4 * trade.step)
        parts.append(Part("drawer front", material, thickness, *front, drawers, Grain.ANY))
    return parts

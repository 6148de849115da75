"""Random plans from the test bench: any sheet, strips and panels that fit it."""

from __future__ import annotations

from fractions import Fraction
from random import Random

from cutlist.model.job import Grain, Job, Sheet
from cutlist.model.plan import Plan
from cutlist.units.system import Units
from tests.drawing.bench import INCH_SAW, MM_SAW, Bench, Number, make_part

_NAMES = ("end", "shelf", "drawer front", "left-hand door with the round window", "slip", "Tür")


def random_plan(seed: int) -> Plan:
    """Fill a few sheets with random strips; some twice, so that sheets are alike."""
    random = Random(seed)
    inch = random.random() < 0.5
    saw = INCH_SAW if inch else MM_SAW
    mark = Fraction(1, 32) if inch else Fraction(1, 2)
    unit = 1 if inch else 25
    length = Fraction(random.choice((96, 97, 60, 40, 110, 20))) * unit
    width = Fraction(random.choice((48, 49, 60, 22, 80, 3))) * unit
    trim = random.choice((Fraction(0), mark * 8))
    sheet = Sheet("stock", "board", Fraction(1, 2), length, width, trim=trim)
    qty: dict[tuple[Fraction, Fraction], int] = {}
    sheets: list[list[tuple[Number, list[Fraction]]]] = []
    for _ in range(random.randint(1, 4)):
        rows = _rows(random, sheet, saw.kerf, mark)
        for _ in range(random.choice((1, 1, 2, 10))):
            sheets.append(rows)
            for size, cells in rows:
                for cell in cells:
                    key = (cell, Fraction(size))
                    qty[key] = qty.get(key, 0) + 1
    parts = {}
    for number, (key, count) in enumerate(qty.items(), 1):
        name = f"{random.choice(_NAMES)} {number}"
        grain = random.choice((Grain.ANY, Grain.LENGTH))
        parts[key] = make_part(name, key[0], key[1], count, grain, "board", "1/2")
    job = Job("Random", Units.INCH if inch else Units.MM, saw, (sheet,), tuple(parts.values()))
    bench = Bench(job)
    for rows in sheets:
        bench.strips(
            "stock",
            [(size, [(parts[cell, Fraction(size)].name, cell) for cell in c]) for size, c in rows],
        )
    return bench.plan()


def _rows(
    random: Random, sheet: Sheet, kerf: Fraction, mark: Fraction
) -> list[tuple[Number, list[Fraction]]]:
    lost = 2 * (sheet.trim + kerf) if sheet.trim else Fraction(0)
    room = sheet.width - lost
    rows: list[tuple[Number, list[Fraction]]] = []
    while len(rows) < 8:
        size = _some(random, sheet.width, mark)
        if size + kerf > room:
            break
        room -= size + kerf
        left = sheet.length - lost
        cells = []
        for _ in range(random.randint(1, 14)):
            cell = _some(random, sheet.length, mark)
            if cell + kerf >= left:
                break
            left -= cell + kerf
            cells.append(cell)
        rows.append((size, cells or [_least(sheet.length, mark)]))
    return rows or [(_least(sheet.width, mark), [_least(sheet.length, mark)])]


def _some(random: Random, whole: Fraction, mark: Fraction) -> Fraction:
    share = random.choice((0.02, 0.05, 0.1, 0.2, 0.4)) * (0.5 + random.random())
    return max(mark * 8, int(float(whole / mark) * share) * mark)


def _least(whole: Fraction, mark: Fraction) -> Fraction:
    return max(mark, int(whole / mark / 3) * mark)

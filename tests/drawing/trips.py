"""Plans of nothing but a store trip: sheets bought, broken down, and taken home."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Sheet, Store
from cutlist.model.plan import (
    Cut,
    Direction,
    Leftover,
    Piece,
    Place,
    Plan,
    Purchase,
    Purpose,
    SawSetup,
    Workpiece,
)
from cutlist.model.sawing import Device
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.drawing.plans import small
from tests.drawing.tools import shop_figures

_WAYS = {"rip": Direction.RIP, "crosscut": Direction.CROSSCUT}
#: What is divided, which way, the distance, and the names of what comes off and of the rest; a
#: negative distance is measured from the far end.
Step = tuple[str, str, int, str, str]


def trip(
    size: tuple[int, int],
    steps: dict[str, list[Step]],
    *,
    thickness: int = 18,
    store: Store | None = None,
) -> Plan:
    """Break down a board of so many millimetres for each letter in ``steps``; kerf 4 mm."""
    store = store or Store(Fraction(4), Fraction(3), cut_price=Decimal("1.50"), free_cuts=2)
    sheet = Sheet("large board", "MDF", Fraction(thickness), Fraction(size[0]), Fraction(size[1]),
                  Decimal(60))  # fmt: skip
    settings: list[SawSetup] = []
    workpieces: list[Workpiece] = []
    final: list[Piece] = []
    number = 0
    for letter, cuts in steps.items():
        zero = Fraction(0)
        workpieces.append(
            Workpiece(letter, sheet.name, True, "MDF", sheet.thickness, sheet.length, sheet.width,
                      sheet.trim)
        )  # fmt: skip
        there = {letter: Piece(letter, zero, zero, sheet.length, sheet.width)}
        for piece, way, distance, kept_name, rest_name in cuts:
            number += 1
            kept, rest = _divided(there.pop(piece), _WAYS[way], distance, kept_name, rest_name)
            there |= {kept.name: kept, rest.name: rest}
            cut = Cut(number, piece, _WAYS[way], Purpose.BREAK_DOWN, kept, rest)
            settings.append(
                SawSetup(number, Place.STORE, "store saw", Fraction(abs(distance)), store.kerf,
                        (cut,), mark=Fraction(abs(distance)), device=Device.STORE)
            )  # fmt: skip
        final += there.values()
    base = small()
    count = len(steps)
    job = replace(base.job, name="Store trip", units=Units.MM, sheets=(sheet,), store=store)
    bought = Purchase(sheet.name, "MDF", sheet.thickness, sheet.length, sheet.width, count,
                      Decimal(60), 60 * Decimal(count))  # fmt: skip
    made = replace(
        base,
        job=job,
        buy=(bought,),
        workpieces=tuple(workpieces),
        setups=tuple(settings),
        panels=(),
        leftovers=tuple(Leftover(piece, "MDF", sheet.thickness, True) for piece in final),
        totals=replace(
            base.totals,
            sheets=count,
            cuts=number,
            cost=60 * Decimal(count),
            **shop_figures(job, settings),
        ),
    )
    return instructed(made)


def _divided(
    piece: Piece, way: Direction, distance: int, kept: str, rest: str
) -> tuple[Piece, Piece]:
    """Divide a piece, kept at the near end or, for a negative distance, at the far one."""
    kerf, size = 4, abs(distance)
    total = piece.width if way is Direction.RIP else piece.length
    other = total - size - kerf
    at, beside = (0, size + kerf) if distance > 0 else (total - size, 0)
    if way is Direction.RIP:
        return (
            Piece(kept, piece.x, piece.y + at, piece.length, Fraction(size)),
            Piece(rest, piece.x, piece.y + beside, piece.length, other),
        )
    return (
        Piece(kept, piece.x + at, piece.y, Fraction(size), piece.width),
        Piece(rest, piece.x + beside, piece.y, other, piece.width),
    )


def crowded() -> Plan:
    """Two cuts' distances begin at the same end of the same strip; two blanks differ by 20 mm."""
    return trip(
        (2800, 2070),
        {
            "A": [
                ("A", "rip", 1253, "A1-4", "A5-6"),
                ("A1-4", "crosscut", 1660, "A1-2", "A3-4"),
                ("A3-4", "crosscut", 556, "A3", "A4"),
                ("A5-6", "crosscut", 1500, "A5", "A6"),
                ("A1-2", "crosscut", 1000, "A1", "A2"),
            ]
        },
    )


def alike() -> Plan:
    """Two boards are broken down alike, and a third goes home whole."""
    steps: dict[str, list[Step]] = {
        letter: [
            (letter, "crosscut", 1750, f"{letter}1-2", f"{letter}3"),
            (f"{letter}1-2", "rip", 1050, f"{letter}1", f"{letter}2"),
        ]
        for letter in "AB"
    }
    return trip((2440, 1220), {**steps, "C": []})


def strips() -> Plan:
    """Cut a narrow strip into three, so that each has its name beside a distance."""
    return trip(
        (2460, 1245),
        {
            "B": [
                ("B", "rip", 1137, "B1", "B2-4"),
                ("B2-4", "crosscut", 819, "B2", "B3-4"),
                ("B3-4", "crosscut", 819, "B3", "B4"),
            ]
        },
    )


def confusing() -> Plan:
    """Thin board; C1 to C3 are nearly one like the other, C4 and D1 the same turned around."""
    return trip(
        (2440, 1220),
        {
            "C": [
                ("C", "crosscut", 600, "C1", "C2-6"),
                ("C2-6", "crosscut", 600, "C2", "C3-6"),
                ("C3-6", "crosscut", 590, "C3", "C4-6"),
                ("C4-6", "rip", -400, "C4", "C5-6"),
                ("C5-6", "rip", 400, "C5", "C6"),
            ],
            "D": [("D", "crosscut", 400, "D1-2", "D3"), ("D1-2", "rip", 638, "D1", "D2")],
        },
        thickness=3,
        store=Store(Fraction(4)),
    )

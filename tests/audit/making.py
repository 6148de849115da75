"""Parts that plans are made of by hand, in few words."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import Offcut, Sheet
from cutlist.model.plan import (
    Cut,
    Direction,
    Leftover,
    Panel,
    Piece,
    Place,
    Purchase,
    Purpose,
    SawSetup,
    Workpiece,
)
from cutlist.model.sawing import Device

#: What each tool of a home shop is set by.
DEVICES = {"table saw": Device.FENCE, "sled": Device.STOP, "guided saw": Device.GUIDE}
Number = int | float | str
RIP, CROSSCUT = Direction.RIP, Direction.CROSSCUT
PART, CLEAN_UP = Purpose.PART, Purpose.CLEAN_UP
ROUGH, BREAK_DOWN = Purpose.ROUGH, Purpose.BREAK_DOWN


def f(value: Number) -> Fraction:
    """Read a number exactly as it is written: 14.5, "1/32"."""
    return Fraction(str(value))


def box(name: str, x: Number, y: Number, length: Number, width: Number) -> Piece:
    """Make a piece at a place."""
    return Piece(name, f(x), f(y), f(length), f(width))


def setting(
    number: int,
    distance: Number,
    kerf: Number,
    *cuts: Cut,
    place: Place = Place.SHOP,
    tool: str = "table saw",
) -> SawSetup:
    """Make a setting, at the table saw if nothing else is said."""
    device = DEVICES[tool] if place is Place.SHOP else Device.STORE
    size = f(distance)
    return SawSetup(number, place, tool, size, f(kerf), cuts, mark=size, device=device)


def by_device(fence: int = 0, stop: int = 0, guide: int = 0) -> tuple[tuple[Device, int], ...]:
    """Count set-ups by their device."""
    return ((Device.FENCE, fence), (Device.STOP, stop), (Device.GUIDE, guide))


def panel(part: str, copy: int, piece: Piece, turned: bool = False) -> Panel:
    """Make a panel."""
    return Panel(part, copy, piece, turned)


def bought(sheet: Sheet, *pieces: str) -> tuple[Workpiece, ...]:
    """Make workpieces of a sheet."""
    return tuple(
        Workpiece(
            piece,
            sheet.name,
            True,
            sheet.material,
            sheet.thickness,
            sheet.length,
            sheet.width,
            sheet.trim,
        )
        for piece in pieces
    )


def line(sheet: Sheet, count: int, cost: str) -> Purchase:
    """Make a line of the shopping list."""
    return Purchase(
        sheet.name,
        sheet.material,
        sheet.thickness,
        sheet.length,
        sheet.width,
        count,
        sheet.price,
        Decimal(cost),
    )


def leftovers(sheet: Sheet | Offcut, keep: bool, *pieces: Piece) -> tuple[Leftover, ...]:
    """Make leftovers of a sheet."""
    return tuple(Leftover(piece, sheet.material, sheet.thickness, keep) for piece in pieces)

"""Cuts that ask for more than the fence: marks printed beside them.

The limits are those that table-saw manuals give in the warnings common to the standards for such
saws: push stick where the fence is nearer the blade than 150 mm (6 in), push block where it is
nearer than 50 mm (2 in), push stick or block for a workpiece shorter than 300 mm (12 in). That
a workpiece longer across the fence than along it turns off the fence is common practice. The marks
are reminders; the manual of the saw decides.
"""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.job import Units
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from cutlist.model.plan import Cut, Piece, Setting

__all__ = ["LIMITS", "Flag", "cut_flags", "legend"]


class Flag(StrEnum):
    """What a cut asks for, in the words printed."""

    SLED = "sled"
    PUSH_BLOCK = "push block"
    PUSH_STICK = "push stick"
    SHORT = "short"


#: Push block below, push stick below, guided edge below: in the job's unit.
LIMITS: Final = {
    Units.INCH: (Fraction(2), Fraction(6), Fraction(12)),
    Units.MM: (Fraction(50), Fraction(150), Fraction(300)),
}


def cut_flags(setting: Setting, cut: Cut, piece: Piece, units: Units) -> tuple[Flag, ...]:
    """Give the marks of a cut that divides ``piece``; none for a cut made at the store."""
    if setting.place is Place.STORE:
        return ()
    block, stick, short = LIMITS[units]
    if cut.direction is Direction.RIP:
        along, across = piece.length, piece.width
    else:
        along, across = piece.width, piece.length
    if across > along:
        return (Flag.SLED,)
    found = []
    if setting.distance < block:
        found.append(Flag.PUSH_BLOCK)
    elif setting.distance < stick:
        found.append(Flag.PUSH_STICK)
    if along < short:
        found.append(Flag.SHORT)
    return tuple(found)


def legend(units: Units) -> tuple[tuple[Flag, str], ...]:
    """Explain the marks, with the limits in the job's unit."""
    block, stick, short = LIMITS[units]
    unit = "in" if units is Units.INCH else "mm"
    return (
        (
            Flag.SLED,
            "longer across the fence than along it: not along the rip fence but with a sled, or "
            "the mitre gauge with a stop fixed to it; a large panel with a guided hand-held saw",
        ),
        (Flag.PUSH_BLOCK, f"fence nearer the blade than {block} {unit}: push block"),
        (Flag.PUSH_STICK, f"fence nearer the blade than {stick} {unit}: push stick"),
        (
            Flag.SHORT,
            f"edge along the fence shorter than {short} {unit}: sled, or push block if the "
            "manual allows the cut at all",
        ),
    )

"""Cuts that ask for more than the fence: marks printed beside them.

The limits are those that table-saw manuals give in the warnings common to the standards for such
saws: push stick where the fence is nearer the blade than 150 mm (6 in), push block where it is
nearer than 50 mm (2 in), push stick or block for a workpiece shorter than 300 mm (12 in). That
a workpiece longer across the fence than along it turns off the fence is common practice, and so is
that a sled takes about 600 mm (24 in), that a longer piece than 1500 mm (60 in) wants holding up
outside the table, that nothing thinner than 10 mm (3/8 in) is cut off between fence and blade, and
that sheets thinner than 6 mm (1/4 in) bend and slide under the fence. The marks are reminders; the
manual of the saw decides.

Where the job lists its saws each cut has a saw that makes it, and the plan names those that none
makes safely: the marks for another saw give way to that one.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.job import SawKind
from cutlist.model.plan import Direction, Place
from cutlist.model.weights import TWO_PEOPLE_KG
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.model.plan import Cut, Piece, Setting

__all__ = ["LIMITS", "Flag", "Limits", "cut_flags", "is_thin", "legend"]


class Flag(StrEnum):
    """What a cut asks for, in the words printed."""

    UNSAFE = "not safe"
    GUIDED_SAW = "guided saw"
    SLED = "sled"
    PUSH_BLOCK = "push block"
    PUSH_STICK = "push stick"
    SHORT = "short"
    SUPPORT = "support"
    THIN = "thin"


@dataclass(frozen=True, slots=True)
class Limits:
    """Lengths at which the marks begin, in the job's unit.

    Parameters
    ----------
    block, stick
        Fence nearer the blade than this: push block, push stick.
    thin
        Fence nearer the blade than this: no push block passes.
    short
        Edge along the fence shorter than this.
    sled
        The longest edge along the cut that still goes on a sled.
    supported
        Longer pieces than this want holding up outside the table.
    floppy
        Thinner stock than this bends, and slides under the fence.
    """

    thin: Fraction
    block: Fraction
    stick: Fraction
    short: Fraction
    sled: Fraction
    supported: Fraction
    floppy: Fraction


LIMITS: Final = {
    Units.INCH: Limits(
        Fraction(3, 8), Fraction(2), Fraction(6), Fraction(12), Fraction(24), Fraction(60),
        Fraction(1, 4),
    ),
    Units.MM: Limits(
        Fraction(10), Fraction(50), Fraction(150), Fraction(300), Fraction(600), Fraction(1500),
        Fraction(6),
    ),
}  # fmt: skip


def is_thin(thickness: Fraction, units: Units) -> bool:
    """Tell whether stock is so thin that it bends, and slides under the fence."""
    return thickness < LIMITS[units].floppy


def cut_flags(
    setting: Setting,
    cut: Cut,
    piece: Piece,
    units: Units,
    kind: SawKind | None = None,
    *,
    unsafe: bool = False,
    thickness: Fraction | None = None,
) -> tuple[Flag, ...]:
    """Give the marks of a cut that divides ``piece``; none for a cut made at the store.

    Parameters
    ----------
    kind
        Of the saw; None for a table saw that is the only one, whose cuts may ask for another.
    unsafe
        Whether the plan says that no saw of the job makes the cut safely.
    thickness
        Of the stock; None where it is not to be judged.
    """
    if setting.place is Place.STORE:
        return ()
    limits = LIMITS[units]
    thin = (Flag.THIN,) if thickness is not None and is_thin(thickness, units) else ()
    if cut.direction is Direction.RIP:
        along, across = piece.length, piece.width
    else:
        along, across = piece.width, piece.length
    found = []
    if kind is not None:
        if unsafe:
            found.append(Flag.UNSAFE)
        if kind is SawKind.TABLE_SAW and not unsafe:
            found.extend(_push(setting.distance, limits))
        if max(along, across) > limits.supported:
            found.append(Flag.SUPPORT)
        return (*found, *thin)
    if setting.distance < limits.thin or (across > along and along > limits.sled):
        return (Flag.GUIDED_SAW, *thin)
    if across > along:
        found.append(Flag.SLED)
    else:
        found.extend(_push(setting.distance, limits))
        if along < limits.short:
            found.append(Flag.SHORT)
    if max(along, across) > limits.supported:
        found.append(Flag.SUPPORT)
    return (*found, *thin)


def _push(distance: Fraction, limits: Limits) -> tuple[Flag, ...]:
    if distance < limits.block:
        return (Flag.PUSH_BLOCK,)
    return (Flag.PUSH_STICK,) if distance < limits.stick else ()


def legend(units: Units) -> tuple[tuple[Flag, str], ...]:
    """Explain the marks, with the limits in the job's unit."""
    limits = LIMITS[units]
    unit = "in" if units is Units.INCH else "mm"
    most = f"{round(in_weight_unit(TWO_PEOPLE_KG, units))} {WEIGHT_UNIT[units]}"
    return (
        (
            Flag.UNSAFE,
            "none of the saws listed makes this cut safely, the row says why: find another way "
            "before you make it, or leave it out",
        ),
        (
            Flag.GUIDED_SAW,
            f"longer across the fence than along it, and over {limits.sled} {unit} along the cut, "
            f"or a strip under {limits.thin} {unit} at the fence: not along it; hand-held saw "
            "along a clamped guide with the whole piece held up, or a sliding table",
        ),
        (
            Flag.SLED,
            "longer across the fence than along it: not along the rip fence but with a sled, or "
            "the mitre gauge, with a stop fixed to it",
        ),
        (Flag.PUSH_BLOCK, f"fence nearer the blade than {limits.block} {unit}: push block"),
        (Flag.PUSH_STICK, f"fence nearer the blade than {limits.stick} {unit}: push stick"),
        (
            Flag.SHORT,
            f"edge along the fence shorter than {limits.short} {unit}: sled, or push block if the "
            "manual allows the cut at all",
        ),
        (
            Flag.SUPPORT,
            f"longer than {limits.supported} {unit}: hold it up beside and behind the saw; a "
            f"second person for a full sheet, more or a lifting aid where it weighs over {most}",
        ),
        (
            Flag.THIN,
            f"stock thinner than {limits.floppy} {unit}: it bends and slides under the fence. "
            "Clamp a strip of wood to the fence that stands on the table, hold the piece down "
            "close to the blade, and keep it flat behind the saw",
        ),
    )

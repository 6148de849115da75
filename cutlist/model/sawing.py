"""What is said of a cut at the saw: what guides it, what it asks for, what to check."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from cutlist.model.edges import Edge
from cutlist.units.system import Units


class Device(StrEnum):
    """What a distance is measured to."""

    FENCE = "fence"
    STOP = "stop"
    GUIDE = "guide"
    STORE = "store"


class Hazard(StrEnum):
    """Why a cut is not safe on the saw that makes it."""

    TOO_LONG = "cut longer than the saw makes"
    UNSTEADY = "piece longer across the fence than along it"
    TOO_LARGE = "piece too large for the saw"
    TOO_SMALL = "piece too small for the saw"
    TOO_THIN = "strip too thin at the fence"


class Caution(StrEnum):
    """What a cut asks for, in the words printed; the gravest first."""

    UNSAFE = "unsafe"
    PUSH_BLOCK = "push block"
    PUSH_STICK = "push stick"
    SHORT = "short"
    UNDER_KERF = "under a kerf"
    SUPPORT = "support"
    THIN = "thin"


class SizeDoubt(StrEnum):
    """Why the size of what a cut leaves cannot be trusted to the distance that is set."""

    REMAINDER = "no fence sets it"
    EDGE_NOT_TRUE = "the distance begins at an edge that is not true"
    SHEETS_DIFFER = "sheets differ in size"


@dataclass(frozen=True, slots=True)
class SizeCheck:
    """How a panel's size is made sure of that the cut leaves.

    Parameters
    ----------
    size
        What it has to measure across the cut.
    doubt
        Why that is not certain.
    mark_from
        The edge from which the size is marked, to cut to the mark; None where it is measured
        afterwards.
    """

    size: Fraction
    doubt: SizeDoubt
    mark_from: Edge | None = None


@dataclass(frozen=True, slots=True)
class CautionLimits:
    """Lengths at which the marks begin, in the job's unit.

    Parameters
    ----------
    block, stick
        Fence nearer the blade than this: push block, push stick.
    short
        Edge along the fence shorter than this.
    supported
        Longer pieces than this want holding up outside the table.
    floppy
        Thinner stock than this bends, and slides under the fence.
    """

    block: Fraction
    stick: Fraction
    short: Fraction
    supported: Fraction
    floppy: Fraction


LIMITS: Final = {
    Units.INCH: CautionLimits(Fraction(2), Fraction(6), Fraction(12), Fraction(60), Fraction(1, 4)),
    Units.MM: CautionLimits(
        Fraction(50), Fraction(150), Fraction(300), Fraction(1500), Fraction(6)
    ),
}


def is_thin(thickness: Fraction, units: Units) -> bool:
    """Tell whether stock is so thin that it bends, and slides under the fence."""
    return thickness < LIMITS[units].floppy

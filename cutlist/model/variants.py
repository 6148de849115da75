"""The same parts planned in several ways, and the figures that the ways are compared by."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from cutlist.errors import Reason
from cutlist.model.plan import Piece, Plan
from cutlist.model.sawing import Device

#: Keys of the job by their paths, each with the value that it was given for the comparison.
Varied = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Variant:
    """The parts of one material planned in one way.

    Parameters
    ----------
    material, thickness
        Of the parts.
    sheets
        Names of the sheets allowed; empty for offcuts alone.
    is_mix
        Whether all sheets of the material are allowed.
    plan
        The plan, audited; None where these sheets cannot serve.
    reasons
        Why they cannot.
    store_cuts
        Whether the store may break sheets down; None where the job has no store and vehicle, so
        that it never does.
    varied
        What was changed in the job.
    is_planned
        Whether it came to its turn before the comparison was ended.
    """

    material: str
    thickness: Fraction
    sheets: tuple[str, ...]
    is_mix: bool
    plan: Plan | None
    reasons: tuple[Reason, ...] = ()
    store_cuts: bool | None = None
    varied: Varied = ()
    is_planned: bool = True


@dataclass(frozen=True, slots=True)
class Figures:
    """What a plan is compared by.

    Parameters
    ----------
    sheets, cost
        To buy; the cost with that of the store's cuts, None where the job gives no prices.
    waste_percent
        Neither panel nor offcut to keep, kerf included.
    offcuts
        Pieces left that are worth keeping.
    setups, minutes
        Set-ups in the shop, and what they and the cuts there take.
    setups_by_device
        The same set-ups by fence, stop and guide.
    cuts, store_cuts
        Cuts in all, and the store's among them.
    kg
        Of all that is bought; None where it is not known.
    trips
        To get it home; None where the job gives no largest load, or the weight is not known.
    largest, largest_kg
        The piece of the largest area that comes to the saw, after the store's cuts, and its weight;
        None where it is not known.
    """

    sheets: int
    cost: Decimal | None
    waste_percent: Fraction
    offcuts: int
    setups: int
    setups_by_device: tuple[tuple[Device, int], ...]
    minutes: Fraction
    cuts: int
    store_cuts: int
    kg: Fraction | None
    trips: int | None
    largest: Piece
    largest_kg: Fraction | None

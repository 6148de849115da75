"""What things weigh, and how many people lift them.

Weights are exact fractions in kilograms; documents print them in pounds where the job's lengths
are in inches, else in kilograms.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.job import Units
from cutlist.model.plan import Piece, Place

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.model.plan import Plan, Workpiece

#: International avoirdupois pound: 0.45359237 kg exactly (agreement of 1959; NIST SP 811, app. B).
KG_PER_LB: Final = Fraction(45359237, 100_000_000)
#: Density in kg/m³ of 1 lb/ft³; the international foot is 0.3048 m exactly (the same).
KG_PER_M3_OF_A_LB_PER_FT3: Final = KG_PER_LB / Fraction(3048, 10_000) ** 3
#: What weights and densities are printed in.
WEIGHT_UNIT: Final = {Units.INCH: "lb", Units.MM: "kg"}
DENSITY_UNIT: Final = {Units.INCH: "lb/ft³", Units.MM: "kg/m³"}
#: Metres in the unit of a job; the inch of 25.4 mm is exact (NIST SP 811, app. B).
_METRES: Final = {Units.INCH: Fraction(254, 10_000), Units.MM: Fraction(1, 1000)}

#: Load constant of the revised NIOSH lifting equation, 23 kg (51 lb): the most that is recommended
#: for one person under the best conditions, close to the body, at knuckle height, with a good
#: grip (Waters, Putz-Anderson, Garg: Applications Manual, DHHS (NIOSH) Publication 94-110).
ONE_PERSON_KG: Final = Fraction(23)
#: A team of two lifts two thirds of what the two lift one by one (HSE, guidance L23 on manual
#: handling; from memory).
TWO_PEOPLE_KG: Final = 2 * ONE_PERSON_KG * Fraction(2, 3)


class Lift(StrEnum):
    """What it takes to lift a piece, in the words printed."""

    ONE = "one person"
    TWO = "two people"
    MORE = "more than two people, or a lifting aid"


@dataclass(frozen=True, slots=True)
class Density:
    """Mass by volume, and where it comes from.

    ``kind`` names the kind of board that the material's name was taken for; None where the job
    gives the density itself, or the weight of a sheet.
    """

    kg_per_m3: Fraction
    kind: str | None = None


@dataclass(frozen=True, slots=True)
class Weight:
    """What a piece weighs, and what it takes to lift it."""

    piece: str
    kg: Fraction
    lift: Lift


@dataclass(frozen=True, slots=True)
class Trip:
    """What goes into the vehicle at a time, by the names of the pieces, and its weight."""

    pieces: tuple[str, ...]
    kg: Fraction


def lift_of(kg: Fraction) -> Lift:
    """Say what it takes to lift a weight."""
    if kg <= ONE_PERSON_KG:
        return Lift.ONE
    return Lift.TWO if kg <= TWO_PEOPLE_KG else Lift.MORE


def cubic_metres(length: Fraction, width: Fraction, thickness: Fraction, units: Units) -> Fraction:
    """Give the volume of a board whose sides are in the job's unit."""
    return length * width * thickness * _METRES[units] ** 3


def in_weight_unit(kg: Fraction, units: Units) -> Fraction:
    """Give a weight in pounds for a job in inches, else in kilograms."""
    return kg / KG_PER_LB if units is Units.INCH else kg


def in_density_unit(kg_per_m3: Fraction, units: Units) -> Fraction:
    """Give a density in pounds by cubic foot for a job in inches, else in kg/m³."""
    return kg_per_m3 / KG_PER_M3_OF_A_LB_PER_FT3 if units is Units.INCH else kg_per_m3


def lineage(plan: Plan) -> tuple[dict[str, Workpiece], tuple[Piece, ...]]:
    """Say of each piece which workpiece it comes from, and what there is after the store's cuts.

    Without cuts at the store the second is the workpieces themselves. A cut of a piece that is not
    there is passed over.
    """
    start = Fraction(0)
    whole = {one.piece: one for one in plan.workpieces}
    home = {
        one.piece: Piece(one.piece, start, start, one.length, one.width) for one in plan.workpieces
    }
    for setting in plan.settings:
        for cut in setting.cuts:
            if cut.piece not in whole:
                continue
            made = [cut.kept] if cut.rest is None else [cut.kept, cut.rest]
            whole |= {piece.name: whole[cut.piece] for piece in made}
            if setting.place is Place.STORE:
                home.pop(cut.piece, None)
                home |= {piece.name: piece for piece in made}
    return whole, tuple(home.values())


def loads(plan: Plan) -> Iterator[tuple[str, Fraction | None]]:
    """Give what has to be taken home: each bought piece with its weight in kg, None if unknown.

    A sheet that the store cuts goes as the pieces that it is cut into.
    """
    whole, home = lineage(plan)
    known = {weight.piece: weight.kg for weight in plan.weights}
    for piece in home:
        if whole[piece.name].bought:
            yield piece.name, known.get(piece.name)

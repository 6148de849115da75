"""What things weigh, and how many people lift them: exact fractions in kilograms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

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

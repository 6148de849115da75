"""Weights and densities: exact kilograms, printed in pounds where lengths are in inches."""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from cutlist.units.system import Units

#: International avoirdupois pound: 0.45359237 kg exactly (agreement of 1959; NIST SP 811, app. B).
KG_PER_LB: Final = Fraction(45359237, 100_000_000)
#: Density in kg/m³ of 1 lb/ft³; the international foot is 0.3048 m exactly (the same).
KG_PER_M3_OF_A_LB_PER_FT3: Final = KG_PER_LB / Fraction(3048, 10_000) ** 3
#: What weights and densities are printed in.
WEIGHT_UNIT: Final = {Units.INCH: "lb", Units.MM: "kg"}
DENSITY_UNIT: Final = {Units.INCH: "lb/ft³", Units.MM: "kg/m³"}
#: Metres in the unit of a job; the inch of 25.4 mm is exact (NIST SP 811, app. B).
_METRES: Final = {Units.INCH: Fraction(254, 10_000), Units.MM: Fraction(1, 1000)}


def cubic_metres(length: Fraction, width: Fraction, thickness: Fraction, units: Units) -> Fraction:
    """Give the volume of a board whose sides are in the job's unit."""
    return length * width * thickness * _METRES[units] ** 3


def in_weight_unit(kg: Fraction, units: Units) -> Fraction:
    """Give a weight in pounds for a job in inches, else in kilograms."""
    return kg / KG_PER_LB if units is Units.INCH else kg


def in_density_unit(kg_per_m3: Fraction, units: Units) -> Fraction:
    """Give a density in pounds by cubic foot for a job in inches, else in kg/m³."""
    return kg_per_m3 / KG_PER_M3_OF_A_LB_PER_FT3 if units is Units.INCH else kg_per_m3

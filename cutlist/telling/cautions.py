"""The cautions printed once on the summary."""

from __future__ import annotations

from typing import Final

from cutlist.model.weights import ONE_PERSON_KG, TWO_PEOPLE_KG
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit
from cutlist.units.system import Units

__all__ = ["DEFERENCE", "cautions"]

DEFERENCE: Final = (
    "These notes replace neither training nor judgement: the maker's manual of your saw, local "
    "codes and qualified instruction come first. Leave out any cut that does not feel safe."
)


def cautions(units: Units) -> tuple[str, ...]:
    """Give the cautions, common practice at the table saw in our own words.

    How many lift a sheet is told by the weights that the plan goes by.
    """
    one, two = (
        f"{round(in_weight_unit(kg, units))} {WEIGHT_UNIT[units]}"
        for kg in (ONE_PERSON_KG, TWO_PEOPLE_KG)
    )
    return (
        "Riving knife and guard on for every through cut.",
        "Unplug the saw before changing the blade or reaching near it.",
        "Stand beside the line of the blade, never reach over it, and let it stop before you clear "
        "offcuts away.",
        "Narrow rips: push stick or push block, hands well away from the blade.",
        "Never rip fence and mitre gauge together for a through crosscut: the offcut jams and is "
        "thrown back.",
        "Piece too short or too wide for the fence: crosscut sled, or mitre gauge with a stop on "
        "it.",
        "Full sheets: support in front of, beside and behind the saw; "
        f"two people over {one}, more or a lifting aid over {two}.",
        "Thin sheets slip under the fence: close the gap, and hold them down.",
        "Dust extraction on; mask, eye and ear protection; a fine-dust mask above all for MDF.",
        "Measure the first piece of each setting before cutting the rest.",
    )

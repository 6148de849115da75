"""The cautions printed once on the summary."""

from __future__ import annotations

from typing import Final

__all__ = ["CAUTIONS", "DEFERENCE"]

#: Common practice at the table saw; the wording is our own.
CAUTIONS: Final = (
    "Riving knife and guard on for every through cut.",
    "Unplug the saw before changing the blade or reaching near it.",
    "Stand beside the line of the blade, never reach over it, and let it stop before you clear "
    "offcuts away.",
    "Narrow rips: push stick or push block, hands well away from the blade.",
    "Never rip fence and mitre gauge together for a through crosscut: the offcut jams and is "
    "thrown back.",
    "Piece too short or too wide for the fence: crosscut sled, or mitre gauge with a stop on it.",
    "Full sheets: support in front of, beside and behind the saw; two people for heavy ones.",
    "Thin sheets slip under the fence: close the gap, and hold them down.",
    "Dust extraction on; mask, eye and ear protection; a fine-dust mask above all for MDF.",
    "Measure the first piece of each setting before cutting the rest.",
)
DEFERENCE: Final = (
    "These notes replace neither training nor judgement: the maker's manual of your saw, local "
    "codes and qualified instruction come first. Leave out any cut that does not feel safe."
)

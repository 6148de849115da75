"""The distance that a fence, a stop or a guide is set to, in words, as its scale shows it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from cutlist.model.plan import Direction
from cutlist.telling.wording import length_words, size_words
from cutlist.units.lengths import format_length, format_size

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.job import Job
    from cutlist.model.plan import Cut, Plan, SawSetup

__all__ = ["distance_words", "kept_size", "marks_of", "set_words"]


def marks_of(plan: Plan) -> dict[int, Fraction]:
    """Give the mark of each set-up by its number: saws of unlike scales differ at a distance."""
    return {setting.number: setting.mark for setting in plan.settings}


def set_words(setting: SawSetup, job: Job) -> str:
    """Print what a set-up is set to, marked where that is not the distance itself."""
    return distance_words(setting.distance, setting.mark, job)


def distance_words(distance: Fraction, mark: Fraction, job: Job) -> str:
    """Print a distance as the scale shows it, marked where that is not the distance itself."""
    if mark == distance:
        return format_length(distance, job.units)
    return f"≈ {length_words(mark, job)}"


def kept_size(setting: SawSetup, cut: Cut, job: Job) -> str:
    """Print the size of what comes off, with the same figure across the cut as the distance."""
    kept, shown = cut.kept, setting.mark
    is_rip = cut.direction is Direction.RIP
    if (kept.width if is_rip else kept.length) != setting.distance:
        return size_words(kept.length, kept.width, job)
    kept = replace(kept, width=shown) if is_rip else replace(kept, length=shown)
    if shown == setting.distance and "≈" in length_words(shown, job):
        return format_size(kept.length, kept.width, job.units)
    words = size_words(kept.length, kept.width, job)
    return words if shown == setting.distance or words.startswith("≈") else f"≈ {words}"

"""The distance that a fence, a stop or a guide is set to, as its scale shows it.

Where the scale has no mark for it, the mark is taken that leaves no panel too small: the nearest
where the distance itself is a panel's size, the next below where panels are what is left beside
it, the next above where they are what is left of the piece that comes off.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor
from typing import TYPE_CHECKING

from cutlist.model.plan import Direction, Place
from cutlist.telling.wording import length_words, size_words
from cutlist.units.lengths import finest_mark, format_length, format_size

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.ledger.lineage import Story
    from cutlist.model.plan import Cut, Setting

__all__ = ["kept_size", "set_to", "set_words"]


def set_to(story: Story, distance: Fraction) -> Fraction:
    """Give the mark that the shop sets a distance to; the same at each of its settings.

    A distance below the first mark cannot be read off a scale at all: it stays as it is.
    """
    job = story.plan.job
    mark = finest_mark(job.units) if job.saw.scale is None else job.saw.scale
    low, high = floor(distance / mark) * mark, ceil(distance / mark) * mark
    nearest = high if 2 * (distance - low) >= mark else low
    cuts = [
        cut
        for setting in story.plan.settings
        if setting.place is not Place.STORE and setting.distance == distance
        for cut in setting.cuts
    ]
    if any(story.sets_panels(cut) for cut in cuts):
        return nearest
    is_less_better = any(story.leaves_panels(cut, cut.rest) for cut in cuts)
    is_more_better = any(story.leaves_panels(cut, cut.kept) for cut in cuts)
    if is_less_better is not is_more_better:
        nearest = low if is_less_better else high
    return nearest or distance


def set_words(story: Story, distance: Fraction) -> str:
    """Print a distance as the scale shows it, marked where that is not the distance itself."""
    shown, job = set_to(story, distance), story.plan.job
    if shown == distance:
        return format_length(distance, job.units)
    return f"≈ {length_words(shown, job)}"


def kept_size(story: Story, setting: Setting, cut: Cut) -> str:
    """Print the size of what comes off, with the same figure across the cut as the distance."""
    job, kept = story.plan.job, cut.kept
    shown = set_to(story, setting.distance)
    is_rip = cut.direction is Direction.RIP
    if (kept.width if is_rip else kept.length) != setting.distance:
        return size_words(kept.length, kept.width, job)
    kept = replace(kept, width=shown) if is_rip else replace(kept, length=shown)
    if shown == setting.distance and "≈" in length_words(shown, job):
        return format_size(kept.length, kept.width, job.units)
    words = size_words(kept.length, kept.width, job)
    return words if shown == setting.distance or words.startswith("≈") else f"≈ {words}"

"""The mark that a fence, a stop or a guide is set to.

Where the scale has none for a distance, the mark is taken that leaves no panel too small: the
nearest where the distance itself is a panel's size, the next below where panels are what is left
beside it, the next above where they are what is left of the piece that comes off.
"""

from __future__ import annotations

from math import ceil, floor
from typing import TYPE_CHECKING

from cutlist.units.lengths import finest_mark

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Cut


def mark_for(
    ledger: Ledger, distance: Fraction, scale: Fraction | None, cuts: Iterable[Cut]
) -> Fraction:
    """Give the mark that a saw is set to for a distance; the same at each of its set-ups.

    Parameters
    ----------
    ledger
        Of the plan.
    distance
        A distance below the first mark cannot be read off a scale at all: it stays as it is.
    scale
        Distance between two marks of the saw; None for the finest that a rule has.
    cuts
        All cuts of the saw at this distance.
    """
    mark = finest_mark(ledger.plan.job.units) if scale is None else scale
    low, high = floor(distance / mark) * mark, ceil(distance / mark) * mark
    if low == high:
        return distance
    nearest = high if 2 * (distance - low) >= mark else low
    made = list(cuts)
    if any(ledger.sets_panels(cut) for cut in made):
        return nearest
    is_less_better = any(ledger.leaves_panels(cut, cut.rest) for cut in made)
    is_more_better = any(ledger.leaves_panels(cut, cut.kept) for cut in made)
    if is_less_better is not is_more_better:
        nearest = low if is_less_better else high
    return nearest or distance

"""The cheapest guillotine plan of a few panels, by trying every tree of cuts.

It shares nothing with the search or the bounds, and is meant to be slow and plain.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutlist.nesting.problem import Problem

MOST_PANELS = 7


def outlines(problem: Problem) -> list[list[tuple[int, int]]]:
    """Return the smallest rectangles that each set of panels can be cut from.

    Parameters
    ----------
    problem
        At most :data:`MOST_PANELS` panels; ``reach`` is ignored.

    Returns
    -------
    list[list[tuple[int, int]]]
        Indexed by a set of panels as a bit mask: lengths and widths, none of which holds another.
        The panels of an item follow one another, in the order of the items.
    """
    panels = [item for item in problem.items for _ in range(item.qty)]
    if len(panels) > MOST_PANELS:
        raise ValueError(f"{len(panels)} panels are too many to try every tree of cuts")
    found: list[list[tuple[int, int]]] = [[(0, 0)]]
    for group in range(1, 1 << len(panels)):
        here: set[tuple[int, int]] = set()
        if group & (group - 1) == 0:
            panel = panels[group.bit_length() - 1]
            here.add((panel.length, panel.width))
            if panel.turnable:
                here.add((panel.width, panel.length))
        one = (group - 1) & group
        while one > 0:
            for length_1, width_1 in found[one]:
                for length_2, width_2 in found[group ^ one]:
                    here.add((length_1 + problem.kerf + length_2, max(width_1, width_2)))
                    here.add((max(length_1, length_2), width_1 + problem.kerf + width_2))
            one = (one - 1) & group
        found.append(
            [p for p in here if not any(q != p and q[0] <= p[0] and q[1] <= p[1] for q in here)]
        )
    return found


def cheapest_plan(problem: Problem) -> tuple[int, int] | None:
    """Return the least cost of any plan, and the fewest bins that cost something of any plan.

    The two may belong to different plans. None where the panels cannot all be cut.
    """
    rectangles = outlines(problem)
    everything = len(rectangles) - 1
    fits = [
        [
            group
            for group in range(1, everything + 1)
            if any(x <= b.length and y <= b.width for x, y in rectangles[group])
        ]
        for b in problem.bins
    ]

    @cache
    def least(left: int, kind: int, used: int, *, counting: bool) -> float:
        if left == 0:
            return 0
        if kind == len(problem.bins):
            return float("inf")
        best = least(left, kind + 1, 0, counting=counting)
        bin_ = problem.bins[kind]
        if bin_.available is None or used < bin_.available:
            price = min(1, bin_.cost) if counting else bin_.cost
            for group in fits[kind]:
                if group & left == group:
                    rest = least(left ^ group, kind, used + 1, counting=counting)
                    best = min(best, price + rest)
        return best

    cost = least(everything, 0, 0, counting=False)
    if cost == float("inf"):
        return None
    return int(cost), int(least(everything, 0, 0, counting=True))

"""Among complete solutions of equal cost, the one with the fewest settings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from cutlist.sequencing.fence import Fence
from cutlist.sequencing.order import Order
from cutlist.sequencing.sequence import StockLayout, fewest_settings

#: States the exact order search may open for a candidate that is only being compared.
_GLANCE = 300

#: A complete solution of one group.
Solution = tuple[StockLayout, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One solution for each group, and the order that cuts them all."""

    solutions: tuple[Solution, ...]
    order: Order

    @property
    def layouts(self) -> tuple[StockLayout, ...]:
        """All layouts, group after group."""
        return tuple(layout for solution in self.solutions for layout in solution)


def choose(candidates: Sequence[Sequence[Solution]], fence: Fence, best: Choice | None) -> Choice:
    """Choose one solution for each group so that all together need the fewest settings.

    Parameters
    ----------
    candidates
        For each group its solutions, the preferred one first; none empty.
    fence
        The saw.
    best
        The best choice so far, kept if nothing beats it.

    Notes
    -----
    Groups are improved in turn with the others held fixed, until no change helps. Since one
    setting serves all materials, a group's best solution depends on the others'.
    """
    current = [solutions[0] for solutions in candidates]
    if best is not None:
        current = list(best.solutions)
    order = _order(current, fence)
    improved = True
    while improved:
        improved = False
        for index, solutions in enumerate(candidates):
            for solution in solutions:
                if solution == current[index]:
                    continue
                trial = [*current[:index], solution, *current[index + 1 :]]
                trial_order = _order(trial, fence)
                if len(trial_order.settings) < len(order.settings):
                    current, order, improved = trial, trial_order, True
    return Choice(tuple(current), order)


def _order(solutions: Sequence[Solution], fence: Fence) -> Order:
    layouts = [layout for solution in solutions for layout in solution]
    return fewest_settings(layouts, fence, expansions=_GLANCE)

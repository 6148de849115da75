"""Among complete solutions of equal cost, the one with the fewest settings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, glance

#: A complete solution of one group.
Solution = tuple[StockLayout, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One solution for each group, and how many settings a quick look says they need."""

    solutions: tuple[Solution, ...]
    settings: int

    @property
    def layouts(self) -> tuple[StockLayout, ...]:
        """All layouts, group after group."""
        return tuple(layout for solution in self.solutions for layout in solution)


def choose(
    candidates: Sequence[Sequence[Solution]],
    fence: Fence,
    best: Choice | None,
    is_over: Callable[[], bool] = lambda: False,
) -> Choice:
    """Choose one solution for each group so that all together need the fewest settings.

    Parameters
    ----------
    candidates
        For each group its solutions, the preferred one first; none empty.
    fence
        The saw.
    best
        The best choice so far, kept if nothing beats it.
    is_over
        Asked between two looks; True ends the comparison with the best so far.

    Notes
    -----
    Groups are improved in turn with the others held fixed, until no change helps. Since one
    setting serves all materials, a group's best solution depends on the others'.
    """
    if best is None:
        first = tuple(solutions[0] for solutions in candidates)
        best = Choice(first, _settings(first, fence))
    seen = {best.solutions}
    improved = True
    while improved:
        improved = False
        for index, solutions in enumerate(candidates):
            for solution in solutions:
                trial = (*best.solutions[:index], solution, *best.solutions[index + 1 :])
                if trial in seen:
                    continue
                if is_over():
                    return best
                seen.add(trial)
                settings = _settings(trial, fence)
                if settings < best.settings:
                    best, improved = Choice(trial, settings), True
    return best


def _settings(solutions: Sequence[Solution], fence: Fence) -> int:
    return glance([layout for solution in solutions for layout in solution], fence)

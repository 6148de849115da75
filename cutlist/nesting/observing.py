"""Watching a search: a class of callbacks that do nothing until overridden."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SearchProgress:
    """The figures of a running search.

    Parameters
    ----------
    cost, sheets
        Of the best plan so far; None before the first.
    bound
        Proven lower bound on the cost.
    seconds, steps
        Spent so far.
    """

    cost: int | None
    sheets: int | None
    bound: int
    seconds: float
    steps: int


class Observer:
    """Does nothing; override what is of interest. Callbacks must be quick and must not raise."""

    def improved(self, progress: SearchProgress) -> None:
        """Hear of a first or a cheaper plan."""

    def ticked(self, progress: SearchProgress) -> None:
        """Hear several times a second that the search goes on."""

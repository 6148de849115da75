"""When a search ends: small stop rules, fresh for every run, that can be combined.

A rule is told how the search stands and answers whether to stop. Rules that count from the start of
a run remember their first call, so one object serves one run only.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True)
class Standing:
    """How a search stands: steps spent, best cost (None before the first plan), proven bound."""

    steps: int
    cost: int | None
    bound: int


class StopRule(Protocol):
    """Answers True when the search shall end."""

    def __call__(self, standing: Standing) -> bool:
        """Say whether to stop now."""
        ...


class AfterSeconds:
    """Stops so many seconds after its first call, by the wall clock or another one."""

    def __init__(self, seconds: float, clock: Callable[[], float] | None = None) -> None:
        if seconds < 0:
            raise ValueError(f"seconds must be at least 0, found {seconds}")
        self._seconds = seconds
        self._clock = clock
        self._start: float | None = None

    def __call__(self, standing: Standing) -> bool:  # noqa: ARG002
        """Say whether the time is up."""
        now = time.monotonic() if self._clock is None else self._clock()
        if self._start is None:
            self._start = now
        return now - self._start >= self._seconds


class AfterSteps:
    """Stops after so many search steps; with a seed this makes a run repeatable."""

    def __init__(self, steps: int) -> None:
        if steps < 0:
            raise ValueError(f"steps must be at least 0, found {steps}")
        self.steps = steps

    def __call__(self, standing: Standing) -> bool:
        """Say whether the steps are spent."""
        return standing.steps >= self.steps


class WhenBoundMet:
    """Stops when the best cost equals the proven bound."""

    def __call__(self, standing: Standing) -> bool:
        """Say whether nothing cheaper can exist."""
        return standing.cost is not None and standing.cost <= standing.bound


class WhenReached:
    """Stops at a plan that costs ``cost`` or less; a value counts as a negative cost."""

    def __init__(self, cost: int) -> None:
        self._cost = cost

    def __call__(self, standing: Standing) -> bool:
        """Say whether it is reached."""
        return standing.cost is not None and standing.cost <= self._cost


class WhenAsked:
    """Stops once ``ask`` was called, as a handler of Ctrl-C does."""

    def __init__(self) -> None:
        self._asked = False

    @property
    def was_asked(self) -> bool:
        """Whether somebody asked."""
        return self._asked

    def ask(self) -> None:
        """Ask the search to end at its next look."""
        self._asked = True

    def __call__(self, standing: Standing) -> bool:  # noqa: ARG002
        """Say whether somebody asked."""
        return self._asked


class FirstOf:
    """Stops when the first of several rules does."""

    def __init__(self, *rules: StopRule) -> None:
        self._rules = rules

    def __call__(self, standing: Standing) -> bool:
        """Ask every rule, so that each one starts to count at the same moment."""
        answers = [rule(standing) for rule in self._rules]
        return any(answers)

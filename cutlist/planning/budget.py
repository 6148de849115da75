"""How long a plan may search: seconds or steps, shared out among the groups of a job."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from cutlist.nesting.stopping import AfterSeconds, AfterSteps, FirstOf, StopRule, WhenAsked

DEFAULT_SECONDS = 5.0
#: Searches that run side by side. Their number is fixed: with a budget in steps the plan depends on
#: the seed alone, not on the machine.
WORKERS = 2
#: Share of the budget that packing may take; the rest looks for fewer settings. Of time it may take
#: more, since the search for settings rarely needs a second.
_PACKING_STEPS = 0.8
_PACKING_TIME = 0.85


@dataclass(slots=True)
class Budget:
    """What is left to search with.

    Parameters
    ----------
    seconds
        Wall-clock allowance; None for none.
    steps
        Allowance in search steps; None for none. With steps alone, equal seeds give equal plans.
    asked
        Ends the search early when asked, as Ctrl-C does.
    """

    seconds: float | None = DEFAULT_SECONDS
    steps: int | None = None
    asked: WhenAsked = field(default_factory=WhenAsked)
    _started: float = field(default_factory=time.monotonic)
    _spent: int = 0

    def spend(self, steps: int) -> None:
        """Count steps as spent."""
        self._spent += steps

    def ensure(self, share: float) -> None:
        """Lengthen the allowance of time so that at least a share of it is left.

        A search that a solver holds up may end late; what comes after it would have no time.
        """
        if self.seconds is not None:
            elapsed = time.monotonic() - self._started
            self.seconds = max(self.seconds, elapsed + share * self.seconds)

    @property
    def steps_spent(self) -> int:
        """Return all steps counted so far."""
        return self._spent

    def steps_left(self, share: float = 1.0) -> int | None:
        """Return the steps left of the first ``share`` of all; None where they are not counted."""
        return None if self.steps is None else max(0, int(share * self.steps) - self._spent)

    def is_over(self, share: float = 1.0) -> bool:
        """Whether nothing is left, or nothing of the first ``share`` of the whole."""
        seconds, steps = self._left(share)
        return self.asked.was_asked or seconds <= 0 or steps <= 0

    def rule(self, share: float, workers: int = WORKERS) -> StopRule:
        """Return a stop rule for one of so many packings that run side by side.

        Together they get ``share`` of what is left of the packing's part.
        """
        seconds, _ = self._left(_PACKING_TIME)
        _, steps = self._left(_PACKING_STEPS)
        rules: list[StopRule] = [self.asked]
        if self.seconds is not None:
            rules.append(AfterSeconds(max(0.0, seconds * share)))
        if self.steps is not None:
            rules.append(AfterSteps(max(1, int(steps * share / workers))))
        return FirstOf(*rules)

    def _left(self, part: float) -> tuple[float, float]:
        seconds = float("inf")
        steps = float("inf")
        if self.seconds is not None:
            seconds = part * self.seconds - (time.monotonic() - self._started)
        if self.steps is not None:
            steps = part * self.steps - self._spent
        return seconds, steps

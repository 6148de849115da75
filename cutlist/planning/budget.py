"""How long a plan may search: seconds or steps, shared out among the groups of a job."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from cutlist.nesting.stopping import AfterSeconds, AfterSteps, FirstOf, StopRule, WhenAsked

DEFAULT_SECONDS = 5.0
#: Searches that run side by side. Their number is fixed: with a budget in steps the plan depends on
#: the seed alone, not on the machine.
WORKERS = 2
#: Share of the budget that the first round of packing may take; the rest looks for fewer settings.
_FIRST_ROUND = 0.8


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

    @property
    def steps_spent(self) -> int:
        """Return all steps counted so far."""
        return self._spent

    @property
    def steps_left(self) -> int | None:
        """Return the steps left; None where steps are not counted."""
        return None if self.steps is None else max(0, self.steps - self._spent)

    def is_over(self) -> bool:
        """Whether nothing is left."""
        return self.asked.was_asked or self._left(1.0)[0] <= 0 or self._left(1.0)[1] <= 0

    def rule(self, share: float, *, is_first: bool) -> StopRule:
        """Return a stop rule for one of the searches that run side by side.

        Together they get ``share`` of what is left, or of the first round's part of it.
        """
        seconds, steps = self._left(_FIRST_ROUND if is_first else 1.0)
        rules: list[StopRule] = [self.asked]
        if self.seconds is not None:
            rules.append(AfterSeconds(max(0.0, seconds * share)))
        if self.steps is not None:
            rules.append(AfterSteps(max(1, int(steps * share / WORKERS))))
        return FirstOf(*rules)

    def _left(self, part: float) -> tuple[float, float]:
        seconds = float("inf")
        steps = float("inf")
        if self.seconds is not None:
            seconds = part * self.seconds - (time.monotonic() - self._started)
        if self.steps is not None:
            steps = part * self.steps - self._spent
        return seconds, steps

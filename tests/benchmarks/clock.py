"""Stop rules of the benchmark: processor time, and a published figure that is reached."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutlist.nesting.stopping import Standing


class AfterProcessorSeconds:
    """Stops once this process has computed for so many seconds since the rule's first call.

    The seconds of all its threads add up; what other programs do meanwhile does not count.
    """

    def __init__(self, seconds: float) -> None:
        if seconds < 0:
            raise ValueError(f"seconds must be at least 0, found {seconds}")
        self._seconds = seconds
        self._start: float | None = None

    def __call__(self, standing: Standing) -> bool:  # noqa: ARG002
        """Say whether the time is spent."""
        now = time.process_time()
        if self._start is None:
            self._start = now
        return now - self._start >= self._seconds


class WhenReached:
    """Stops at a plan that costs ``cost`` or less; a value counts as a negative cost."""

    def __init__(self, cost: int) -> None:
        self._cost = cost

    def __call__(self, standing: Standing) -> bool:
        """Say whether it is reached."""
        return standing.cost is not None and standing.cost <= self._cost

"""Watching a plan being made: one picture of all groups, for whoever shows progress."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal

from cutlist.nesting.observing import Observer, Progress


@dataclass(frozen=True, slots=True)
class Standing:
    """How the plan stands.

    Parameters
    ----------
    sheets
        To buy, in the best layouts so far; None before every group has a first one.
    cost, bound
        Of these sheets, and what any plan costs at least; None where the job gives no prices.
    setups, setups_bound
        Settings of the best order so far and their bound; None before the first order.
    seconds
        Since the start.
    is_begun
        Whether some group has layouts: the others then have theirs within a moment.
    """

    sheets: int | None
    cost: Decimal | None
    bound: Decimal | None
    setups: int | None
    setups_bound: int | None
    seconds: float
    is_begun: bool = False


class Watcher:
    """Does nothing; override to be told. Calls are quick, some a second, and must not raise."""

    def heard(self, standing: Standing) -> None:
        """Hear how the plan stands."""


class GroupObserver(Observer):
    """Passes the progress of one group's nesting on to a function."""

    def __init__(self, tell: Callable[[Progress], None]) -> None:
        self._tell = tell

    def improved(self, progress: Progress) -> None:
        """Pass a better plan on."""
        self._tell(progress)

    def ticked(self, progress: Progress) -> None:
        """Pass a sign of life on."""
        self._tell(progress)

"""Hearing of a plan being made: one picture of all groups, for whoever shows progress."""

from __future__ import annotations

import time
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from cutlist.nesting.observing import Observer, SearchProgress

if TYPE_CHECKING:
    from collections.abc import Callable

    from cutlist.nesting.problem import Nesting


@dataclass(frozen=True, slots=True)
class PlanSoFar:
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

    def heard(self, plan: PlanSoFar) -> None:
        """Hear how the plan stands."""


class GroupObserver(Observer):
    """Passes the progress of one group's nesting on to a function."""

    def __init__(self, tell: Callable[[SearchProgress], None]) -> None:
        self._tell = tell

    def improved(self, progress: SearchProgress) -> None:
        """Pass a better plan on."""
        self._tell(progress)

    def ticked(self, progress: SearchProgress) -> None:
        """Pass a sign of life on."""
        self._tell(progress)


@dataclass(frozen=True, slots=True)
class _Figures:
    """What progress shows of one group."""

    cost: int
    sheets: int
    bound: int


class Reporter:
    """Keeps the figures of all groups together, and lets a watcher hear them.

    Parameters
    ----------
    watcher
        Who hears.
    """

    def __init__(self, watcher: Watcher | None = None) -> None:
        self._watcher = watcher or Watcher()
        self._started = time.monotonic()
        self._groups = 0
        self._money: Decimal | None = None
        self._best: dict[int, _Figures] = {}
        self._setups: tuple[int, int] | None = None

    def begin(self, groups: int, money: Decimal | None) -> None:
        """Note how many groups there are, and what one unit of their cost is worth."""
        self._groups, self._money = groups, money

    def observer(self, index: int) -> Observer:
        """Return who hears of the packing of a group; calls may come from several threads."""
        return GroupObserver(lambda progress: self._packing(index, progress))

    def _packing(self, index: int, progress: SearchProgress) -> None:
        if progress.cost is not None and progress.sheets is not None:
            known = self._best.get(index)
            if known is None or progress.cost < known.cost:
                self._best[index] = _Figures(progress.cost, progress.sheets, progress.bound)
        self.tell()

    def packed(self, index: int, nesting: Nesting) -> None:
        """Note the layouts that a group has now."""
        self._best[index] = _Figures(nesting.cost, nesting.sheets, nesting.bound)

    def ordered(self, settings: int, bound: int) -> None:
        """Note the settings of the best order so far, and their bound."""
        self._setups = settings, bound

    def tell(self) -> None:
        """Let the watcher hear how the plan stands."""
        best = list(self._best.values())
        is_whole = 0 < self._groups == len(best)
        money = self._money if is_whole else None
        setups, setups_bound = self._setups or (None, None)
        self._watcher.heard(
            PlanSoFar(
                sheets=sum(figures.sheets for figures in best) if is_whole else None,
                cost=None if money is None else sum(one.cost for one in best) * money,
                bound=None if money is None else sum(one.bound for one in best) * money,
                setups=setups,
                setups_bound=setups_bound,
                seconds=time.monotonic() - self._started,
                is_begun=bool(best),
            )
        )

"""Progress on a terminal: one line that is drawn anew, and nothing at all in a pipe."""

from __future__ import annotations

import time
from dataclasses import replace
from types import TracebackType
from typing import TYPE_CHECKING

from rich.console import Console
from rich.live import Live
from rich.text import Text

from cutlist.planning.compare import CompareWatcher
from cutlist.planning.terms.progress import PlanSoFar, Watcher
from cutlist.telling.comparing import name_words
from cutlist.telling.wording import counted

if TYPE_CHECKING:
    from typing import Self

    from cutlist.model.variants import Variant


class _Shown:
    """Shows a line for as long as it is entered; without a ``_live`` display nothing."""

    _live: Live | None

    def __enter__(self) -> Self:
        if self._live is not None:
            self._live.__enter__()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._live is not None:
            self._live.__exit__(kind, error, trace)


class TerminalWatcher(_Shown, Watcher):
    """Shows the best plan so far, what is proven of it, and the time, on standard error."""

    def __init__(self, *, note: str = "") -> None:
        self._note = note
        self._plan: PlanSoFar | None = None
        self._heard_at = time.monotonic()
        self._console = Console(stderr=True)
        self._live = Live(
            get_renderable=self._line,
            console=self._console,
            refresh_per_second=8,
            transient=True,
        )
        self.has_plan = False

    def say(self, text: str) -> None:
        """Show a line that stays above the one that is drawn anew."""
        self._console.print(Text(text))

    def heard(self, plan: PlanSoFar) -> None:
        """Show this from the next time on that the line is drawn."""
        self.has_plan = self.has_plan or plan.is_begun
        self._plan = plan
        self._heard_at = time.monotonic()

    def _line(self) -> Text:
        """Return the line as of now: the clock goes on while nothing new is heard."""
        if self._plan is None:
            return Text(self._note)
        since = time.monotonic() - self._heard_at
        now = replace(self._plan, seconds=self._plan.seconds + since)
        line = plan_line(now, self._console.width)
        return Text(line, no_wrap=True, overflow="ellipsis")


class ComparingWatcher(_Shown, CompareWatcher):
    """Shows how many plans of a comparison are done, and which one was begun last."""

    def __init__(self, *, is_shown: bool) -> None:
        self._note = ""
        self._variant: Variant | None = None
        self._done = self._of = 0
        self._started = time.monotonic()
        self._live = None
        self._console = Console(stderr=True)
        if is_shown:
            self._live = Live(
                get_renderable=self._line,
                console=self._console,
                refresh_per_second=4,
                transient=True,
            )

    def say(self, text: str) -> None:
        """Show a line that stays above the one that is drawn anew."""
        if self._live is not None:
            self._console.print(Text(text))

    def note(self, text: str) -> None:
        """Show this until the first plan is begun."""
        self._note = text

    @property
    def has_plan(self) -> bool:
        """Whether some way is planned."""
        return self._done > 0

    def began(self, variant: Variant) -> None:
        """Show this one from the next time on that the line is drawn."""
        self._variant = variant

    def ended(self, done: int, of: int) -> None:
        """Count."""
        self._done, self._of = done, of

    def _line(self) -> Text:
        if self._variant is None:
            return Text(self._note)
        line = comparing_line(self._variant, self._done, self._of)
        seconds = time.monotonic() - self._started
        return Text(f"{seconds:4.1f} s  {line}", no_wrap=True, overflow="ellipsis")


def comparing_line(variant: Variant, done: int, of: int) -> str:
    """Say how far a comparison is: ``2 of 8 plans done; now ply, birch half, kerf 3/32``."""
    head = f"{done} of {of} plans done" if of else "first plan"
    return f"{head}; now {variant.material}, {name_words(variant, whole=True)}"


class QuietWatcher(Watcher):
    """Only remembers whether there is a plan yet."""

    def __init__(self) -> None:
        self.has_plan = False

    def say(self, text: str) -> None:
        """Say nothing."""

    def heard(self, plan: PlanSoFar) -> None:
        """Remember."""
        self.has_plan = self.has_plan or plan.is_begun


def plan_line(plan: PlanSoFar, width: int) -> str:
    """Say in one line how the plan stands, and how to end the search, in ``width`` if it can be.

    What is left out first where room is short: the bound of the cost, that of the set-ups, words.
    """
    seconds = f"{plan.seconds:4.1f} s"
    if plan.sheets is None:
        return f"{seconds}  looking for a first plan"
    sheets = counted(plan.sheets, "sheet")
    costs, setups = [""], [""]
    if plan.cost is not None:
        cost = f"{plan.cost:,.2f}"
        costs = [f"cost {cost} (least {plan.bound:,.2f})", f"cost {cost}", cost]
    if plan.setups is not None:
        count = counted(plan.setups, "set-up")
        setups = [f"{count} (these layouts: at least {plan.setups_bound})", count]
    ways = (
        (costs[0], setups[0], "Ctrl-C: take it"),
        (costs[min(1, len(costs) - 1)], setups[0], "Ctrl-C: take it"),
        (costs[min(1, len(costs) - 1)], setups[-1], "Ctrl-C: take it"),
        (costs[-1], setups[-1], "Ctrl-C: take it"),
        (costs[-1], setups[-1], "Ctrl-C"),
    )
    lines = ["  ".join(word for word in (seconds, sheets, *way) if word) for way in ways]
    return next((line for line in lines if len(line) <= width), lines[-1])

"""Progress on a terminal: one line that is drawn anew, and nothing at all in a pipe."""

from __future__ import annotations

import time
from dataclasses import replace
from types import TracebackType
from typing import TYPE_CHECKING

from rich.console import Console
from rich.live import Live
from rich.text import Text

from cutlist.drawing.wording import counted
from cutlist.planning.watching import Standing, Watcher

if TYPE_CHECKING:
    from typing import Self


class TerminalWatcher(Watcher):
    """Shows the best plan so far, what is proven of it, and the time, on standard error."""

    def __init__(self, *, note: str = "") -> None:
        self._note = note
        self._standing: Standing | None = None
        self._heard_at = time.monotonic()
        self._live = Live(
            get_renderable=self._line,
            console=Console(stderr=True),
            refresh_per_second=8,
            transient=True,
        )
        self.has_plan = False

    def __enter__(self) -> Self:
        self._live.__enter__()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._live.__exit__(kind, error, trace)

    def heard(self, standing: Standing) -> None:
        """Show this from the next time on that the line is drawn."""
        self.has_plan = self.has_plan or standing.is_begun
        self._standing = standing
        self._heard_at = time.monotonic()

    def _line(self) -> Text:
        """Return the line as of now: the clock goes on while nothing new is heard."""
        if self._standing is None:
            return Text(self._note)
        since = time.monotonic() - self._heard_at
        line = standing_line(replace(self._standing, seconds=self._standing.seconds + since))
        return Text(line, no_wrap=True, overflow="ellipsis")


class QuietWatcher(Watcher):
    """Only remembers whether there is a plan yet."""

    def __init__(self) -> None:
        self.has_plan = False

    def heard(self, standing: Standing) -> None:
        """Remember."""
        self.has_plan = self.has_plan or standing.is_begun


def standing_line(standing: Standing) -> str:
    """Say in one line how the plan stands."""
    if standing.sheets is None:
        return f"{standing.seconds:4.1f} s  looking for a first plan"
    parts = [f"{standing.seconds:4.1f} s", counted(standing.sheets, "sheet")]
    if standing.cost is not None:
        parts.append(f"cost {standing.cost:,.2f} (least {standing.bound:,.2f})")
    if standing.setups is not None:
        parts.append(f"{counted(standing.setups, 'set-up')} (least {standing.setups_bound})")
    return "  ".join([*parts, "Ctrl-C: take it"])

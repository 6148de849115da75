"""SearchProgress: one line, and memory of whether there is a plan."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.command.progress import (
    ComparingWatcher,
    QuietWatcher,
    TerminalWatcher,
    comparing_line,
    plan_line,
)
from cutlist.model.variants import Variant
from cutlist.nesting.observing import SearchProgress
from cutlist.planning.terms.progress import GroupObserver, PlanSoFar, Watcher

NOTHING = PlanSoFar(None, None, None, None, None, 0.25)
FIRST = PlanSoFar(3, Decimal("1234.5"), Decimal(1000), None, None, 2.0, is_begun=True)
ORDERED = PlanSoFar(3, None, None, 9, 7, 12.34)


@pytest.mark.parametrize(
    ("plan", "line"),
    [
        (NOTHING, " 0.2 s  looking for a first plan"),
        (
            FIRST,
            " 2.0 s  3 sheets  cost 1,234.50 (least 1,000.00)  Ctrl-C: take it",
        ),
        (
            ORDERED,
            "12.3 s  3 sheets  9 set-ups (these layouts: at least 7)  Ctrl-C: take it",
        ),
    ],
)
def test_line(plan: PlanSoFar, line: str) -> None:
    """The line tells what is known and no more."""
    assert plan_line(plan, 80) == line


LONG = PlanSoFar(12, Decimal("2345.5"), Decimal("2100.25"), 27, 16, 123.4, is_begun=True)


@pytest.mark.parametrize(
    ("width", "line"),
    [
        (
            120,
            "123.4 s  12 sheets  cost 2,345.50 (least 2,100.25)  "
            "27 set-ups (these layouts: at least 16)  Ctrl-C: take it",
        ),
        (
            100,
            "123.4 s  12 sheets  cost 2,345.50  27 set-ups (these layouts: at least 16)  "
            "Ctrl-C: take it",
        ),
        (80, "123.4 s  12 sheets  cost 2,345.50  27 set-ups  Ctrl-C: take it"),
        (60, "123.4 s  12 sheets  2,345.50  27 set-ups  Ctrl-C: take it"),
        (50, "123.4 s  12 sheets  2,345.50  27 set-ups  Ctrl-C"),
        (20, "123.4 s  12 sheets  2,345.50  27 set-ups  Ctrl-C"),
    ],
)
def test_line_keeps_within_the_terminal(width: int, line: str) -> None:
    """Bounds and words give way, what the plan takes and how to end the search do not."""
    assert plan_line(LONG, width) == line
    assert len(line) <= max(width, 50)


def test_quiet_watcher_remembers() -> None:
    """There is a plan from the first whole one on, whatever is heard later."""
    watcher = QuietWatcher()
    watcher.heard(NOTHING)
    assert not watcher.has_plan
    watcher.heard(FIRST)
    watcher.heard(NOTHING)
    assert watcher.has_plan


def test_terminal_watcher_writes_to_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing of the progress goes to standard output."""
    with TerminalWatcher(note="compiling") as watcher:
        watcher.heard(NOTHING)
        assert not watcher.has_plan
        watcher.heard(FIRST)
        assert watcher.has_plan
    assert capsys.readouterr().out == ""


def test_terminal_watcher_lets_errors_pass() -> None:
    """An error inside ends the line and goes on."""
    with pytest.raises(RuntimeError), TerminalWatcher():
        raise RuntimeError


def test_plain_watcher_hears_and_does_nothing(capfd: pytest.CaptureFixture[str]) -> None:
    """The watcher to override takes what it hears, keeps nothing and says nothing."""
    watcher = Watcher()
    watcher.heard(FIRST)
    assert vars(watcher) == {}
    assert capfd.readouterr() == ("", "")


def test_group_observer_passes_on() -> None:
    """Better plans and signs of life of one group reach the function given."""
    heard: list[SearchProgress] = []
    observer = GroupObserver(heard.append)
    first, second = SearchProgress(5, 1, 3, 0.1, 10), SearchProgress(4, 1, 3, 0.2, 20)
    observer.improved(first)
    observer.ticked(second)
    assert heard == [first, second]


def test_comparing_line() -> None:
    """How many plans are done, of how many, and which one was begun last."""
    way = Variant("MDF", Fraction(18), ("full",), False, None, varied=(("saw.kerf", "3"),))
    assert comparing_line(way, 2, 8) == "2 of 8 plans done; now MDF, full, kerf 3"
    assert comparing_line(way, 0, 0).startswith("first plan; now MDF")


def test_comparing_watcher_shows_on_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Shown or not, it hears; a pipe gets nothing."""
    way = Variant("MDF", Fraction(18), ("full",), False, None)
    for is_shown in (False, True):
        with ComparingWatcher(is_shown=is_shown) as watcher:
            watcher.note("compiling")
            watcher.ended(0, 2)
            watcher.began(way)
            watcher.ended(1, 2)
    assert capsys.readouterr().out == ""

"""Tests of the stop rules."""

from __future__ import annotations

import time

import pytest

from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import (
    AfterSeconds,
    AfterSteps,
    FirstOf,
    Standing,
    WhenAsked,
    WhenBoundMet,
)

START = Standing(0, None, 5)


def test_seconds_count_from_the_first_call(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule made long before a run does not cut it short."""
    now = 100.0
    monkeypatch.setattr(time, "monotonic", lambda: now)
    rule = AfterSeconds(2)
    now = 500.0
    assert not rule(START)
    now = 501.9
    assert not rule(START)
    now = 502.0
    assert rule(START)


def test_no_seconds_stop_at_once() -> None:
    """A budget of nothing ends at the first look."""
    assert AfterSeconds(0)(START)
    assert AfterSteps(0)(START)


def test_steps_are_those_of_the_search() -> None:
    """The rule holds once that many steps are told."""
    rule = AfterSteps(10)
    assert [rule(Standing(steps, 7, 5)) for steps in (0, 9, 10, 11)] == [False, False, True, True]


@pytest.mark.parametrize("kind", [AfterSeconds, AfterSteps])
def test_negative_budgets_are_refused(kind: type[AfterSeconds | AfterSteps]) -> None:
    """The message names the figure that was found."""
    with pytest.raises(ValueError, match="-3"):
        kind(-3)


def test_a_met_bound_needs_a_plan() -> None:
    """Without a plan there is nothing that meets the bound."""
    rule = WhenBoundMet()
    assert not rule(START)
    assert not rule(Standing(1, 6, 5))
    assert rule(Standing(2, 5, 5))


def test_asking_once_is_enough() -> None:
    """The rule remembers that it was asked."""
    rule = WhenAsked()
    assert not rule(START)
    assert not rule.was_asked
    rule.ask()
    assert rule.was_asked
    assert rule(START)
    assert rule(START)


def test_the_first_of_several_asks_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock of a second rule runs from the start, although the first one has not stopped."""
    now = 0.0
    monkeypatch.setattr(time, "monotonic", lambda: now)
    asked = WhenAsked()
    asked.ask()
    seconds = AfterSeconds(3)
    assert FirstOf(asked, seconds)(START)
    now = 3.0
    assert seconds(START)
    assert not FirstOf(AfterSteps(1), WhenBoundMet())(START)
    assert not FirstOf()(START)


def test_a_search_that_is_asked_to_end_hands_its_plan_over() -> None:
    """Asked before it begins, the search still answers with a first whole plan."""
    rule = WhenAsked()
    rule.ask()
    problem = Problem((Item(30, 20, 9, True), Item(25, 24, 8, False)), (Bin(100, 60, 4),), 2)
    found = nest(problem, seed=1, stop=rule)
    assert sum(layout.copies for layout in found.layouts) == found.sheets
    assert found.cost >= found.bound > 0

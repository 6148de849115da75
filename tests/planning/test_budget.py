"""The budget of a plan: steps and seconds, shared out and spent."""

from __future__ import annotations

import pytest

from cutlist.nesting.stopping import Standing
from cutlist.planning.budget import DEFAULT_SECONDS, WORKERS, Budget


def standing(steps: int) -> Standing:
    """Return a search that has spent so many steps and has a plan to improve."""
    return Standing(steps, 10, 5)


@pytest.mark.parametrize(("share", "most"), [(1.0, 80), (0.5, 40)])
def test_steps_are_shared(share: float, most: int) -> None:
    """Packing may take four fifths of the steps, each group its share of those.

    All searches that run side by side have to do with them together.
    """
    rule = Budget(seconds=None, steps=100).rule(share)
    assert not rule(standing(most // WORKERS - 1))
    assert rule(standing(most // WORKERS))


def test_spent_steps_are_gone() -> None:
    """What was spent is not shared out again, and the budget ends when all is."""
    budget = Budget(seconds=None, steps=100)
    budget.spend(50)
    rule = budget.rule(1.0)
    assert not rule(standing(30 // WORKERS - 1))
    assert rule(standing(30 // WORKERS))
    assert not budget.is_over()
    assert budget.is_over(0.5)
    assert (budget.steps_left(), budget.steps_left(0.8), budget.steps_left(0.4)) == (50, 30, 0)
    budget.spend(50)
    assert budget.is_over()
    assert budget.steps_spent == 100


def test_no_seconds_are_over_at_once() -> None:
    """A budget of no time is over, and its rules stop at the first look."""
    budget = Budget(seconds=0.0)
    assert budget.is_over()
    assert budget.rule(1.0)(standing(0))


def test_time_runs() -> None:
    """With time left a rule does not stop; steps do not count then."""
    budget = Budget(seconds=1000.0)
    budget.spend(10**9)
    assert not budget.is_over()
    assert not budget.rule(1.0)(standing(10**9))


def test_asking_ends_everything() -> None:
    """Once asked, the budget is over and every rule stops."""
    budget = Budget(seconds=None)
    rule = budget.rule(1.0)
    assert not rule(standing(5))
    assert not budget.is_over()
    budget.asked.ask()
    assert rule(standing(5))
    assert budget.is_over()


def test_budgets_do_not_share_their_asking() -> None:
    """Each budget is asked on its own; the default is some seconds."""
    one, other = Budget(), Budget()
    one.asked.ask()
    assert not other.asked.was_asked
    assert one.seconds == DEFAULT_SECONDS


def test_time_is_granted_after_a_late_end() -> None:
    """Where too little time is left a share of the whole is added, and never taken away."""
    late = Budget(seconds=0.5)
    late._started -= 0.6
    assert late.is_over()
    late.ensure(0.2)
    assert not late.is_over()
    assert late.seconds == pytest.approx(0.7, abs=0.05)
    early = Budget(seconds=1000.0)
    early.ensure(0.2)
    assert early.seconds == 1000.0
    assert Budget(seconds=None, steps=10).steps_left() == 10


def test_one_search_alone_gets_the_steps_of_all() -> None:
    """A search beside which no other runs may take what several would have taken together."""
    budget = Budget(seconds=None, steps=100)
    alone = budget.rule(0.5, workers=1)
    assert not alone(standing(39))
    assert alone(standing(40))
    shared = budget.rule(0.5, workers=4)
    assert not shared(standing(9))
    assert shared(standing(10))
    budget.asked.ask()
    assert alone(standing(0))

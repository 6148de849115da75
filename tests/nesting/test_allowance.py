"""What a search may spend: shared out in parts, charged once, never more than the whole."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.nesting.allowance import Allowance
from cutlist.nesting.stopping import Standing


def standing(steps: int) -> Standing:
    """Return a search that has spent so many steps and has a plan to improve."""
    return Standing(steps, 10, 5)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Give a clock that is set by hand, in place of the machine's."""
    now = [100.0]
    monkeypatch.setattr("time.monotonic", lambda: now[0])
    return now


def test_a_search_needs_an_end() -> None:
    """Without seconds and without steps a search would never end: that is refused at once."""
    with pytest.raises(ValueError, match="neither seconds nor steps"):
        Allowance()
    with pytest.raises(ValueError, match="neither seconds nor steps"):
        Allowance(seconds=None, steps=None)


@pytest.mark.parametrize(("seconds", "steps"), [(-1.0, None), (None, -1), (math.nan, None)])
def test_less_than_nothing_is_refused(seconds: float | None, steps: int | None) -> None:
    """Time and steps are at least 0, and said so."""
    with pytest.raises(ValueError, match="accepted: 0 or more"):
        Allowance(seconds, steps)


def test_what_a_part_spends_is_charged_once_all_the_way_up() -> None:
    """Every step counts once in its part, in the part around it, and in the whole."""
    whole = Allowance(steps=100)
    packing = whole.first(seconds=1.0, steps=0.8)
    group = packing.part(0.5)
    assert (packing.steps_left, group.steps_left) == (80, 40)
    group.spend(30)
    assert (group.spent, packing.spent, whole.spent) == (30, 30, 30)
    assert (group.steps_left, packing.steps_left, whole.steps_left) == (10, 50, 70)


def test_what_is_left_over_is_there_for_the_next() -> None:
    """A part that ends early leaves its steps to its neighbours; one that takes more takes it."""
    whole = Allowance(steps=100)
    whole.part(0.5).spend(10)
    assert whole.part(0.5).steps_left == 45
    late = whole.part(0.5)
    whole.spend(80)
    assert late.steps_left == 10
    assert whole.first(seconds=1.0, steps=0.95).steps_left == 5


@given(
    st.integers(0, 10_000),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1)), max_size=12),
)
def test_parts_are_never_more_than_the_whole(
    steps: int, shares: list[tuple[float, float, float]]
) -> None:
    """Whoever keeps to the parts keeps to the whole; all that is spent is counted, once."""
    whole = Allowance(steps=steps)
    charged = 0
    for outer, inner, used in shares:
        part = whole.part(outer).part(inner)
        left = part.steps_left
        assert left is not None
        part.spend(int(used * left))
        charged += int(used * left)
        assert whole.spent == charged <= steps
    assert whole.spent == charged


def test_time_is_shared_out(clock: list[float]) -> None:
    """A part has its share of what is left, and never more than the part around it."""
    whole = Allowance(seconds=10.0)
    clock[0] += 2
    half = whole.part(0.5)
    assert (whole.seconds_left, half.seconds_left) == (8.0, 4.0)
    assert whole.first(seconds=0.85, steps=1.0).seconds_left == pytest.approx(6.5)
    clock[0] += 4
    assert half.is_over()
    assert half.rule()(standing(0))
    assert half.part(1.0).seconds_left == 0
    assert not whole.is_over()
    clock[0] += 4
    assert whole.is_over()


def test_the_clock_may_have_started_before(clock: list[float]) -> None:
    """What went by before the allowance was made counts, too."""
    assert Allowance(seconds=10.0, started=clock[0] - 4).seconds_left == 6.0


def test_time_is_set_aside_for_what_comes_after(clock: list[float]) -> None:
    """What assembling and writing take is not there to search with, but for the least share."""
    whole = Allowance(seconds=10.0, steps=70)
    clock[0] += 1
    assert whole.less(3.0).seconds_left == 6.0
    assert whole.less(30.0).seconds_left == 0
    assert whole.less(30.0, least=0.3).seconds_left == pytest.approx(2.0)
    search = whole.less(3.0)
    search.spend(20)
    assert (search.steps_left, whole.steps_left) == (50, 50)
    assert Allowance(steps=5).less(3.0).steps_left == 5


def test_steps_alone_know_no_clock(clock: list[float]) -> None:
    """With steps alone time does not end anything."""
    whole = Allowance(steps=10)
    clock[0] += 10**9
    assert not whole.is_timed
    assert not whole.is_over()
    assert whole.part(0.5).seconds_left is None
    whole.spend(10)
    assert whole.is_over()
    assert not whole.is_late()


def test_time_alone_counts_no_steps() -> None:
    """With time left a rule does not stop, however many steps it took."""
    whole = Allowance(seconds=1000.0)
    whole.spend(10**9)
    assert whole.steps_left is None
    assert not whole.is_over()
    assert not whole.rule()(standing(10**9))


def test_nothing_is_over_at_once() -> None:
    """An allowance of no time is over, and its rules stop at the first look."""
    whole = Allowance(seconds=0.0)
    assert whole.is_over()
    assert whole.rule()(standing(0))
    assert Allowance(steps=0).is_over()


def test_searches_side_by_side_share_the_steps() -> None:
    """Several searches on one part take together what one alone would have taken."""
    whole = Allowance(steps=80)
    alone, shared = whole.rule(), whole.rule(searches=4)
    assert not alone(standing(79))
    assert alone(standing(80))
    assert not shared(standing(19))
    assert shared(standing(20))
    assert not Allowance(steps=0).rule()(standing(0)), "a search makes one step at least"


def test_asking_ends_every_part() -> None:
    """Once asked, the whole and its parts are over, and so is every rule; others are not."""
    whole, other = Allowance(steps=100), Allowance(steps=100)
    part = whole.part(0.5)
    rule = part.rule()
    assert not rule(standing(5))
    whole.asked.ask()
    assert rule(standing(5))
    assert part.is_over()
    assert part.is_late()
    assert not other.is_over()

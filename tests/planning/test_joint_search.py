"""Layout and order chosen together: never dearer, never worse, the same every time."""

from __future__ import annotations

from cutlist.model.job import Job
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.planning.dividing.groups import Division, divide
from cutlist.planning.ordering.joint_search import JointSearch, Rank, stock_layouts
from cutlist.sequencing.load import SetupLoad
from cutlist.sequencing.sequence import glance
from tests.benchmarks.cabinets import cabinet_job


def begun(asked: Job) -> tuple[Division, JointSearch]:
    """Return a job's groups and the search on them, before its first round."""
    division = divide(asked)
    layouts = [
        nest(group.problem, seed=0, stop=AfterSteps(2000)).layouts for group in division.groups
    ]
    return division, JointSearch(
        division.groups, division.fence, layouts, seed=0, keep=[(300, 100)] * len(layouts)
    )


def test_rank_compares_cost_first() -> None:
    """A dearer solution never wins, then set-ups count, then leftovers, then cuts."""
    few, some, many = (SetupLoad(0, 0, weight, 1) for weight in (2, 3, 9))
    assert Rank(1, many, 0, 9) < Rank(2, few, -9, 1)
    assert Rank(1, few, 0, 9) < Rank(1, some, -9, 1)
    assert Rank(1, few, -5, 9) < Rank(1, few, -4, 1)
    assert Rank(1, few, -5, 8) < Rank(1, few, -5, 9)
    assert not Rank(1, few, 3, 4) < Rank(1, few, 3, 4)
    assert Rank(2, many, 0, 9) < Rank(1, SetupLoad(unsafe=1), 0, 1)


def test_rounds_never_make_it_worse() -> None:
    """Every round's best ranks no worse, its layouts are whole, and its settings are counted."""
    division, search = begun(cabinet_job(4))
    assert len(division.groups) == 2
    last = first = search.best.rank
    for _ in range(6):
        search.round(Allowance(steps=10**9))
        assert not last < search.best.rank
        last = search.best.rank
        for group, solution in zip(division.groups, search.best.solutions, strict=True):
            assert check_layouts(group.problem, solution) == []
        layouts = stock_layouts(division.groups, search.best.solutions)
        assert glance(layouts, division.fence) == last.load
    assert last.cost == first.cost
    assert last.load < first.load


def test_same_seed_same_choice() -> None:
    """The threads do not show in what is chosen."""
    choices = []
    for _ in range(2):
        _, search = begun(cabinet_job(2))
        for _ in range(3):
            search.round(Allowance(steps=10**9))
        choices.append(search.best)
    assert choices[0] == choices[1]


def test_budget_is_kept() -> None:
    """A round takes no more steps than it may, and none once it is over."""
    _, search = begun(cabinet_job(0))
    allowance = Allowance(steps=500)
    search.round(allowance)
    assert 0 < search.steps == allowance.spent <= 500
    before = search.best
    allowance.asked.ask()
    search.round(allowance)
    assert search.best is before
    assert search.steps == allowance.spent

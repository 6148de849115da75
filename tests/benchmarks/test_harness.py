"""Tests of what the benchmark relies on: clocks, stop rules, reading of sets, tables, records."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest

from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.stopping import AfterSeconds, Standing, WhenReached
from tests.benchmarks import tables
from tests.benchmarks.area import area_bound
from tests.benchmarks.instances import Instance, first_of_each, generate, load
from tests.benchmarks.measure import Budget, Measured, measure, measure_instance
from tests.benchmarks.run import arguments, beyond_a_bound, recorded_row

START = Standing(0, None, 5)


def test_processor_time_is_what_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    """Waiting costs nothing, computing does, and the count begins with the first call."""
    spent = 7.0
    monkeypatch.setattr(time, "process_time", lambda: spent)
    rule = AfterSeconds(2, time.process_time)
    spent = 50.0
    assert not rule(START)
    spent = 51.9
    assert not rule(START)
    spent = 52.0
    assert rule(START)
    with pytest.raises(ValueError, match="-1"):
        AfterSeconds(-1, time.process_time)


def test_a_figure_is_reached_from_above() -> None:
    """Costs fall to it; values, told as negative costs, rise to it."""
    assert not WhenReached(7)(START)
    assert [WhenReached(7)(Standing(0, cost, 0)) for cost in (8, 7, 6)] == [False, True, True]
    assert [WhenReached(-7)(Standing(0, -value, 0)) for value in (6, 7)] == [False, True]


def test_until_published_ends_early_and_nowhere_else() -> None:
    """Without the option the published figure changes nothing; with it the run ends there."""
    items = tuple(Item(23 + 7 * i, 61 - 4 * i, 4, False) for i in range(8))
    problem = Problem(items, (Bin(100, 90, 1),), 0)
    plain = measure(problem, Budget(None, 30_000, 1))
    assert plain.result is not None
    assert plain.bound is not None
    assert plain.bound < plain.result
    blind = measure(problem, Budget(None, 30_000, 1), plain.result)
    assert (blind.result, blind.steps) == (plain.result, plain.steps)
    early = measure(problem, Budget(None, 30_000, 1, until_published=True), plain.result)
    assert early.result == plain.result
    assert early.steps < plain.steps


def test_sets_are_read_with_what_is_published(tmp_path: Path) -> None:
    """A value is read with its optimum, which holds for parts that do not turn; inches stay."""
    knapsack = {"name": "k", "sheet": [5, 4], "items": [[3, 2, 2, 9], [1, 1, 4, 1]], "optimum": 22}
    boards = {"name": "b", "sheets": [[8, 4, None, 6]], "items": [[2.25, 1, 3]]}
    for name, entry in (("knapsack", knapsack), ("boards", boards)):
        (tmp_path / f"{name}.json").write_text(json.dumps({"instances": [entry]}))
    (fixed,) = load(tmp_path, "knapsack", turned=False)
    (turned,) = load(tmp_path, "knapsack", turned=True)
    assert (fixed.published, fixed.proven, fixed.values) == (22, True, (9, 1))
    assert (turned.published, turned.proven) == (None, False)
    assert fixed.problem.bins == (Bin(5, 4, 1, 1),)
    (board,) = load(tmp_path, "boards", turned=False)
    assert board.problem == Problem((Item(9, 4, 3, False),), (Bin(32, 16, 6),), 0)
    assert measure_instance((fixed, Budget(None, 3000, 1))).result == 22


@pytest.mark.slow
def test_generated_classes_have_the_published_shape() -> None:
    """Ten classes, five sizes, the same every time."""
    once = first_of_each(generate(turned=False, count=2), 1)
    assert len(once) == 50
    assert [sum(i.qty for i in one.problem.items) for one in once[:5]] == [20, 40, 60, 80, 100]
    assert once == first_of_each(generate(turned=False, count=2), 1)


def test_the_area_bound_uses_the_best_value_first() -> None:
    """Three panels of 50 on offcuts of 60 at 0 and sheets of 100 at 10: 90 of 150 are bought."""
    problem = Problem((Item(10, 5, 3, False),), (Bin(10, 6, 0, 1), Bin(10, 10, 10)), 0)
    assert area_bound(problem) == 9


def result(name: str, cost: int, published: int | None, *, value: bool = False) -> tables.Result:
    """Return a result with the figures that matter here."""
    problem = Problem((Item(1, 1, 1, False),), (Bin(1, 1, 1),), 0)
    instance = Instance(name, name[0], problem, published, published is not None)
    if value:
        instance = Instance(name, name[0], problem, published, True, (1,))
    measured = Measured(cost, None if value else 3, 0.01, 0.02, 0.5, 0.9, 100)
    return tables.Result(instance, measured, None if value else 2, None, None, None)


def test_lines_add_up() -> None:
    """Groups and the last line are sums; a figure that one instance lacks is left out."""
    results = [result("a1", 5, 5), result("a2", 7, 6), result("b1", 4, None)]
    one, two, every = tables.lines(results)
    assert (one.group, one.instances, one.result, one.published) == ("a", 2, 12, 11)
    assert (one.proven, one.hit) == (2, 1)
    assert (two.published, every.published, every.result) == (None, None, 16)
    each = tables.lines(results, each=True)
    assert [line.group for line in each] == ["a1", "a2", "b1", "all"]
    shown = tables.markdown(each, ("instance", "cost", "above")).splitlines()
    assert shown[:3] == ["| instance | cost | above |", "|---|---|---|", "| a1 | 5 | 66.67 % |"]


def test_figures_better_than_proven_ones_are_told() -> None:
    """A cost below a bound and a value above an optimum are faults; the optimum itself is not."""
    assert not beyond_a_bound(result("a", 5, 5))
    assert beyond_a_bound(result("a", 5, 6))
    assert beyond_a_bound(result("a", 2, None))
    assert not beyond_a_bound(result("a", 20, 20, value=True))
    assert beyond_a_bound(result("a", 21, 20, value=True))


def test_rows_are_added_to_their_own_table(tmp_path: Path) -> None:
    """What stands below the table stays below it."""
    page = tmp_path / "results.md"
    page.write_text("# R\n\n| a | b |\n|---|---|\n| 1 | 2 |\n\nText\n\n| c |\n|---|\n")
    tables.record(page, ["3", "4"], ["a", "b"])
    tables.record(page, ["5"])
    assert page.read_text() == (
        "# R\n\n| a | b |\n|---|---|\n| 1 | 2 |\n| 3 | 4 |\n\nText\n\n| c |\n|---|\n| 5 |\n"
    )
    with pytest.raises(ValueError, match=r"no table with the head \| x \|"):
        tables.record(page, ["1"], ["x"])


def test_the_recorded_heads_are_those_of_the_page() -> None:
    """Rows of costs and of values find their tables in the results."""
    page = (Path(__file__).parents[2] / "docs" / "results.md").read_text(encoding="utf-8")
    for name in ("class", "knapsack"):
        options = arguments(["--set", name, "--folder", "x"])
        head = f"| {' | '.join(recorded_row(options, tables.Line('all')))} |"
        assert page.count(head + "\n") == 1

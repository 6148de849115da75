"""Orders that cut what has to match at one visit."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import groupby

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.cutting import CutStep, FinishedPiece, PlacedBox, SettingStep
from cutlist.sequencing.fence import Fence, Together
from cutlist.sequencing.forest import NONE, Forest
from cutlist.sequencing.order import order_settings
from cutlist.sequencing.sequence import StockLayout, glance, sequence
from cutlist.sequencing.together import apart
from tests.sequencing.cut_layouts import Bench, benches
from tests.sequencing.forests import Task, add_task, chain, follows, forests


def chains_of(*visits: tuple[int, ...]) -> tuple[Forest, list[int]]:
    """Return a forest of pieces, each cut at its settings one after the other."""
    forest = Forest()
    return forest, [add_task(forest, chain(settings)) for settings in visits]


def test_a_held_setting_waits_for_the_work_below() -> None:
    """Of 5 before 8, and 8 before 5, the held one is visited once and the other twice."""
    forest, roots = chains_of((5, 8), (8, 5))
    assert order_settings(forest, roots, held=[5]).settings == (8, 5, 8)
    assert order_settings(forest, roots, held=[8]).settings == (5, 8, 5)


def test_holding_may_cost_settings() -> None:
    """Three pieces want 5 late, after settings that are then visited again for others."""
    forest, roots = chains_of((5, 6, 7), (6, 5), (7, 5))
    free = order_settings(forest, roots)
    held = order_settings(forest, roots, held=[5])
    assert len(free.settings) == 4
    assert held.settings.count(5) == 1
    assert len(held.settings) == 5
    assert held.bound <= len(free.settings), "held orders prove nothing of the free ones"


def test_what_cannot_be_held_is_not_waited_for() -> None:
    """A piece that needs the held setting twice gets it twice."""
    forest, roots = chains_of((5, 8, 5))
    assert order_settings(forest, roots, held=[5]).settings == (5, 8, 5)


@pytest.mark.slow
@given(forests())
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_held_orders_finish_everything(tasks: tuple[Task, ...]) -> None:
    """An order with a setting held back finishes every piece, and takes no fewer settings."""
    forest = Forest()
    roots = [add_task(forest, task) for task in tasks]
    used = sorted({branch.setting for node in forest.nodes for branch in node.branches})
    order = order_settings(forest, roots, held=used[:1])
    assert follows(tasks, order.settings)
    assert order.bound <= len(order_settings(forest, roots).settings) <= len(order.settings)


@pytest.mark.slow
@given(st.lists(st.lists(st.integers(1, 4), min_size=1, max_size=5), min_size=1, max_size=4))
@settings(max_examples=200, deadline=None)
def test_one_visit_is_found_where_there_is_one(pieces: list[list[int]]) -> None:
    """Pieces cut one after the other want setting 1 once if each wants it once, in a row.

    All that stands before it can be done first, and all that follows afterwards.
    """
    forest, roots = chains_of(*(tuple(piece) for piece in pieces))
    runs = [[key for key, _ in groupby(piece)].count(1) for piece in pieces]
    visits = order_settings(forest, roots, held=[1]).settings.count(1)
    assert (visits <= 1) == (max(runs) <= 1)


def box(name: str, x: int, length: int, width: int = 5) -> PlacedBox:
    """Return a piece at the low edge of its sheet."""
    return PlacedBox(name, x, 0, length, width)


def test_visits_and_remainders_are_counted() -> None:
    """Two panels at one visit, one at another, one left over: apart by two."""
    one, two, three, four = box("1", 0, 9), box("2", 10, 9), box("3", 20, 9), box("4", 30, 9)
    first = CutStep("A", Axis.X, Purpose.PART, one, box("r", 10, 29))
    second = CutStep("r", Axis.X, Purpose.PART, two, box("s", 20, 19))
    third = CutStep("s", Axis.X, Purpose.PART, three, four)
    steps = (SettingStep(9, (first, second)), SettingStep(8, ()), SettingStep(9, (third,)))
    pieces = [FinishedPiece(0, 0, piece) for piece in (one, two, three, four)]
    assert apart([Together(9, frozenset({0}))], steps, pieces) == 2
    assert apart([Together(9, frozenset({0}))], steps, pieces[:2]) == 0
    assert apart([Together(9, frozenset({1}))], steps, pieces) == 0
    assert apart([Together(5, frozenset({0}))], steps, pieces) == 4, "their width is the stock's"


def two_ways() -> list[StockLayout]:
    """One sheet wants 8 before 5, the other 5 before 8."""
    first = Strip(Axis.Y, 30, 20, (Strip(Axis.X, 30, 8, (Cell(0, 5, 8),)),))
    second = Strip(Axis.Y, 30, 20, (Strip(Axis.X, 30, 5, (Cell(0, 8, 5),)),))
    return [StockLayout(Layout(0, root)) for root in (first, second)]


def test_what_has_to_match_is_cut_at_one_visit() -> None:
    """The size that has to match is visited once, whichever of the two it is."""
    for distance in (5, 8):
        wanted = (Together(distance, frozenset({0})),)
        made = sequence(two_ways(), Fence(1, together=wanted))
        assert [step.distance for step in made.settings].count(distance) == 1
        assert apart(wanted, made.settings, made.pieces) == 0
        assert glance(two_ways(), Fence(1, together=wanted)).setups == 3


def test_what_cannot_match_weighs_in_the_choice() -> None:
    """Layouts that leave no order for both sizes lose against any that do."""
    wanted = tuple(Together(distance, frozenset({0})) for distance in (5, 8))
    made = sequence(two_ways(), Fence(1, together=wanted))
    assert apart(wanted, made.settings, made.pieces) == made.load.apart == 1
    one_way = [two_ways()[0]] * 2
    same = glance(one_way, Fence(1, together=wanted))
    assert (same.apart, same.setups) == (0, 2)
    assert same < glance(two_ways(), Fence(1, together=wanted))


def test_what_has_to_match_is_not_left_over() -> None:
    """A strip whose waste is as wide as another panel: the panels that match are cut, not left.

    Taking the waste of 6 off first would leave the second panel of 9 as the remainder.
    """
    strip = Strip(Axis.X, 26, 7, (Cell(0, 9, 7), Cell(0, 9, 7)))
    other = Strip(Axis.X, 26, 7, (Cell(1, 6, 7),))
    layouts = [StockLayout(Layout(0, root)) for root in (strip, other)]
    wanted = (Together(9, frozenset({0})),)
    made = sequence(layouts, Fence(1, together=wanted))
    assert apart(wanted, made.settings, made.pieces) == 0


@pytest.mark.slow
@given(benches(), st.integers(0, 5))
@settings(
    max_examples=100,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_asking_never_sets_panels_farther_apart(bench: Bench, number: int) -> None:
    """Whatever has to match, the same panels come out, no farther from matching than unasked."""
    plain = sequence(bench.layouts, bench.fence, expansions=200)
    panels = [piece for piece in plain.pieces if piece.part != NONE]
    chosen = panels[number % len(panels)]
    wanted = (Together(chosen.box.length, frozenset({chosen.part})),)
    asked = sequence(bench.layouts, replace(bench.fence, together=wanted), expansions=200)
    assert apart(wanted, asked.settings, asked.pieces) <= apart(
        wanted, plain.settings, plain.pieces
    )
    counts = [Counter(piece.part for piece in made.pieces if piece.part != NONE)
              for made in (plain, asked)]  # fmt: skip
    assert counts[0] == counts[1]
    assert asked.bound <= min(len(asked.settings), len(plain.settings))

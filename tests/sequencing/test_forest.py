"""The forest of cuts: nodes once each, and what a setting leaves open."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.model.layout import Axis
from cutlist.sequencing.forest import NONE, Branch, End, Forest, Node
from tests.sequencing.forests import Task, add_task, fewest, forests


def test_equal_nodes_share_a_number() -> None:
    """Branches in another order make the same node."""
    forest = Forest()
    a, b = Branch(3, forest.panel(0)), Branch(5, forest.panel(1))
    assert forest.work(Axis.X, [a, b]) == forest.work(Axis.X, [b, a])
    assert forest.work(Axis.X, [a, b]) != forest.work(Axis.Y, [a, b])
    assert forest.panel(0) == a.child
    assert len(forest) == 5


def test_work_collapses() -> None:
    """A single spare branch is its child, no branches are what follows."""
    forest = Forest()
    panel = forest.panel(0)
    assert forest.work(Axis.X, [Branch(3, panel)]) == panel
    assert forest.work(Axis.X, [], panel) == panel
    assert forest.work(Axis.X, []) == NONE


def test_without_takes_one_of_equal_branches() -> None:
    """Of two equal branches one stays."""
    forest = Forest()
    branch = Branch(3, forest.panel(0), End.HIGH)
    node = forest.work(Axis.Y, [branch, branch], forest.waste)
    left = forest.without(node, branch)
    assert forest.nodes[left] == Node(axis=Axis.Y, branches=(branch,), then=forest.waste)
    assert forest.without(left, branch) == forest.waste


def test_advance_goes_on_at_the_same_setting() -> None:
    """A cut's piece that needs the same setting again is worked on in the same visit."""
    forest = Forest()
    inner = forest.work(Axis.X, [Branch(3, forest.panel(0))], forest.waste)
    outer = forest.work(Axis.Y, [Branch(3, inner)], forest.waste)
    assert forest.advance(outer, 3) == frozenset()
    assert forest.advance(outer, 4) == {outer}
    assert forest.advance(forest.panel(0), 3) == frozenset()


@given(forests(cuts=8, settings=3), st.integers(1, 3))
@settings(max_examples=100, deadline=None)
def test_advance_leaves_nothing_for_the_same_setting(tasks: tuple[Task, ...], setting: int) -> None:
    """What a setting leaves open has no task at that setting on top, and doing it again is idle."""
    forest = Forest()
    for task in tasks:
        left = forest.advance(add_task(forest, task), setting)
        assert left or fewest((task,)) <= 1
        for number in left:
            branches = forest.nodes[number].branches
            assert branches
            assert setting not in {branch.setting for branch in branches}
            assert forest.advance(number, setting) == {number}

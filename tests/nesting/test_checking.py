"""Tests of the strict check: it passes what is right and names each thing that is wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.problem import Bin, Item, Problem

SOUND = Problem(
    (Item(40, 30, 2, False), Item(16, 9, 1, False)), (Bin(100, 50, 1, 1, 2),), 2, reach=60
)
RIGHT = Layout(
    0,
    Strip(
        Axis.X,
        100,
        50,
        (
            Strip(Axis.Y, 40, 50, (Cell(0, 40, 30),)),
            Strip(Axis.Y, 40, 50, (Cell(0, 40, 30),)),
            Strip(Axis.Y, 16, 50, (Cell(1, 16, 9),)),
        ),
    ),
)


def changed(number: int, child: Strip | Cell) -> Layout:
    """Return the sound layout with another child in its place."""
    assert isinstance(RIGHT.root, Strip)
    children = list(RIGHT.root.children)
    children[number] = child
    return replace(RIGHT, root=replace(RIGHT.root, children=tuple(children)))


def test_a_sound_answer_has_no_findings() -> None:
    """Everything else here is a small change of this."""
    assert check_layouts(SOUND, [RIGHT]) == []


@pytest.mark.parametrize(
    ("layouts", "finding"),
    [
        ([], "item 0: 0 cut, 2 wanted"),
        ([replace(RIGHT, copies=0)], "layout 0: 0 copies"),
        ([replace(RIGHT, copies=2)], "bin 0: 2 used, 1 there"),
        ([RIGHT, RIGHT], "equal layouts are not merged"),
        ([replace(RIGHT, root=replace(RIGHT.root, width=49))], "the root does not cover"),
        ([Layout(0, Strip(Axis.X, 100, 50, ()))], "a strip without children"),
        ([Layout(0, Strip(Axis.X, 100, 50, ()))], "empty"),
        ([changed(0, Cell(0, 40, 50))], "item 0 cut to 40 by 50"),
        ([changed(0, Strip(Axis.Y, 40, 50, (Cell(0, 30, 40),)))], "item 0 cut to 30 by 40"),
        ([changed(0, Strip(Axis.Y, 40, 50, (Cell(9, 40, 30),)))], "no item 9"),
        ([changed(0, Cell(0, 40, 30))], "a child 30 across in a strip 50 across"),
        ([changed(0, Strip(Axis.X, 40, 50, (Cell(0, 40, 50),)))], "a strip along the axis"),
        ([changed(2, Strip(Axis.Y, 17, 50, (Cell(1, 17, 9),)))], "exceed it"),
        ([changed(2, Strip(Axis.Y, 16, 50, (Cell(1, 16, 0),)))], "a piece of 16 by 0"),
    ],
)
def test_each_fault_is_found(layouts: list[Layout], finding: str) -> None:
    """One change of the sound answer brings up its finding."""
    assert any(finding in found for found in check_layouts(SOUND, layouts))


def test_a_turned_panel_needs_leave() -> None:
    """The same layout is right or wrong as the part may turn or not."""
    layout = Layout(0, Strip(Axis.X, 100, 50, (Strip(Axis.Y, 30, 50, (Cell(0, 30, 20),)),)))
    for turnable, findings in ((True, 0), (False, 1)):
        problem = Problem((Item(20, 30, 1, turnable),), (Bin(100, 50, 1),), 2)
        assert len(check_layouts(problem, [layout])) == findings


def test_a_cut_beyond_reach_is_found() -> None:
    """With a shorter fence the sound answer is none."""
    found = check_layouts(replace(SOUND, reach=39), [RIGHT])
    assert found == ["layout 0: a cut is beyond reach"]

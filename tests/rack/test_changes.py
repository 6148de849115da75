"""Changes of a rack: named, whole, and undone one by one."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.errors import RackError, RackFileError
from cutlist.model.rack import Booking, Leaving, RackOffcut
from cutlist.rack import add, history, read_rack, redo, remove, replace_all, take, undo
from tests.rack.racks import DAY, empty, names, piece


def booking(path: Path, *leaving: str, plan: str = "p", kept: int = 1) -> Booking:
    """Return what a plan does that cuts up the pieces named and leaves others."""
    numbers = {one.name: one.number for one in read_rack(path).offcuts}
    gone = tuple(Leaving(numbers[name], name) for name in leaving)
    return Booking(plan, "bench", "", gone, tuple(piece(f"A{n}") for n in range(kept)))


def test_pieces_get_names_that_are_not_given_again(tmp_path: Path) -> None:
    """A piece without a name is the next rack N, also after the last one is gone."""
    path = empty(tmp_path)
    add(path, [piece(), piece("door"), piece()], day=DAY)
    assert names(path) == ["rack 1", "door", "rack 2"]
    remove(path, ["rack 2"], day=DAY)
    add(path, [piece(), piece("rack 7"), piece()], day=DAY)
    assert names(path) == ["rack 1", "door", "rack 8", "rack 7", "rack 9"]
    undo(path)
    add(path, [piece()], day=DAY)
    assert names(path)[-1] == "rack 10"


def test_names_are_unlike(tmp_path: Path) -> None:
    """A name that is taken, or given twice, is refused and nothing is put on the rack."""
    path = empty(tmp_path)
    add(path, [piece("a")], day=DAY)
    for given_names in (["b", "a"], ["b", "b"]):
        with pytest.raises(RackFileError, match="is taken on the rack"):
            add(path, [piece(name) for name in given_names], day=DAY)
    assert names(path) == ["a"]
    assert len(history(path)) == 1


def test_only_what_is_there_is_removed(tmp_path: Path) -> None:
    """If one name is not on the rack, all stay; a name given twice is one piece."""
    path = empty(tmp_path)
    add(path, [piece("a"), piece("b")], day=DAY)
    with pytest.raises(RackFileError, match="not on the rack: c, d"):
        remove(path, ["a", "c", "d"], day=DAY)
    assert names(path) == ["a", "b"]
    remove(path, ["a", "a"], day=DAY)
    assert names(path) == ["b"]


def test_a_plan_is_taken_once(tmp_path: Path) -> None:
    """What a plan cut up leaves, what it left enters under a name; the same plan is refused."""
    path = empty(tmp_path)
    add(path, [piece("a"), piece("b")], day=DAY)
    asked = booking(path, "a", kept=2)
    change = take(path, asked, day=DAY)
    assert names(path) == ["b", "rack 1", "rack 2"]
    assert [one.name for one in change.left] == ["a"]
    state = read_rack(path)
    with pytest.raises(RackError, match="this plan was taken already, on 2026-02-03"):
        take(path, asked, day=DAY)
    assert read_rack(path) == state
    undo(path)
    assert names(path) == ["a", "b"]
    take(path, asked, day=DAY)
    assert names(path) == ["b", "rack 3", "rack 4"]


def test_a_plan_whose_piece_is_gone_is_refused(tmp_path: Path) -> None:
    """A piece removed since, or another one of its name, is not what the plan cut up."""
    path = empty(tmp_path)
    add(path, [piece("a"), piece("b")], day=DAY)
    asked = booking(path, "a", "b")
    remove(path, ["a"], day=DAY)
    with pytest.raises(RackError, match="no longer on the rack: a;"):
        take(path, asked, day=DAY)
    add(path, [piece("a")], day=DAY)
    state = read_rack(path)
    with pytest.raises(RackError, match="no longer on the rack: a;"):
        take(path, asked, day=DAY)
    assert read_rack(path) == state
    undo(path)
    undo(path)
    take(path, asked, day=DAY)
    assert names(path) == ["rack 1"]


def test_a_change_after_an_undo_is_final(tmp_path: Path) -> None:
    """What was undone can be made again until another change is made."""
    path = empty(tmp_path)
    add(path, [piece("a")], day=DAY)
    add(path, [piece("b")], day=DAY)
    assert undo(path) is not None
    assert undo(path) is not None
    assert undo(path) is None
    again = redo(path)
    assert again is not None
    assert names(path) == ["a"]
    assert again.number == 1
    add(path, [piece("c")], day=DAY)
    assert redo(path) is None
    assert [(one.is_undone, one.is_final) for one in history(path)] == [
        (False, False),
        (True, True),
        (False, False),
    ]


def test_a_list_moves_only_what_differs(tmp_path: Path) -> None:
    """Pieces just as on the rack stay; others enter, and only if asked so the rest leaves."""
    path = empty(tmp_path)
    add(path, [piece("a"), piece("b")], day=DAY)
    there = {one.name: one for one in read_rack(path).offcuts}
    wanted = [replace(there["a"], number=0), piece("c")]
    change = replace_all(path, wanted, day=DAY, keeping=True)
    assert change is not None
    assert names(path) == ["a", "b", "c"]
    change = replace_all(path, wanted, day=DAY, keeping=False)
    assert change is not None
    assert [one.name for one in change.left] == ["b"]
    assert read_rack(path).offcuts[0] == there["a"]
    assert replace_all(path, wanted, day=DAY, keeping=False) is None
    with pytest.raises(RackFileError, match="the name a is taken"):
        replace_all(path, [piece("a", (7, 7))], day=DAY, keeping=True)
    replace_all(path, [piece("a", (7, 7))], day=DAY, keeping=False)
    assert [(one.name, one.length) for one in read_rack(path).offcuts] == [("a", Fraction(7))]


WORK = st.lists(st.sampled_from(["add", "two", "remove", "take", "list", "undo", "redo"]))


@pytest.mark.slow
@settings(max_examples=25, deadline=None)
@given(WORK)
def test_undoing_leads_back_through_every_state(work: list[str]) -> None:
    """Whatever was done, undo goes back through every state to the empty rack, and redo forth."""
    with tempfile.TemporaryDirectory() as folder:
        path = empty(Path(folder))
        states: list[tuple[RackOffcut, ...]] = [()]
        later: list[tuple[RackOffcut, ...]] = []
        for number, kind in enumerate(work):
            there = names(path)
            if kind == "undo":
                assert (undo(path) is None) == (len(states) == 1)
                if len(states) > 1:
                    later.append(states.pop())
            elif kind == "redo":
                assert (redo(path) is None) == (not later)
                if later:
                    states.append(later.pop())
            else:
                if kind == "remove" and there:
                    remove(path, there[:1], day=DAY)
                elif kind == "take":
                    take(path, booking(path, *there[-1:], plan=str(number)), day=DAY)
                elif kind == "list":
                    replace_all(path, [piece(f"list {number}")], day=DAY, keeping=False)
                else:
                    add(path, [piece()] * (2 if kind == "two" else 1), day=DAY)
                states.append(read_rack(path).offcuts)
                later = []
            assert read_rack(path).offcuts == states[-1]
        for state in reversed(states[:-1]):
            undo(path)
            assert read_rack(path).offcuts == state
        assert undo(path) is None
        assert names(path) == []
        for state in states[1:]:
            redo(path)
            assert read_rack(path).offcuts == state

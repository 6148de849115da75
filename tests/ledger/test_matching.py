"""Which setting gave the panels of a match their size."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.matching import matched
from cutlist.model.job import Match
from cutlist.model.matches import Matched
from cutlist.model.plan import Cut, Direction, Panel, Piece, Purpose, SawSetup
from tests.audit.plans import SOUND, box, f, setting

RIP, CROSSCUT, PART = Direction.RIP, Direction.CROSSCUT, Purpose.PART


def found_in(
    matches: Sequence[Match], made: Sequence[SawSetup], panels: Sequence[Panel]
) -> tuple[Matched, ...]:
    """Match in a plan that has just these, cut from the stock that they begin with."""
    plan = SOUND["plain"]()
    cuts = [cut for one in made for cut in one.cuts]
    there = {piece.name for cut in cuts for piece in cut.makes}
    stock = dict.fromkeys(cut.piece for cut in cuts if cut.piece not in there)
    work = tuple(replace(plan.workpieces[0], piece=name) for name in stock)
    job = replace(plan.job, matches=tuple(matches))
    bare = replace(plan, job=job, workpieces=work, setups=tuple(made), panels=tuple(panels))
    return matched(read_ledger(bare))


def test_hand_made_plans_are_matched_as_written() -> None:
    """What stands in the plans written out by hand is what their settings say."""
    for name in ("matching", "matching_apart"):
        plan = SOUND[name]()
        assert matched(read_ledger(plan)) == plan.matches


def test_nothing_asked_nothing_told() -> None:
    """A job without matches has none."""
    plan = SOUND["plain"]()
    assert matched(read_ledger(plan)) == ()


def strip(last: Piece) -> tuple[tuple[SawSetup, ...], tuple[Panel, ...]]:
    """Cut a strip 29 long and 5 wide, kerf 1, at 9: two panels come off, ``last`` is left."""
    first, rest = box("A1", 0, 0, 9, 5), box("A2", 10, 0, 19, 5)
    second = box("A3", 10, 0, 9, 5)
    cuts = (
        Cut(1, "A", CROSSCUT, PART, first, rest),
        Cut(2, "A2", CROSSCUT, PART, second, last),
    )
    panels = tuple(Panel("slat", n, piece, False) for n, piece in enumerate((first, second, last)))
    return (setting(1, 9, 1, *cuts),), panels


def test_what_a_cut_leaves_is_set_by_none() -> None:
    """The last panel of a strip that comes out exact is no less alike, but no fence set it."""
    made, panels = strip(box("A4", 20, 0, 9, 5))
    (found,) = found_in([Match("slats", f(9), ("slat",))], made, panels)
    assert found == Matched("slats", f(9), 3, (1,), 1)
    assert not found.in_one_visit
    (width,) = found_in([Match("slats", f(5), ("slat",))], made, panels)
    assert width == Matched("slats", f(5), 3, (), 3)


def test_both_sides_of_a_square_panel_count() -> None:
    """A square panel has the size along and across, each from a setting of its own."""
    strip_of_nine = box("B1", 0, 0, 40, 9)
    panel = box("B1a", 0, 0, 9, 9)
    made = (
        setting(1, 9, 1, Cut(1, "B", RIP, PART, strip_of_nine, None)),
        setting(2, 20, 1),
        setting(3, 9, 1, Cut(2, "B1", CROSSCUT, PART, panel, None)),
    )
    (found,) = found_in([Match("tiles", f(9), ("tile",))], made, [Panel("tile", 1, panel, False)]
    )  # fmt: skip
    assert found.settings == (1, 3)
    assert not found.in_one_visit


def test_one_visit_of_one_tool() -> None:
    """Two tools at the same distance are two settings."""
    made, panels = strip(box("A4", 20, 0, 8, 5))
    first, second = made[0].cuts
    apart = (
        replace(made[0], cuts=(first,)),
        replace(made[0], number=2, tool="sled", cuts=(second,)),
    )
    (found,) = found_in([Match("slats", f(9), ("slat",))], apart, panels[:2])
    assert found.settings == (1, 2)
    assert not found.in_one_visit

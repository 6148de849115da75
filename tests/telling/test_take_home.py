"""What is taken home from the store, and how pieces of like sizes are told apart."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.taken_home import Taken, is_tight, mixed_up, taken_home
from cutlist.model.job import Vehicle
from cutlist.model.plan import Plan
from cutlist.telling.take_home import alike_words, near_words
from cutlist.telling.wording import piece_size
from tests.drawing.plans import broken_down
from tests.drawing.trips import alike, confusing, crowded, trip


def named(plan: Plan) -> dict[str, Taken]:
    """Return what is taken home by the first name of each."""
    return {one.names[0]: one for one in taken_home(read_ledger(plan))}


def test_pieces_of_alike_sheets_share_a_line() -> None:
    """The same size and the same edges cut: it does not matter which gets which name."""
    found = named(alike())
    names = [" ".join(one.names) for one in found.values()]
    assert names == ["C", "A1 B1", "A2 B2", "A3 B3"]
    assert alike_words(found["A1"]) == "either name will do"
    assert alike_words(found["C"]) == ""
    assert found["C"].is_whole
    assert not found["A1"].is_whole


def test_the_longest_come_first() -> None:
    """Sorted by the longer side, then by the other, whichever lies along the grain."""
    sides = [
        tuple(sorted((one.piece.length, one.piece.width), reverse=True))
        for one in taken_home(read_ledger(crowded()))
    ]
    assert sides == sorted(sides, reverse=True)


def test_near_sizes_call_each_other_out() -> None:
    """556 × 1253 and 576 × 1253 are mixed up in a pile; 656 × 1253 is seen to be wider."""
    plan = crowded()
    found = named(plan)
    taken = tuple(found.values())
    assert near_words(found["A3"], taken, plan.job) == ["nearly as large: A4 (576 × 1253 mm)"]
    assert near_words(found["A2"], taken, plan.job) == []
    (group,) = mixed_up({"A1", "A4"}, taken)
    assert {one.names[0] for one in group} == {"A3", "A4"}
    assert mixed_up({"A1"}, taken) == ()


def test_equal_sizes_are_told_apart_by_what_is_cut() -> None:
    """Two of 600 × 1220: one has the board's own left end, the other was cut on both ends."""
    plan = confusing()
    found = named(plan)
    taken = tuple(found.values())
    assert found["C1"].cut_edges == ("right",)
    assert found["C2"].cut_edges == ("left", "right")
    words = near_words(found["C1"], taken, plan.job)
    assert "edges cut at the store: right; as large: C2 (left, right)" in words
    assert "nearly as large: C3 (590 × 1220 mm)" in words


def test_a_size_turned_around_is_called_out() -> None:
    """638 along the grain by 400 across, and 400 by 638: the same board to the eye."""
    plan = confusing()
    found = named(plan)
    taken = tuple(found.values())
    assert piece_size(found["C4"].piece, plan.job) == "638 × 400 mm"
    assert piece_size(found["D1"].piece, plan.job) == "400 × 638 mm"
    assert "as large, the other way round: D1" in near_words(found["C4"], taken, plan.job)
    veneered = replace(found["C4"].workpiece, material="oak veneered board")
    taken = tuple(replace(one, workpiece=veneered) for one in taken)
    (first,) = (one for one in taken if one.names == ("C4",))
    assert "as large, the grain the other way: D1" in near_words(first, taken, plan.job)


def test_what_no_panel_comes_from_is_spare() -> None:
    """Blanks that panels are cut from are not."""
    assert all(one.is_spare for one in taken_home(read_ledger(crowded())))
    ledger = read_ledger(broken_down())
    used = [one for one in taken_home(ledger) if not one.is_spare]
    assert used


def test_a_piece_as_large_as_the_way_in_may_not_come_out_larger() -> None:
    """The saw may be off by 3 mm: 1000 mm go into a bed of 1003, and into one of 1000 just so.

    A side that is the board's own is as it is; a piece that does not go in is no matter of 3 mm.
    """
    plan = trip((2440, 1220), {"A": [("A", "rip", 1000, "A1", "A2")]})
    found = named(plan)
    beds = {(2440, 1000): True, (1002, 2440): True, (2440, 1003): False, (2440, 999): False}
    for (length, width), tight in beds.items():
        job = replace(plan.job, vehicle=Vehicle(Fraction(length), Fraction(width)))
        assert is_tight(found["A1"], job) is tight
        assert not is_tight(found["A2"], job)
    roof = (Fraction(3000), Fraction(1100))
    job = replace(plan.job, vehicle=Vehicle(Fraction(2440), Fraction(1000), second_opening=roof))
    assert not is_tight(found["A1"], job)
    assert plan.job.store
    bed = Vehicle(Fraction(2440), Fraction(1000))
    true = replace(plan.job.store, accuracy=Fraction(0))
    assert not is_tight(found["A1"], replace(plan.job, vehicle=bed, store=true))
    assert not is_tight(found["A1"], plan.job)

"""What the vehicle takes, and which limit is in the way where it takes nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.errors import CannotCutError
from cutlist.model.job import Job, Store, Vehicle
from cutlist.model.weights import Density
from cutlist.planning.remedies.transport import goes_in
from tests.planning.jobs import job, offcut, part, planned, sheet
from tests.refusing import said

STORE = Store(Fraction(3), Fraction(2), 2)


def asked(bed: tuple[int, int], store: Store | None = STORE, **of_part: int) -> Job:
    """Return a job of one sheet 2440 x 1220 and one part for a car with a bed of this size."""
    size = (of_part.get("length", 400), of_part.get("width", 300))
    vehicle = Vehicle(Fraction(bed[0]), Fraction(bed[1]))
    return replace(job([part("wall", size)], [sheet(trim=5)]), store=store, vehicle=vehicle)


def reason(wanted: Job) -> str:
    """Return why a job cannot be cut."""
    with pytest.raises(CannotCutError) as caught:
        planned(wanted)
    return "; ".join(said(caught.value))


def test_what_goes_in() -> None:
    """A sheet goes in one way or the other; what is at home need not."""
    wanted = asked((1220, 2440))
    assert goes_in(sheet(), wanted)
    assert not goes_in(sheet(size=(2441, 1220)), wanted)
    assert goes_in(offcut("rack", (3000, 1500)), wanted)
    assert goes_in(sheet(size=(9000, 9000)), replace(wanted, vehicle=None))


def test_a_second_way_in() -> None:
    """What fits the bed or the second opening goes in, either way round; not what needs both."""
    vehicle = Vehicle(Fraction(1300), Fraction(1000), None, (Fraction(400), Fraction(2500)))
    wanted = replace(asked((1, 1)), vehicle=vehicle)
    assert goes_in(sheet(size=(1000, 1300)), wanted)
    assert goes_in(sheet(size=(2500, 400)), wanted)
    assert not goes_in(sheet(size=(1301, 401)), wanted)


def test_a_sheet_that_is_too_heavy() -> None:
    """2440 x 1220 x 18 mm at 700 kg/m³ weigh 37.507680 kg: a load of that takes it, less does not.

    Where the weight is not known nothing is said of it.
    """
    board = replace(sheet(), density=Density(Fraction(700)))
    for kg, goes in (("37.50768", True), ("37.50767", False)):
        vehicle = Vehicle(Fraction(2500), Fraction(1300), Fraction(kg))
        wanted = replace(asked((1, 1)), vehicle=vehicle)
        assert goes_in(board, wanted) is goes
        assert goes_in(sheet(), wanted)


def test_too_few_cuts() -> None:
    """It is said how many cuts it takes, and how many more would do.

    A sheet 2440 x 1220 takes five cuts for a bed 1000 x 900: two crosscuts give strips of 900 at
    most that are 1220 long, too long for the bed either way; so each strip is cut once more.
    """
    said = reason(asked((1000, 900)))
    assert (
        "full 2440 × 1220 mm takes 5 cuts to go in and max_cuts is 2; 3 more cuts a sheet" in said
    )
    none = reason(asked((1220, 1230), replace(STORE, max_cuts=0)))
    assert "takes 1 cut to go in and max_cuts is 0; 1 more cut a sheet (max_cuts 1)" in none


def test_pieces_too_small_for_the_store() -> None:
    """Where only a small piece is in the way, that is said."""
    said = reason(asked((1000, 900), replace(STORE, max_cuts=None, min_piece=Fraction(700))))
    assert "min_piece 700 mm" in said


def test_without_a_store() -> None:
    """Nothing is cut where no store is described: to describe one is a remedy."""
    said = reason(asked((1000, 900), None))
    assert "full 2440 × 1220 mm does not go into the vehicle uncut (1000 × 900 mm bed)" in said
    assert "store:" in said
    assert "a bed of 2440 × 1220 mm" in said


def test_a_sheet_too_heavy_without_a_store() -> None:
    """18 mm of 700 kg/m³ weigh 12.6 kg/m², the sheet 37.5 kg: that is said, and what helps."""
    wanted = asked((2500, 1300), None)
    vehicle = Vehicle(Fraction(2500), Fraction(1300), Fraction(30))
    board = replace(sheet(trim=5), density=Density(Fraction(700)))
    said = reason(replace(wanted, vehicle=vehicle, sheets=(board,)))
    assert "full 2440 × 1220 mm, 37.5 kg, is too heavy to carry uncut" in said
    assert "a max_load of 38 kg" in said


def test_a_sheet_too_heavy_is_broken_down() -> None:
    """With a store it is cut into blanks that are light enough, and no trip is overloaded."""
    vehicle = Vehicle(Fraction(2500), Fraction(1300), Fraction(20))
    board = replace(sheet(trim=5), density=Density(Fraction(700)))
    wanted = replace(asked((1, 1), length=1100), vehicle=vehicle, sheets=(board,))
    plan = planned(wanted)
    assert audit(plan) == ()
    assert [len(trip.pieces) for trip in plan.trips] == [1, 1]
    heavier = replace(wanted, store=replace(STORE, max_cuts=0))
    assert "takes 1 cut to go in and max_cuts is 0" in reason(heavier)
    assert "2500 × 1300 mm bed, 20.0 kg load" in reason(heavier)


def test_a_part_larger_than_the_bed() -> None:
    """No number of cuts helps a part that does not go in itself."""
    said = reason(asked((1230, 900), replace(STORE, max_cuts=5), length=1240))
    assert said.startswith(
        "wall 1240 × 300 mm is larger than the vehicle takes (1230 × 900 mm bed)"
    )
    assert "more cut" not in said


def test_a_part_too_heavy() -> None:
    """1.1 m x 0.9 m of 12.6 kg/m² are 12.474 kg."""
    vehicle = Vehicle(Fraction(2500), Fraction(1300), Fraction(12))
    board = replace(sheet(trim=5), density=Density(Fraction(700)))
    wanted = replace(asked((1, 1), length=1100, width=900), vehicle=vehicle, sheets=(board,))
    said = reason(replace(wanted, store=replace(STORE, max_cuts=None)))
    assert said.startswith(
        "wall 1100 × 900 mm weighs 12.5 kg, too much for the vehicle; a max_load"
    )


def test_a_part_that_leaves_no_room_for_clean_edges() -> None:
    """A part as large as the bed has no room for what its blank's edges lose."""
    said = reason(asked((1230, 900), replace(STORE, max_cuts=5), length=1230, width=900))
    assert "fits no blank" in said
    assert "cleaned up" in said
    assert "a bed of" in said


def test_sheets_left_behind_are_named_beside_an_offcut() -> None:
    """Where only an offcut is left to cut from, it is said why no sheet is."""
    wanted = replace(asked((1000, 900)), offcuts=(offcut("rack", (350, 350)),))
    said = reason(wanted)
    assert said.startswith("wall 400 × 300 mm cannot be cut from rack 350 × 350 mm; full 2440")
    assert "takes 5 cuts to go in and max_cuts is 2; 3 more cuts a sheet" in said
    assert "fence" not in said
    two = replace(
        wanted, offcuts=(offcut("rack", (450, 350)),), parts=(part("wall", (400, 300), 2),)
    )
    said = reason(two)
    assert "cannot hold all panels: short of 1 × wall; full 2440 × 1220 mm takes 5 cuts" in said
    assert "add a sheet" not in said

"""What the vehicle takes, and which limit is in the way where it takes nothing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.errors import CannotCutError
from cutlist.model.job import Job, Store, Vehicle
from cutlist.model.weights import Density
from cutlist.planning.transport import goes_in
from tests.planning.jobs import job, offcut, part, planned, sheet

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
    return str(caught.value)


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
    """It is said how many more cuts would do, and with them they do.

    A sheet 2440 x 1220 takes three cuts for a bed 1000 x 900: two crosscuts give strips of 900 at
    most that are 1220 long, too long for the bed either way; so each strip is cut once more.
    """
    said = reason(asked((1000, 900)))
    assert "full 2440 × 1220 mm takes 5 cuts and max_cuts is 2: 3 more cuts would do" in said
    assert "another sheet size or a larger bed" in said
    enough = asked((1000, 900), replace(STORE, max_cuts=5))
    assert planned(enough).totals.parts == 1


def test_pieces_too_small_for_the_store() -> None:
    """Where only a small piece is in the way, that is said."""
    said = reason(asked((1000, 900), replace(STORE, max_cuts=None, min_piece=Fraction(700))))
    assert "min_piece 700 mm" in said


def test_without_a_store() -> None:
    """Nothing is cut where no store is described: to describe one is a remedy."""
    said = reason(asked((1000, 900), None))
    assert "no sheet goes into the vehicle (1000 × 900 mm bed) uncut" in said
    assert "store:" in said


def test_a_part_larger_than_the_bed() -> None:
    """No number of cuts helps a part that does not go in itself."""
    said = reason(asked((1230, 900), replace(STORE, max_cuts=5), length=1240))
    assert said.startswith("wall 1240 × 300 mm is larger than the vehicle takes")


def test_a_part_that_leaves_no_room_for_clean_edges() -> None:
    """A part as large as the bed has no room for what its blank's edges lose."""
    said = reason(asked((1230, 900), replace(STORE, max_cuts=5), length=1230, width=900))
    assert "fits no blank" in said
    assert "cleaned up" in said

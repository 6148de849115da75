from __future__ import annotations

from fractions import Fraction

import pytest

from cutlist.model.plan import Cut, Direction, Piece, Place, Purpose, SawSetup
from cutlist.model.sawing import Caution, Device, Hazard
from cutlist.planning.instructions.cautions import cautions_of
from cutlist.telling.cut_cautions import legend
from cutlist.units.system import Units


def flags_of(
    direction: Direction,
    size: tuple[int, int],
    distance: int,
    units: Units = Units.MM,
    device: Device = Device.FENCE,
    unsafe: bool = False,
) -> tuple[Caution, ...]:
    """Flag the cut of a piece of a size at a distance."""
    zero = Fraction(0)
    piece = Piece("A", zero, zero, Fraction(size[0]), Fraction(size[1]))
    kept = Piece("A1", zero, zero, Fraction(1), Fraction(1))
    hazards = (Hazard.UNSTEADY,) if unsafe else ()
    cut = Cut(1, "A", direction, Purpose.PART, kept, None, hazards=hazards)
    return cautions_of(set_at(device, cut, distance), cut, piece, units)


def set_at(device: Device, cut: Cut, distance: int) -> SawSetup:
    """Set a device to a distance for one cut."""
    place = Place.STORE if device is Device.STORE else Place.SHOP
    size = Fraction(distance)
    return SawSetup(1, place, "saw", size, Fraction(3), (cut,), mark=size, device=device)


# Limits as in the warnings of table-saw manuals: push stick below 150 mm or 6 in, push block below
# 50 mm or 2 in, workpieces shorter than 300 mm or 12 in; the rule for support is common practice.
@pytest.mark.parametrize(
    ("direction", "size", "distance", "expected"),
    [
        (Direction.RIP, (2440, 1220), 600, (Caution.SUPPORT,)),
        (Direction.RIP, (1501, 1220), 150, (Caution.SUPPORT,)),
        (Direction.RIP, (1500, 1220), 150, ()),
        (Direction.RIP, (1500, 1220), 149, (Caution.PUSH_STICK,)),
        (Direction.RIP, (1500, 1220), 50, (Caution.PUSH_STICK,)),
        (Direction.RIP, (1500, 1220), 49, (Caution.PUSH_BLOCK,)),
        (Direction.RIP, (2440, 1220), 49, (Caution.PUSH_BLOCK, Caution.SUPPORT)),
        (Direction.RIP, (299, 200), 160, (Caution.SHORT,)),
        (Direction.RIP, (299, 200), 100, (Caution.PUSH_STICK, Caution.SHORT)),
        (Direction.RIP, (300, 200), 160, ()),
        (Direction.CROSSCUT, (1220, 800), 500, ()),
        (Direction.CROSSCUT, (200, 290), 160, (Caution.SHORT,)),
    ],
)
def test_a_cut_at_the_fence_is_flagged_at_the_limits_of_the_manuals(
    direction: Direction, size: tuple[int, int], distance: int, expected: tuple[Caution, ...]
) -> None:
    """Each limit, on it and just past it."""
    assert flags_of(direction, size, distance) == expected


def test_inch_jobs_have_inch_limits() -> None:
    """6, 12 and 60 in, not their conversions."""
    assert flags_of(Direction.RIP, (13, 9), 6, Units.INCH) == ()
    assert flags_of(Direction.RIP, (11, 9), 5, Units.INCH) == (Caution.PUSH_STICK, Caution.SHORT)
    assert flags_of(Direction.RIP, (60, 24), 20, Units.INCH) == ()
    assert flags_of(Direction.RIP, (61, 24), 20, Units.INCH) == (Caution.SUPPORT,)


def test_the_store_has_its_own_saw() -> None:
    """A cut made where the sheet is bought carries no marks."""
    assert flags_of(Direction.RIP, (2440, 1220), 20, device=Device.STORE) == ()


def test_stop_and_guide_need_nothing_to_push_with() -> None:
    """A sled carries the piece, whose far ends want support; a guided saw is moved over it."""
    wide = (Direction.CROSSCUT, (1600, 280), 40)
    assert flags_of(*wide, device=Device.STOP) == (Caution.SUPPORT,)
    assert flags_of(*wide, device=Device.GUIDE) == ()


@pytest.mark.parametrize(("size", "expected"), [(503, ()), (502, (Caution.UNDER_KERF,)), (504, ())])
def test_half_a_blade_in_air_is_marked(size: int, expected: tuple[Caution, ...]) -> None:
    """Of a kerf of 3, two are left beyond 500, or all three: common practice."""
    for device in (Device.FENCE, Device.STOP, Device.GUIDE):
        assert flags_of(Direction.RIP, (900, size), 500, device=device) == expected


def test_an_unsafe_cut_is_marked_first() -> None:
    """A cut beyond the limits of every saw says so, and not how to push it."""
    cut = (Direction.CROSSCUT, (1600, 280), 40)
    for device in (Device.FENCE, Device.STOP):
        assert flags_of(*cut, device=device, unsafe=True) == (Caution.UNSAFE, Caution.SUPPORT)
    assert flags_of(*cut, device=Device.GUIDE, unsafe=True) == (Caution.UNSAFE,)


def test_every_flag_is_explained() -> None:
    """The legend has a line for each mark."""
    for units in Units:
        assert [flag for flag, _ in legend(units)] == list(Caution)


@pytest.mark.parametrize(
    ("units", "thickness", "is_marked"),
    [
        (Units.MM, Fraction(3), True),
        (Units.MM, Fraction(6), False),
        (Units.INCH, Fraction(1, 8), True),
        (Units.INCH, Fraction(1, 4), False),
    ],
)
def test_thin_stock_is_marked(units: Units, thickness: Fraction, is_marked: bool) -> None:
    """Thinner than 6 mm or 1/4 in bends and slides under the fence: common practice."""
    zero, large = Fraction(0), Fraction(700)
    piece = Piece("A", zero, zero, large, large)
    cut = Cut(1, "A", Direction.RIP, Purpose.PART, piece, None)
    for device in Device:
        for distance in (5, 300):
            found = cautions_of(
                set_at(device, cut, distance), cut, piece, units, thickness=thickness
            )
            assert (Caution.THIN in found) is (is_marked and device is not Device.STORE)
    assert any(flag is Caution.THIN for flag, _ in legend(units))

from __future__ import annotations

from fractions import Fraction

import pytest

from cutlist.model.job import SawKind
from cutlist.model.plan import Cut, Direction, Piece, Place, Purpose, SawSetup
from cutlist.model.sawing import Caution, Hazard
from cutlist.planning.instructions.cautions import cautions_of
from cutlist.telling.cut_cautions import legend
from cutlist.units.system import Units


def flags_of(
    direction: Direction,
    size: tuple[int, int],
    distance: int,
    units: Units = Units.MM,
    place: Place = Place.SHOP,
    kind: SawKind | None = None,
    unsafe: bool = False,
) -> tuple[Caution, ...]:
    """Flag the cut of a piece of a size at a distance."""
    zero = Fraction(0)
    piece = Piece("A", zero, zero, Fraction(size[0]), Fraction(size[1]))
    kept = Piece("A1", zero, zero, Fraction(1), Fraction(1))
    hazards = (Hazard.UNSTEADY,) if unsafe else ()
    cut = Cut(1, "A", direction, Purpose.PART, kept, None, hazards=hazards)
    setting = SawSetup(
        1, place, "table saw", Fraction(distance), Fraction(3), (cut,), mark=Fraction(1)
    )
    return cautions_of(setting, cut, piece, units, kind)


# Limits as in the warnings of table-saw manuals: push stick below 150 mm or 6 in, push block below
# 50 mm or 2 in, workpieces shorter than 300 mm or 12 in; the rules
# for sled, guided saw and support are common practice.
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
        (Direction.RIP, (1500, 1220), 10, (Caution.PUSH_BLOCK,)),
        (Direction.RIP, (1500, 1220), 9, (Caution.GUIDED_SAW,)),
        (Direction.CROSSCUT, (1500, 600), 9, (Caution.GUIDED_SAW,)),
        (Direction.RIP, (299, 200), 160, (Caution.SHORT,)),
        (Direction.RIP, (299, 200), 100, (Caution.PUSH_STICK, Caution.SHORT)),
        (Direction.RIP, (300, 200), 160, ()),
        (Direction.RIP, (400, 500), 160, (Caution.SLED,)),
        (Direction.CROSSCUT, (1500, 600), 500, (Caution.SLED,)),
        (Direction.CROSSCUT, (2000, 600), 500, (Caution.SLED, Caution.SUPPORT)),
        (Direction.CROSSCUT, (2000, 601), 500, (Caution.GUIDED_SAW,)),
        (Direction.CROSSCUT, (2440, 1220), 500, (Caution.GUIDED_SAW,)),
        (Direction.RIP, (800, 1220), 1180, (Caution.GUIDED_SAW,)),
        (Direction.CROSSCUT, (600, 600), 300, ()),
        (Direction.CROSSCUT, (200, 290), 160, (Caution.SHORT,)),
    ],
)
def test_a_cut_is_flagged_at_the_limits_of_the_manuals(
    direction: Direction, size: tuple[int, int], distance: int, expected: tuple[Caution, ...]
) -> None:
    """Each limit, on it and just past it."""
    assert flags_of(direction, size, distance) == expected


def test_inch_jobs_have_inch_limits() -> None:
    """6, 12, 24 and 60 in, not their conversions."""
    assert flags_of(Direction.RIP, (13, 7), 6, Units.INCH) == ()
    assert flags_of(Direction.RIP, (11, 7), 5, Units.INCH) == (Caution.PUSH_STICK, Caution.SHORT)
    assert flags_of(Direction.CROSSCUT, (60, 24), 20, Units.INCH) == (Caution.SLED,)
    assert flags_of(Direction.CROSSCUT, (60, 25), 20, Units.INCH) == (Caution.GUIDED_SAW,)
    assert flags_of(Direction.CROSSCUT, (61, 24), 20, Units.INCH) == (Caution.SLED, Caution.SUPPORT)


def test_the_store_has_its_own_saw() -> None:
    """A cut made where the sheet is bought carries no marks."""
    assert flags_of(Direction.RIP, (2440, 1220), 20, place=Place.STORE) == ()


def test_a_listed_saw_needs_no_mark_for_another() -> None:
    """Where the job lists its saws a cut on the sled is not sent there, nor along the fence."""
    wide = (Direction.CROSSCUT, (1600, 300), 100)
    assert flags_of(*wide) == (Caution.SLED, Caution.SUPPORT)
    assert flags_of(*wide, kind=SawKind.SLED) == (Caution.SUPPORT,)
    assert flags_of(*wide, kind=SawKind.TRACK_SAW) == (Caution.SUPPORT,)
    narrow = (Direction.RIP, (900, 300), 40)
    assert flags_of(*narrow, kind=SawKind.TABLE_SAW) == (Caution.PUSH_BLOCK,)
    assert flags_of(*narrow, kind=SawKind.CIRCULAR_SAW) == ()


def test_an_unsafe_cut_is_marked_first() -> None:
    """A cut that no saw makes safely says so, whatever else it asks for."""
    cut = (Direction.CROSSCUT, (1600, 300), 100)
    for kind in SawKind:
        assert flags_of(*cut, kind=kind, unsafe=True) == (Caution.UNSAFE, Caution.SUPPORT)


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
    for kind in (None, *SawKind):
        for distance in (5, 300):
            setting = SawSetup(
                1, Place.SHOP, "saw", Fraction(distance), Fraction(3), (cut,), mark=Fraction(1)
            )
            found = cautions_of(setting, cut, piece, units, kind, thickness=thickness)
            assert (Caution.THIN in found) is is_marked
    setting = SawSetup(1, Place.STORE, "saw", large, Fraction(3), (cut,), mark=Fraction(1))
    assert cautions_of(setting, cut, piece, units, thickness=thickness) == ()
    assert any(flag is Caution.THIN for flag, _ in legend(units))

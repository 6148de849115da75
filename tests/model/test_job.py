"""What a job says of its shop, and what follows where it says nothing."""

from __future__ import annotations

from dataclasses import fields, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from cutlist.model.job import (
    USUAL_LIMITS,
    Job,
    Saw,
    SawKind,
    UsualLimits,
    home_shop,
    layout_saw,
)
from cutlist.model.sawing import Device
from cutlist.units.system import Units

OWN = Saw(Fraction(3), Fraction(650), Fraction(1, 2))
BARE = Job("Shelf", Units.MM, OWN, (), ())


@pytest.mark.parametrize("units", Units)
def test_a_home_shop_has_the_usual_limits(units: Units) -> None:
    """Fence, stop and guide, each with what is usual for its kind; the reach is the saw's own."""
    shop = home_shop(OWN, units)
    assert [saw.kind for saw in shop] == [SawKind.TABLE_SAW, SawKind.SLED, SawKind.CIRCULAR_SAW]
    names = [one.name for one in fields(UsualLimits)]
    usual = [USUAL_LIMITS[units][saw.kind] for saw in shop]
    usual[0] = replace(usual[0], max_rip=OWN.max_rip)
    assert [[getattr(saw, name) for name in names] for saw in shop] == [
        [getattr(one, name) for name in names] for one in usual
    ]
    assert {(saw.kerf, saw.scale) for saw in shop} == {(OWN.kerf, OWN.scale)}


def test_usual_limits_in_inches() -> None:
    """The figures told in the job file's page: common practice, but for the edge of 12 in.

    That edge is where the warnings common to table-saw manuals begin to call work short.
    """
    usual: Any = USUAL_LIMITS[Units.INCH]
    fence, sled = usual[SawKind.TABLE_SAW], usual[SawKind.SLED]
    gauge, guide = usual[SawKind.MITRE_GAUGE], usual[SawKind.TRACK_SAW]
    assert (fence.smallest_piece, fence.steady_edge) == (12, 24)
    assert fence.thinnest_strip == Fraction(3, 8)
    assert (sled.max_rip, sled.longest_cut, sled.smallest_piece) == (48, 24, 0)
    assert sled.largest_pieces == ((60, 24), (97, 12))
    assert (gauge.max_rip, gauge.longest_cut, gauge.largest_pieces) == (48, 12, ((36, 12),))
    assert guide == UsualLimits(smallest_piece=Fraction(8)) == usual[SawKind.CIRCULAR_SAW]


def test_the_names_of_a_home_shop() -> None:
    """They stand in the plan, and are those of the plan format."""
    assert [saw.name for saw in BARE.tools] == ["table saw", "sled", "guided saw"]
    assert [saw.device for saw in BARE.tools] == [Device.FENCE, Device.STOP, Device.GUIDE]
    assert [saw.serves_one_cut for saw in BARE.tools] == [False, False, True]


def test_a_list_of_saws_is_all_there_is() -> None:
    """Nothing is added to what is listed, not even to a table saw by itself."""
    saws = (replace(OWN, steady_edge=Fraction(600)),)
    assert replace(BARE, saw=layout_saw(saws), saws=saws).tools == saws


@pytest.mark.parametrize(
    ("of_the_saw", "of_the_job", "minutes"),
    [
        (None, None, [3, 2, 5]),
        (None, Fraction(4), [4, 4, 4]),
        (Fraction(1), Fraction(4), [1, 1, 1]),
        (Fraction(0), None, [0, 0, 0]),
    ],
)
def test_minutes_of_a_setup(
    of_the_saw: Fraction | None, of_the_job: Fraction | None, minutes: list[int]
) -> None:
    """The saw's own figure, else the job's, else that of the device (common practice)."""
    job = replace(BARE, minutes_per_setup=of_the_job)
    shop = [replace(saw, minutes_per_setup=of_the_saw) for saw in job.tools]
    assert [job.minutes_of(saw) for saw in shop] == minutes


def test_price_of_minutes() -> None:
    """By hand: 90 of 60 minutes at 40.50 are 60.75; without a rate time has no price."""
    assert BARE.price_of(Fraction(90)) is None
    assert replace(BARE, hourly_rate=Decimal("40.50")).price_of(Fraction(90)) == Decimal("60.75")

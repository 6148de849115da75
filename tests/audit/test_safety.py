"""Flags of cuts that no saw makes safely, on the plain plan made with a table saw and a sled."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from cutlist.audit import audit
from cutlist.model.job import Saw, SawKind
from cutlist.model.plan import Plan
from cutlist.model.sawing import Device, Hazard
from cutlist.output.plan_json import to_document
from cutlist.planning.instructions.instruct import instructed
from tests.audit.edits import cut_of, with_cut, with_job, with_setting, with_totals
from tests.audit.plans import SLED, SOUND, TABLE, by_device, f
from tests.replay import replay

RIPS, CROSSCUTS = (1, 2), (3, 4, 5, 6)


def in_shop(table: Saw = TABLE, sled: Saw = SLED) -> Plan:
    """Return the plain plan: rips at 14 1/2 with the one saw, crosscuts of strips with the other.

    Devices and figures are those of the saws.
    """
    plan = with_job(SOUND["plain"](), saws=(table, sled))
    plan = with_setting(plan, 1, device=table.device)
    for number in (2, 3):
        plan = with_setting(plan, number, tool=sled.name, device=sled.device)
    used = [setting.device for setting in plan.settings]
    minutes = sum((plan.job.minutes_of(saw) for saw in (table, sled, sled)), f(6))
    counts = by_device(*(used.count(one) for one in (Device.FENCE, Device.STOP, Device.GUIDE)))
    return instructed(with_totals(plan, setups_by_device=counts, minutes=minutes))


def codes(plan: Plan) -> list[int]:
    """Return the codes of the audit; the independent replay has to agree that there are any."""
    found = [int(finding.code) for finding in audit(plan)]
    assert bool(found) == bool(replay(to_document(plan), plan.job))
    return found


def test_safe_cuts_need_no_flag() -> None:
    """Rips of 96 along the fence and crosscuts of 14 1/2 on the sled are safe."""
    assert codes(in_shop()) == []


@pytest.mark.parametrize(
    ("table", "sled", "cuts", "hazard"),
    [
        # The plan's crosscuts are 14 1/2 long, its rips 96 long at 14 1/2.
        ({}, {"longest_cut": f("14.5")}, (), Hazard.TOO_LONG),
        ({}, {"longest_cut": f("14.25")}, CROSSCUTS, Hazard.TOO_LONG),
        # Cuts 5 and 6 take pieces 61 3/8 long on the sled, 3 and 4 whole strips of 96.
        ({}, {"smallest_piece": f("61.375")}, (), Hazard.TOO_SMALL),
        ({}, {"smallest_piece": f("61.5")}, (5, 6), Hazard.TOO_SMALL),
        ({}, {"largest_pieces": ((f(96), f("14.5")),)}, (), Hazard.TOO_LARGE),
        ({}, {"largest_pieces": ((f("95.5"), f(48)),)}, (3, 4), Hazard.TOO_LARGE),
        ({}, {"largest_pieces": ((f(96), f(14)),)}, CROSSCUTS, Hazard.TOO_LARGE),
        (
            {},
            {"largest_pieces": ((f("61.375"), f(24)), (f(97), f(12)))},
            (3, 4),
            Hazard.TOO_LARGE,
        ),
        ({"smallest_piece": f(96)}, {}, (), Hazard.TOO_SMALL),
        ({"smallest_piece": f(97)}, {}, RIPS, Hazard.TOO_SMALL),
        ({"thinnest_strip": f("14.5")}, {}, (), Hazard.TOO_THIN),
        ({"thinnest_strip": f(15)}, {}, RIPS, Hazard.TOO_THIN),
        ({}, {"kind": SawKind.TRACK_SAW, "repeats": True, "smallest_piece": f("14.5"),
              "largest_pieces": ()}, (), Hazard.TOO_SMALL),
        ({}, {"kind": SawKind.TRACK_SAW, "repeats": True, "smallest_piece": f(15),
              "largest_pieces": ()}, CROSSCUTS, Hazard.TOO_SMALL),
        ({}, {"kind": SawKind.TABLE_SAW, "largest_pieces": ()}, CROSSCUTS, Hazard.UNSTEADY),
        ({}, {"kind": SawKind.TABLE_SAW, "largest_pieces": (), "steady_edge": f("14.5")}, (),
         Hazard.UNSTEADY),
        ({}, {"kind": SawKind.TABLE_SAW, "largest_pieces": (), "steady_edge": f(15)}, CROSSCUTS,
         Hazard.UNSTEADY),
    ],
)  # fmt: skip
def test_each_hazard_is_flagged(
    table: dict[str, Any], sled: dict[str, Any], cuts: tuple[int, ...], hazard: Hazard
) -> None:
    """A cut beyond a limit has to be flagged, and each flag needs its cause."""
    plan = in_shop(replace(TABLE, **table), replace(SLED, **sled))
    assert codes(plan) == [309] * len(cuts)
    told = plan
    for number in cuts:
        told = with_cut(told, number, hazards=(hazard,))
    told = instructed(told)
    assert codes(told) == []
    others = cut_of(told, 2).hazards
    assert codes(with_cut(told, 2, hazards=(*others, Hazard.UNSTEADY))) == [310]


def test_each_saw_has_its_own_kerf_reach_and_scale() -> None:
    """What one saw may do says nothing of another one."""
    assert codes(in_shop(sled=replace(SLED, kerf=f("3/32")))) == [304, 304]
    assert codes(in_shop(sled=replace(SLED, max_rip=f(34)))) == [305]
    assert codes(in_shop(table=replace(TABLE, max_rip=f(14)))) == [305]
    # The rips at 14 1/2 lie on the table saw's marks; what the sled's stop shows is its own.
    assert codes(in_shop(table=replace(TABLE, scale=Fraction(1, 2)))) == []


def test_the_same_distance_on_two_saws_is_two_settings() -> None:
    """Neighbours that share place and distance but not the tool do not repeat a setting."""
    plan = in_shop()
    renamed = with_setting(plan, 2, tool="table saw", distance=f(34.5))
    assert 303 not in {int(finding.code) for finding in audit(renamed)}


def test_a_flag_told_twice() -> None:
    """A hazard is flagged once."""
    plan = in_shop(table=replace(TABLE, thinnest_strip=f(15)))
    twice = with_cut(plan, 1, hazards=(Hazard.TOO_THIN, Hazard.TOO_THIN))
    told = with_cut(twice, 2, hazards=(Hazard.TOO_THIN,))
    assert [int(finding.code) for finding in audit(told)] == [310]

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Match
from cutlist.model.matches import Matched
from cutlist.model.plan import Cut, Direction, Piece, Plan, Purpose
from cutlist.model.sawing import Device
from cutlist.planning.instructions.instruct import instructed
from cutlist.telling.devices import (
    device_runs,
    devices,
    has_mixed,
    kerf_words,
    match_devices,
    tool_words,
    under_words,
)
from tests.drawing.extras import with_saws
from tests.drawing.plans import all_plans, market_stall
from tests.drawing.random_plans import random_plan
from tests.drawing.test_sequence_pages import shared_distance


def check_runs(plan: Plan) -> int:
    """Check that cuts stand device by device; return the most runs of a set-up."""
    for setting in plan.settings:
        runs = device_runs(setting)
        assert all(one[0] is not other[0] for one, other in pairwise(runs))
        waiting = {piece.name for cut in setting.cuts for piece in cut.makes}
        for cut in setting.cuts:
            assert cut.piece not in waiting
            waiting -= {piece.name for piece in cut.makes}
    numbers = [cut.number for setting in plan.settings for cut in setting.cuts]
    assert numbers == list(range(1, len(numbers) + 1))
    return max(len(device_runs(one)) for one in plan.settings)


@pytest.mark.parametrize("seed", [0, 14, 21, 211])
def test_no_run_cuts_a_piece_before_it_is_made(seed: int) -> None:
    """Each cut is in one run of its own device, after the cut that makes its piece."""
    assert check_runs(random_plan(seed)) > 1


@pytest.mark.parametrize("name", sorted(set(all_plans()) - {"uncut"}))
def test_one_device_makes_one_run(name: str) -> None:
    """Where no setting is on two devices its cuts stay together."""
    assert check_runs(all_plans()[name]) == 1


def square(name: str, first: int) -> tuple[Cut, ...]:
    """Cut a square of 500 at 200 by a rip, a crosscut of the rest and a rip of the square left."""

    def piece(tail: str, x: int, y: int, length: int, width: int) -> Piece:
        return Piece(name + tail, Fraction(x), Fraction(y), Fraction(length), Fraction(width))

    strip, rest = piece("1", 0, 0, 500, 200), piece("2", 0, 200, 500, 300)
    end, left = piece("2a", 0, 200, 200, 300), piece("2b", 200, 200, 300, 300)
    last = piece("2b1", 200, 200, 300, 200), piece("2b2", 200, 400, 300, 100)
    return (
        Cut(first, name, Direction.RIP, Purpose.PART, strip, rest),
        Cut(first + 1, rest.name, Direction.CROSSCUT, Purpose.PART, end, left),
        Cut(first + 2, left.name, Direction.RIP, Purpose.PART, *last),
    )


def test_a_device_comes_back_for_what_another_made() -> None:
    """Two squares, cut alike: fence for both, then the stop, and the fence for what it left."""
    plan = shared_distance()
    side = Fraction(500)
    work = tuple(
        replace(plan.workpieces[0], piece=name, length=side, width=side) for name in ("A", "B")
    )
    setting = replace(plan.settings[0], kerf=Fraction(0), cuts=(*square("A", 1), *square("B", 4)))
    bare = replace(plan, workpieces=work, setups=(setting,), panels=(), leftovers=())
    (setting,) = instructed(bare).settings
    found = [(device, [cut.piece for cut in cuts]) for device, cuts in device_runs(setting)]
    assert found == [
        (Device.FENCE, ["A", "B"]),
        (Device.STOP, ["A2", "B2"]),
        (Device.FENCE, ["A2b", "B2b"]),
    ]
    assert [cut.number for cut in setting.cuts] == [1, 2, 3, 4, 5, 6]


def test_a_setting_is_named_by_its_devices() -> None:
    """Crosscuts over 24 in long on pieces longer still are guided, and nothing says fence."""
    ledger = read_ledger(market_stall())
    named = {
        devices(one): (tool_words(ledger, one), under_words(one)) for one in ledger.plan.settings
    }
    assert named[(Device.FENCE,)] == ("table saw", "fence to blade")
    assert named[(Device.GUIDE,)] == ("guided saw", "edge to cut")


def test_devices_that_share_a_setting_are_all_named() -> None:
    """A rip along the fence and a crosscut at a stop, at one distance."""
    ledger = read_ledger(shared_distance())
    setting = ledger.plan.settings[0]
    assert tool_words(ledger, setting) == "table saw, sled"
    assert under_words(setting) == "fence and stop to blade"
    assert [device for device, _ in device_runs(setting)] == [Device.FENCE, Device.STOP]
    assert has_mixed(ledger)


def test_listed_saws_are_never_mixed() -> None:
    """Where the job lists its saws each setting has one, of one kind."""
    ledger = read_ledger(with_saws(market_stall()))
    assert not has_mixed(ledger)
    assert all(tool_words(ledger, one) == one.tool for one in ledger.plan.settings)


def test_what_sizes_a_match_is_told() -> None:
    """The tray is as long as it is wide, cut by the fence and by the stop; no other part is."""
    plan = shared_distance()
    job = replace(plan.job, matches=(Match("both", Fraction(200), ("tray",)),))
    ledger = read_ledger(replace(plan, job=job))
    matched = Matched("both", Fraction(200), 1, (1,), 0)
    assert match_devices(ledger, matched, 1) == (Device.FENCE, Device.STOP)
    job = replace(plan.job, matches=(Match("both", Fraction(200), ("lid",)),))
    assert match_devices(read_ledger(replace(plan, job=job)), matched, 1) == ()


def test_each_saw_s_kerf_is_told() -> None:
    """The kerf that the plan reckons with, once for each saw, and how far it can be set."""
    plan = market_stall()
    lead = 'Table saw: kerf 1/8" (reckoned for sled and guided saw too)'
    assert kerf_words(read_ledger(plan)).startswith(lead)
    plan = replace(plan, job=replace(plan.job, saw=replace(plan.job.saw, max_rip=Fraction(52))))
    assert kerf_words(read_ledger(plan)) == f'{lead}, set to 52" at most.'
    plan = with_saws(market_stall())
    words = kerf_words(read_ledger(plan)).casefold()
    assert all(f"{one.tool}: kerf " in words for one in plan.settings)

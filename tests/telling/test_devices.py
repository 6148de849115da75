"""What set-ups are made with, in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from cutlist.model.sawing import Device
from cutlist.telling.devices import (
    COMES_OFF,
    UNDER,
    by_device_words,
    cut_word,
    kerf_words,
    laid_anew,
    minutes_words,
)
from tests.audit.plans import SOUND
from tests.drawing.extras import with_saws
from tests.drawing.plans import all_plans, broken_down, market_stall


def words_by_device(plan: Plan) -> dict[Device, set[str]]:
    """Return how the cuts of a plan are called at each device."""
    found: dict[Device, set[str]] = {}
    for setting in plan.settings:
        for cut in setting.cuts:
            found.setdefault(setting.device, set()).add(cut_word(setting, cut))
    return found


def test_a_cut_is_called_by_what_the_hands_do() -> None:
    """Along the fence it is a rip whichever way the grain runs, so is each other device's cut."""
    # All cuts of these plans at the fence run across the grain, at the guide both ways.
    assert words_by_device(SOUND["turned_panels"]()) == {Device.FENCE: {"rip"}}
    assert words_by_device(SOUND["along_a_guide"]()) == {
        Device.GUIDE: {"guided cut"},
        Device.FENCE: {"rip"},
    }
    assert words_by_device(SOUND["two_materials"]())[Device.STOP] == {"crosscut"}


def test_the_store_s_cuts_go_by_the_grain() -> None:
    """Nobody says how the store holds a sheet."""
    plan = broken_down()
    assert words_by_device(plan)[Device.STORE] == {
        cut.direction.value for cut in plan.settings[0].cuts
    }


def test_each_device_has_its_words() -> None:
    """What is measured, and what comes off where."""
    for device in Device:
        assert UNDER[device]
        assert COMES_OFF[device].startswith("comes off")


def test_set_ups_are_told_by_device() -> None:
    """Those that there are, the fence first."""
    counts = ((Device.FENCE, 5), (Device.STOP, 6), (Device.GUIDE, 1))
    assert by_device_words(counts) == "5 fence, 6 stop, 1 guide"
    assert by_device_words(((Device.FENCE, 2), (Device.STOP, 0))) == "2 fence"
    assert by_device_words(()) == ""


@pytest.mark.parametrize(
    ("minutes", "words"),
    [("0", "0 min"), ("58", "58 min"), ("58.4", "58 min"), ("119", "119 min"), ("120", "2 h"),
     ("125", "2 h 5 min")],
)  # fmt: skip
def test_a_time_is_told_to_the_minute(minutes: str, words: str) -> None:
    """Long ones in hours."""
    assert minutes_words(Fraction(minutes)) == words


def test_a_guide_is_laid_anew_unless_it_repeats() -> None:
    """Of a home shop's tools it is the guided saw."""
    assert laid_anew(read_ledger(SOUND["along_a_guide"]())) == {"guided saw"}
    assert laid_anew(read_ledger(with_saws(market_stall()))) == frozenset()


@pytest.mark.parametrize("name", sorted(set(all_plans()) - {"uncut"}))
def test_each_tool_s_kerf_is_told(name: str) -> None:
    """The kerf that the plan reckons with, once for each tool that is used."""
    plan = all_plans()[name]
    words = kerf_words(read_ledger(plan)).casefold()
    tools = {one.tool for one in plan.settings if one.tool != "panel saw"}
    assert tools
    assert all(words.count(f"{tool}: kerf ") == 1 for tool in tools)


def test_how_far_a_tool_can_be_set_is_told() -> None:
    """The fence's reach is the job's, the stop's is the usual one."""
    plan = market_stall()
    plan = replace(plan, job=replace(plan.job, saw=replace(plan.job.saw, max_rip=Fraction(52))))
    words = kerf_words(read_ledger(plan))
    assert 'able saw: kerf 1/8", set to 52" at most' in words
    assert 'led: kerf 1/8", set to 48" at most' in words
    assert 'uided saw: kerf 1/8"' in words

"""Why a setting comes now, why the saw comes back, and what matches, in words."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.matching import matched
from cutlist.ledger.visits import dimensions
from cutlist.model.job import Match
from cutlist.model.matches import Matched
from cutlist.model.plan import Place, Plan
from cutlist.model.sawing import Device
from cutlist.telling.reasons import match_notes, match_words, reason_words, return_words, visit_rows
from tests.audit.plans import SOUND
from tests.drawing.plans import all_plans, many_cuts, market_stall


def apart() -> Plan:
    """Two ends cut at two visits: settings 14 1/2, 34 1/2, 30, 34 1/2 and 30."""
    return SOUND["matching_apart"]()


def test_the_first_setting_needs_nothing_before() -> None:
    """What can be made at once says so, and names the settings that wait for its pieces."""
    ledger = read_ledger(apart())
    words = [reason_words(ledger, setting) for setting in ledger.plan.settings]
    assert words == [
        "Nothing has to come before; A1 goes on at setting 2, A2a at 4.",
        "Ready since setting 1; setting 3 waits for A1b.",
        "Ready since setting 2; nothing waits for it.",
        "Ready since setting 1; setting 5 waits for A2a2.",
        "Ready since setting 4; nothing waits for it.",
    ]


@pytest.mark.parametrize("name", sorted(all_plans()))
def test_reasons_name_earlier_and_later_settings(name: str) -> None:
    """Ready since one that comes before; nothing that waits comes before."""
    ledger = read_ledger(all_plans()[name])
    for setting in ledger.plan.settings:
        start, waiting = reason_words(ledger, setting).split("; ")
        if start.startswith("Ready"):
            assert int(start.split()[-1]) < setting.number
        for piece, number in re.findall(r"(\S+)(?: goe?s? on)? at (?:setting )?(\d+)", waiting):
            assert ledger.divided_by[piece][0].number == int(number) > setting.number
        numbers = waiting.split(" wait")[0].replace("–", " ").replace(",", " ").split()
        if " wait" in waiting:
            assert all(int(word) > setting.number for word in numbers if word.isdigit())


def test_many_pieces_are_counted() -> None:
    """More than three pieces are not named one by one."""
    ledger = read_ledger(many_cuts())
    words = [reason_words(ledger, setting) for setting in ledger.plan.settings]
    assert any(" of its pieces" in line for line in words)
    assert max(map(len, words)) < 100


def test_a_second_visit_says_what_it_waited_for() -> None:
    """The visit before, the piece, and the setting that made it."""
    assert return_words(read_ledger(apart())) == {
        4: 'Back at 34 1/2" (setting 2): its pieces were there already.',
        5: 'Back at 30" (setting 3): A2a2 came off only at setting 4.',
    }


def test_a_second_visit_may_be_another_saw() -> None:
    """A distance set on another saw does not come back to it."""
    plan = apart()
    again = replace(plan.settings[3], tool="table saw", device=Device.FENCE)
    plan = replace(plan, setups=(*plan.settings[:3], again, plan.settings[4]))
    assert set(return_words(read_ledger(plan))) == {5}
    assert [row[1:3] for row in visit_rows(read_ledger(plan))] == [
        ('30" on the sled', "3, 5"),
        ('table saw 14 1/2", 34 1/2"; sled 34 1/2"', "one each"),
    ]


def test_a_guide_laid_anew_comes_back_to_nothing() -> None:
    """Three cuts at 650 along a guide are three set-ups, and no distance is set again."""
    ledger = read_ledger(SOUND["along_a_guide"]())
    assert return_words(ledger) == {}
    assert [row[1:3] for row in visit_rows(ledger)] == [("table saw 550 mm", "one each")]


def test_every_revisit_has_its_words() -> None:
    """On each plan the settings that come back have words, and no others."""
    for plan in all_plans().values():
        ledger = read_ledger(plan)
        back = set()
        for one in dimensions(ledger, Place.SHOP):
            by_tool = Counter[str]()
            for visit in one.visits:
                by_tool[visit.tool] += 1
                if by_tool[visit.tool] > 1 and visit.tool != "guided saw":
                    back.add(visit.setting)
        assert set(return_words(ledger)) == back


def test_visits_are_listed_most_first() -> None:
    """Distances set several times stand by themselves, all others in one row; none is left out."""
    rows = visit_rows(read_ledger(market_stall()))
    visits = [int(row[0]) for row in rows]
    assert visits == sorted(visits, reverse=True)
    assert visits.count(1) == 1
    assert rows[-1][2] == "one each"
    named = sum(len(re.findall("[,;]|$", row[1])) for row in rows)
    settings = market_stall().settings
    stays = {(one.tool, one.distance) for one in settings if one.device is not Device.GUIDE}
    assert named == len(stays)


def test_a_match_is_told_as_it_is() -> None:
    """One setting, two visits, or sides that no setting gave."""
    plan = SOUND["matching"]()
    assert match_words(read_ledger(plan), plan.matches[0]) == "at setting 1"
    assert match_notes(read_ledger(plan), plan.settings[0]) == [
        "All panels of depth match from here."
    ]
    plan = apart()
    assert match_words(read_ledger(plan), plan.matches[0]).startswith(
        "not in one visit: settings 2, 4"
    )
    assert match_notes(read_ledger(plan), plan.settings[1]) == [
        "Panels of ends come from setting 4 too: compare."
    ]
    assert match_notes(read_ledger(plan), plan.settings[2]) == []
    left = Matched("ends", Fraction(69, 2), 2, (2,), 1)
    assert match_words(read_ledger(plan), left) == (
        "from setting 2; 1 panel side comes from no setting but is what a cut leaves, or the "
        "stock's own: compare them"
    )
    saws = tuple(replace(saw, max_rip=Fraction(30)) for saw in plan.job.saws)
    short = replace(plan, job=replace(plan.job, saws=saws))
    assert match_words(read_ledger(short), Matched("ends", Fraction(69, 2), 2, (), 2)) == (
        "2 panel sides come from no setting but are what a cut leaves, or the stock's own "
        "(no saw of the shop reaches that far): compare them"
    )
    note = match_notes(read_ledger(replace(plan, matches=(left,))), plan.settings[1])
    assert note == ["Panels of ends match from here, but for those that no setting gave."]


def test_panels_along_a_guide_are_not_from_one_setting() -> None:
    """The lids' lengths come from guided cuts, their widths from the fence."""
    plan = SOUND["along_a_guide"]()
    wanted = (Match("long", Fraction(650), ("lid",)), Match("wide", Fraction(550), ("lid",)))
    asked = replace(plan, job=replace(plan.job, matches=wanted))
    plan = replace(asked, matches=matched(read_ledger(asked)))
    ledger = read_ledger(plan)
    long, wide = plan.matches
    assert long == Matched("long", Fraction(650), 3, (), 0, (2, 3, 4))
    assert not long.in_one_visit
    assert match_words(ledger, long) == (
        "along a guide, laid anew for each cut: settings 2–4, so not from one setting: compare them"
    )
    assert match_notes(ledger, plan.settings[2]) == [
        "Panels of long are cut along a guide: they are not from one setting. Compare."
    ]
    assert match_words(ledger, wide) == "at setting 8"
    assert match_notes(ledger, plan.settings[7]) == ["All panels of wide match from here."]
    assert audit(plan) == ()
    told = replace(plan, matches=(replace(long, settings=(2, 3, 4), guided=()), wide))
    assert {int(one.code) for one in audit(told)} == {413}


def test_what_the_store_sets_is_no_visit_of_the_shop() -> None:
    """A distance set twice at the store and once at home is set once: no saw comes back to it."""
    plan = apart()
    first, *others = plan.settings
    distance = others[0].distance
    at_store = replace(first, place=Place.STORE, tool="store saw", distance=distance)
    again = replace(others[2], place=Place.STORE, tool="store saw")
    moved = replace(plan, setups=(at_store, *others[:2], again, *others[3:]))
    rows = visit_rows(read_ledger(moved))
    assert [row[0] for row in rows] == ["2", "1"]
    assert '34 1/2"' in rows[1][1]
    assert set(return_words(read_ledger(moved))) == {5}

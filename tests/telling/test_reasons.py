"""Why a setting comes now, why the saw comes back, and what matches, in words."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.visits import dimensions
from cutlist.model.job import Match
from cutlist.model.matches import Matched
from cutlist.model.plan import Place, Plan
from cutlist.telling.reasons import match_notes, match_words, reason_words, return_words, visit_rows
from tests.audit.plans import SOUND
from tests.drawing.plans import all_plans, many_cuts, market_stall
from tests.drawing.test_sequence_pages import shared_distance


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
    """A distance set on another saw waited for nothing."""
    plan = apart()
    again = replace(plan.settings[3], tool="sled")
    plan = replace(plan, setups=(*plan.settings[:3], again, plan.settings[4]))
    assert return_words(read_ledger(plan))[4] == 'Back at 34 1/2" (setting 2): now on the sled.'
    assert [row[2] for row in visit_rows(read_ledger(plan))] == [
        "3, 5",
        "2 (table saw), 4 (sled)",
        "one each",
    ]


def test_every_revisit_has_its_words() -> None:
    """On each plan the settings that come back have words, and no others."""
    for plan in all_plans().values():
        back = {v.setting for one in dimensions(read_ledger(plan)) for v in one.visits[1:]}
        assert set(return_words(read_ledger(plan))) == back


def test_visits_are_listed_most_first() -> None:
    """Distances set several times stand by themselves, all others in one row; none is left out."""
    rows = visit_rows(read_ledger(market_stall()))
    visits = [int(row[0]) for row in rows]
    assert visits == sorted(visits, reverse=True)
    assert visits.count(1) == 1
    assert rows[-1][2] == "one each"
    named = sum(len(row[1].split(", ")) for row in rows)
    assert named == len(dimensions(read_ledger(market_stall())))


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
    short = replace(plan, job=replace(plan.job, saw=replace(plan.job.saw, max_rip=Fraction(30))))
    assert match_words(read_ledger(short), Matched("ends", Fraction(69, 2), 2, (), 2)) == (
        "2 panel sides come from no setting but are what a cut leaves, or the stock's own "
        '(the fence reaches 30"): compare them'
    )
    note = match_notes(read_ledger(replace(plan, matches=(left,))), plan.settings[1])
    assert note == ["Panels of ends match from here, but for those that no setting gave."]


def test_a_match_by_fence_and_stop_is_to_be_checked() -> None:
    """A rip along the fence and a crosscut at a stop give one size only if both marks agree."""
    plan = shared_distance()
    job = replace(plan.job, matches=(Match("both", Fraction(200), ("tray",)),))
    matched = Matched("both", Fraction(200), 1, (1,), 0)
    plan = replace(plan, job=job, matches=(matched,))
    check = "with fence and stop set to the same mark: check one against the other"
    assert match_words(read_ledger(plan), matched) == f"at setting 1 {check}"
    assert match_notes(read_ledger(plan), plan.settings[0]) == [
        f"All panels of both match from here {check}."
    ]


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

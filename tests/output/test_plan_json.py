"""The plan as JSON: names, order and numbers of the plan format."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.output.plan_json import to_document, to_text
from tests.audit.edits import with_item
from tests.audit.plans import SOUND, f

KEYS = {
    "": "format job units step buy totals bounds workpieces settings panels offcuts",
    "job": "name sha256 text content",
    "buy": "sheet material thickness length width count price_each cost",
    "totals": "sheets cost setups setups_by_device store_setups minutes cuts parts part_area "
    "sheet_area kept_offcut_area waste_percent",
    "bounds": "cost setups setups_proven",
    "workpieces": "piece sheet from length width",
    "settings": "number place tool device distance mark kerf cuts",
    "panels": "part copy piece x y length width",
    "offcuts": "piece length width keep",
}
"""The format's keys in its order; further keys may follow."""


@pytest.mark.parametrize("name", SOUND)
@pytest.mark.parametrize("key", KEYS)
def test_keys_stand_in_the_order_of_the_format(name: str, key: str) -> None:
    """Every object starts with the format's keys, in its order."""
    document = to_document(SOUND[name]())
    value = document[key] if key else document
    items = value if isinstance(value, list) else [value]
    assert items or (key == "offcuts" and not SOUND[name]().leftovers) or key == "buy"
    for item in items:
        names = KEYS[key].split()
        assert list(item)[: len(names)] == names


def test_cut_reads_as_the_format_shows_it() -> None:
    """A cut is written key by key as in the format's example."""
    document = to_document(SOUND["plain"]())
    assert document["settings"][0]["cuts"][0] == {
        "number": 1,
        "piece": "A",
        "direction": "rip",
        "purpose": "part",
        "rides": "y0",
        "cautions": ["support"],
        "kept": {"piece": "A1", "x": 0, "y": 0, "length": 96, "width": 14.5},
        "rest": {"piece": "A2", "x": 0, "y": 14.625, "length": 96, "width": 33.375},
    }


def test_what_is_set_is_counted_by_device() -> None:
    """The totals have set-ups by device, those at the store apart, and the minutes they take."""
    totals = to_document(SOUND["along_a_guide"]())["totals"]
    assert totals["setups_by_device"] == {"fence": 1, "stop": 0, "guide": 7}
    assert (totals["setups"], totals["store_setups"], totals["minutes"]) == (8, 0, 48)
    totals = to_document(SOUND["store_and_vehicle"]())["totals"]
    assert (totals["setups"], totals["store_setups"], totals["minutes"]) == (3, 1, 16)


def test_cut_without_rest_has_no_rest_key() -> None:
    """Where the blade takes all that is left, the key is left out."""
    document = to_document(SOUND["blade_takes_the_rest"]())
    assert ["rest" in cut for s in document["settings"] for cut in s["cuts"]] == [False, False]


def test_whole_numbers_are_whole_and_others_full_doubles() -> None:
    """18 mm in inches keeps every digit of the double; 96 in stays a whole number."""
    plan = SOUND["plain"]()
    thickness = Fraction(18 * 10, 254)  # international inch of 1959, 25.4 mm exactly (from memory)
    document = to_document(with_item(plan, "buy", 0, thickness=thickness))
    line = document["buy"][0]
    assert line["thickness"] == pytest.approx(0.7086614173228346, abs=1e-16)
    assert json.dumps(line["length"]) == "96"
    assert json.dumps(line["price_each"]) == "74.0"


def test_sheet_from_offcut_and_without_price() -> None:
    """Stock on hand says so, and a sheet without a price has null."""
    document = to_document(SOUND["two_materials"]())
    assert [item["from"] for item in document["workpieces"]] == ["buy", "buy", "offcut"]
    assert document["buy"][1]["price_each"] is None


@pytest.mark.parametrize("name", SOUND)
def test_text_holds_the_document(name: str) -> None:
    """The text reads back as the document, ends in a newline, and is the same each time."""
    plan = SOUND[name]()
    text = to_text(plan)
    assert json.loads(text) == to_document(plan)
    assert text.endswith("}\n")
    assert text == to_text(SOUND[name]())


def test_text_has_one_line_for_each_cut_and_panel() -> None:
    """Rows stay on one line each, so that two plans can be compared line by line."""
    lines = to_text(SOUND["plain"]()).splitlines()
    assert sum('"direction"' in line for line in lines) == 6
    assert sum(line.startswith('    {"part"') for line in lines) == 4
    assert max(line.count('"kept"') for line in lines) == 1


def test_empty_lists_and_other_alphabets() -> None:
    """An empty list stays a list, and a name keeps its own letters."""
    plan = SOUND["blade_takes_the_rest"]()
    text = to_text(replace(plan, job=replace(plan.job, name="Hocker für Öse")))
    assert '"offcuts": []' in text
    assert "Hocker für Öse" in text


def test_money_is_written_to_the_cent() -> None:
    """A decimal price comes out as the shortest number that reads the same."""
    plan = with_item(SOUND["plain"](), "buy", 0, cost=Decimal("62.10"), length=f("0.1"))
    line = to_document(plan)["buy"][0]
    assert json.dumps([line["cost"], line["length"]]) == "[62.1, 0.1]"


def test_visits_and_matches_are_told() -> None:
    """Each distance with its settings, why one is set again, and whether matching parts match."""
    document = to_document(SOUND["matching_apart"]())
    assert document["visits"] == [
        {"distance": 14.5, "settings": [1], "waits": []},
        {"distance": 34.5, "settings": [2, 4], "waits": []},
        {
            "distance": 30,
            "settings": [3, 5],
            "waits": [{"setting": 5, "piece": "A2a2", "cuts": [5]}],
        },
    ]
    assert document["matches"] == [
        {
            "name": "ends",
            "distance": 34.5,
            "parts": ["end"],
            "panels": 2,
            "settings": [2, 4],
            "guided": [],
            "unset": 0,
            "one_visit": False,
        }
    ]
    assert "matches" not in to_document(SOUND["plain"]())

"""What the command tells of the rack, within the width of a terminal."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cutlist.rack import add, history, remove, undo
from cutlist.telling.rack_report import history_lines
from tests.rack.racks import DAY, empty, piece

LONG = "a very long board that stands behind the door of the workshop"


def test_history_within_a_terminal(tmp_path: Path) -> None:
    """Every name is there as a whole, short ones on one line, and no line is too long."""
    rack = empty(tmp_path)
    add(rack, [piece(f"rack {number}") for number in range(1, 31)], day=DAY)
    add(rack, [piece(LONG)], day=DAY)
    remove(rack, ["rack 7", LONG], day=DAY)
    undo(rack)
    lines = history_lines(history(rack), 80)
    assert max(map(len, lines)) <= 80
    text = "\n".join(lines)
    assert all(f"rack {number}" in text for number in range(1, 31))
    words = " ".join(text.split())
    assert f"remove undone off rack 7, {LONG}" in words
    (first, *_) = history_lines(history(rack)[:0])
    assert first == "nothing was ever put on the rack"


def test_history_without_a_width(tmp_path: Path) -> None:
    """Without a width each change is one line, and columns stand below their heads."""
    rack = empty(tmp_path)
    add(rack, [replace(piece(f"{LONG} {number}"), job="") for number in range(40)], day=DAY)
    remove(rack, [f"{LONG} 3"], day=DAY)
    head, second, first = history_lines(history(rack), None)
    start = head.index("on and off the rack")
    assert second[start:] == f"off {LONG} 3"
    assert first[start:].startswith(f"on {LONG} 0, {LONG} 1, ")

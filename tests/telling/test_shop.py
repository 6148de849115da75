"""What is said of the devices of a shop."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlist.telling.shop import setup_price_words, shop_lines
from cutlist.telling.tables import NO_BREAK
from tests.reading.jobs import SMALLEST, job_of


def lines_of(saws: str, folder: Path, more: str = "") -> list[str]:
    """Return the lines for the smallest job with another shop, in plain spaces."""
    job = job_of(SMALLEST.replace("saw: {kerf: 3}", saws) + more, folder)
    return [line.replace(NO_BREAK, " ") for line in shop_lines(job)]


def test_a_saw_alone_stands_for_three_devices(tmp_path: Path) -> None:
    """What is not said of the shop is told: its devices, each with the limits of the contract.

    Common practice throughout; 300 mm is where the warnings common to table-saw manuals begin to
    call an edge along the fence short.
    """
    assert lines_of("saw: {kerf: 3, max_rip: 650, scale: 0.5}", tmp_path) == [
        "saw: kerf 3 mm, marked every 0.5 mm; it stands for what a home shop has:",
        "  table saw: fence from 10 mm to 650 mm, edge along it from 300 mm (600 mm where the "
        "piece is longer across), 3 min a set-up",
        "  sled: stop to 1200 mm, cuts to 600 mm, pieces to 1500 × 600 mm or 2500 × 300 mm "
        "(across × along the cut), 2 min a set-up",
        "  guided saw: guide laid for each cut, pieces from 200 mm, 5 min a set-up",
    ]


def test_a_table_saw_alone_says_so(tmp_path: Path) -> None:
    """A list with nothing but table saws leaves out what a home shop has besides."""
    (lead, saw) = lines_of("saws: [{kind: table saw, kerf: 3}]", tmp_path)
    assert lead == "nothing but a table saw: no stop, no guide"
    assert saw.startswith("table saw: kerf 3 mm, set to any length, fence from 10 mm, edge along")
    two = "saws: [{kind: table saw, kerf: 3}, {kind: table saw, kerf: 3, name: second}]"
    assert lines_of(two, tmp_path)[0] == "nothing but table saws: no stop, no guide"
    other = "saws: [{kind: table saw, kerf: 3}, {kind: sled, kerf: 3}]"
    assert [line.partition(":")[0] for line in lines_of(other, tmp_path)] == ["table saw", "sled"]


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("kind: table saw", "edge along it from 300 mm (600 mm where the piece is longer across)"),
        ("kind: table saw, steady_edge: 500, smallest_piece: 250", "from 250 mm (500 mm where"),
        ("kind: table saw, steady_edge: none", "from 300 mm (never shorter than the piece is ac"),
        ("kind: table saw, steady_edge: 0", "fence from 10 mm, edge along it from 300 mm, 3 min"),
        (
            "kind: table saw, smallest_piece: none",
            "edge along it from 600 mm where the piece is longer across, 3 min",
        ),
        (
            "kind: table saw, steady_edge: none, smallest_piece: none",
            "edge along it never shorter than the piece is across, 3 min",
        ),
        (
            "kind: table saw, steady_edge: 0, smallest_piece: 0, thinnest_strip: 0",
            "fence to any distance, 3 min",
        ),
        ("kind: sled", "pieces to 1500 × 600 mm or 2500 × 300 mm (across × along the cut), 2 min"),
        ("kind: sled, largest_piece: none", "stop to 1200 mm, cuts to 600 mm, 2 min"),
        ("kind: sled, max_rip: none", "stop to any distance, cuts to 600 mm"),
        ("kind: sled, smallest_piece: 150", "(across × along the cut), pieces from 150 mm, 2 min"),
        (
            "kind: mitre gauge",
            "cuts to 300 mm, pieces to 900 × 300 mm (across × along the cut), 2 min",
        ),
        ("kind: track saw, longest_cut: 2700", "guide laid for each cut, cuts to 2700 mm, pieces"),
        ("kind: track saw, repeats: yes", "guide set once for all cuts of a distance, pieces"),
        ("kind: track saw, max_rip: 800", "guide to 800 mm laid for each cut, pieces from 200 mm"),
        ("kind: track saw, minutes_per_setup: 1.5", "pieces from 200 mm, 1.5 min a set-up"),
    ],
)
def test_limits_in_words(keys: str, words: str, tmp_path: Path) -> None:
    """What a device may do, as the job says or as is usual."""
    assert words in lines_of(f"saws: [{{kerf: 3, {keys}}}]", tmp_path)[-1]


def test_minutes_of_the_job_hold_for_all(tmp_path: Path) -> None:
    """The job's own minutes stand in for those of each device."""
    lines = lines_of("saw: {kerf: 3}", tmp_path, "minutes_per_setup: 4\n")
    assert [line.rpartition(", ")[2] for line in lines[1:]] == ["4 min a set-up"] * 3


def test_prices_that_are_alike_stand_together(tmp_path: Path) -> None:
    """Each price is said once, with all that it holds for; by hand: 2 of 60 minutes at 30 are 1."""
    saws = """\
saws:
  - {kind: table saw, kerf: 3}
  - {kind: sled, kerf: 3}
  - {kind: mitre gauge, kerf: 3}
  - {kind: track saw, kerf: 3, minutes_per_setup: 3}
"""
    text = SMALLEST.replace("saw: {kerf: 3}\n", saws)
    assert setup_price_words(job_of(text, tmp_path)) == ""
    assert setup_price_words(job_of(f"{text}hourly_rate: 30\n", tmp_path)) == (
        "a set-up counts 1.50 on the table saw and with the track saw, "
        "1.00 on the sled and on the mitre gauge"
    )

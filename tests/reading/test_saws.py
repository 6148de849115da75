"""A list of saws in the job file: defaults by kind, and what is refused."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.model.job import Remainders, Saw, SawKind
from cutlist.telling.understood import describe
from tests.reading.jobs import SMALLEST, job_of

THREE = """\
job: Hook board
units: mm
saws:
  - {kind: table saw, kerf: 3, max_rip: 650, longest_cut: 1500, scale: 0.5, minutes_per_setup: 1.5}
  - {kind: sled, name: long sled, kerf: 3, max_rip: none, smallest_piece: none}
  - {kind: track saw, kerf: 2.2}
remainders: cut
offcuts: [{name: scrap, material: MDF, thickness: 12, size: 500 x 300}]
parts: [{name: board, material: MDF, size: 400 x 100}]
"""


def test_saws_reach_the_job(tmp_path: Path) -> None:
    """What the job says is taken, else what is usual for the kind; none is no limit."""
    job = job_of(THREE, tmp_path)
    assert job.saws == (
        Saw(
            Fraction(3),
            Fraction(650),
            Fraction(1, 2),
            "table saw",
            SawKind.TABLE_SAW,
            Fraction(1500),
            Fraction(300),
            Fraction(10),
            Fraction(3, 2),
        ),
        Saw(Fraction(3), None, None, "long sled", SawKind.SLED, Fraction(600)),
        Saw(
            Fraction(11, 5), name="track saw", kind=SawKind.TRACK_SAW, smallest_piece=Fraction(200)
        ),
    )
    assert job.tools == job.saws
    assert job.remainders is Remainders.CUT


def test_sheets_are_laid_out_for_the_widest_blade(tmp_path: Path) -> None:
    """One saw stands for all: widest kerf, farthest reach, and a scale only if all have one."""
    assert job_of(THREE, tmp_path).saw == Saw(Fraction(3))
    short = THREE.replace("kerf: 2.2", "kerf: 2.2, max_rip: 900, scale: 1")
    short = short.replace("max_rip: none", "max_rip: 700, scale: 2")
    assert job_of(short, tmp_path).saw == Saw(Fraction(3), Fraction(900), Fraction(1, 2))


def test_usual_limits_in_inches(tmp_path: Path) -> None:
    """The usual limits in an inch job are round: 12 in along the fence (table-saw manuals)."""
    text = THREE.replace("units: mm", "units: in").replace("long sled", "sled")
    for old, new in (("650", "25"), ("1500", "60"), ("kerf: 3,", "kerf: 1/8,"), ("2.2", "3/32")):
        text = text.replace(old, new)
    text = (
        text.replace("12,", "1/2,").replace("500 x 300", "20 x 12").replace("400 x 100", "16 x 4")
    )
    job = job_of(text, tmp_path)
    assert [saw.smallest_piece for saw in job.saws] == [12, 0, 8]
    assert [saw.longest_cut for saw in job.saws] == [60, 24, None]
    assert job.saws[0].thinnest_strip == Fraction(3, 8)


def test_the_table_saw_alone_has_no_list(tmp_path: Path) -> None:
    """Without a list the table saw is the only tool, and nothing is said of how small it works."""
    job = job_of(SMALLEST, tmp_path)
    assert job.saws == ()
    assert job.tools == (Saw(Fraction(3)),)
    assert job.remainders is Remainders.KEEP


def test_saws_are_described(tmp_path: Path) -> None:
    """Each saw is shown with its limits."""
    lines = [line for line in describe(job_of(THREE, tmp_path), 200) if line.startswith("  ")]
    assert lines[1:5] == [
        "  table saw: kerf 3 mm, fence to 650 mm, cuts to 1500 mm, marked every 0.5 mm, "
        "pieces from 300 mm, strips from 10 mm, 1.5 min a set-up",
        "  long sled: kerf 3 mm, stop to any distance, cuts to 600 mm, set to any length",
        "  track saw: kerf 2.2 mm, guide to any distance, cuts of any length, set to any length, "
        "pieces from 200 mm",
        "  no panel is left as a remainder that can be cut to size",
    ]


@pytest.mark.parametrize(
    ("old", "new", "path", "message"),
    [
        ("saws:", "saw: {kerf: 3}\nsaws:", "saws", "the saw stands by itself too, in line 3"),
        ("kind: track saw", "kind: jigsaw", "saws[3].kind", "this is none of table saw, sled"),
        ("{kind: track saw, kerf", "{kerf", "saws[3].kind", "the key kind is missing"),
        ("track saw, kerf: 2.2", "track saw", "saws[3].kerf", "the key kerf is missing"),
        ("kind: track saw", "kind: table saw", "saws[3].kind", "the name table saw is taken"),
        ("kerf: 2.2", "kerf: 2.2, name: long sled", "saws[3].name", "the name long sled is taken"),
        ("kerf: 2.2", "kerf: 60", "saws[3].kerf", "this is too much for a blade's kerf"),
        ("kerf: 2.2", "kerf: 2.2, max_rip: 9", "saws[3].max_rip", "this is too little for the re"),
        ("setup: 1.5", "setup: soon", "saws[1].minutes_per_setup", "this is not a number of min"),
        ("kerf: 2.2", "kerf: 2.2, thinnest_strip: 5", "saws[3].thinnest_strip", "a track saw has"),
        ("remainders: cut", "remainders: 1", "remainders", "this is none of keep, cut"),
    ],
)
def test_what_is_refused(old: str, new: str, path: str, message: str, tmp_path: Path) -> None:
    """A slip in the list is reported where it stands."""
    assert THREE.count(old) == 1
    with pytest.raises(JobFileError) as caught:
        job_of(THREE.replace(old, new), tmp_path)
    assert [fault.path for fault in caught.value.faults] == [path]
    assert caught.value.faults[0].message.startswith(message)


@pytest.mark.parametrize(
    "saws", ["saws:", "saws: []", "saws: [" + "{kind: sled, kerf: 3}, " * 9 + "]"]
)
def test_number_of_saws(saws: str, tmp_path: Path) -> None:
    """There is at least one saw, and no warehouse of them."""
    text = SMALLEST.replace("saw: {kerf: 3}", saws)
    with pytest.raises(JobFileError) as caught:
        job_of(text, tmp_path)
    assert caught.value.faults[0].accepted == "1 to 8 saws"

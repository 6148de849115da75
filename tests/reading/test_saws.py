"""A list of saws in the job file: defaults by kind, and what is refused."""

from __future__ import annotations

from dataclasses import fields
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from cutlist.errors import JobFileError
from cutlist.model.job import USUAL_LIMITS, FactoryEdge, Remainders, Saw, SawKind, UsualLimits
from cutlist.model.sawing import Device
from cutlist.units.system import Units
from tests.reading.jobs import SMALLEST, job_of

THREE = """\
job: Hook board
units: mm
saws:
  - {kind: table saw, kerf: 3, max_rip: 650, longest_cut: 1500, scale: 0.5, minutes_per_setup: 1.5}
  - {kind: sled, name: long sled, kerf: 3, max_rip: none, largest_piece: [1800 x 600, 2500 x 400]}
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
            smallest_piece=Fraction(300),
            steady_edge=Fraction(600),
            thinnest_strip=Fraction(10),
            minutes_per_setup=Fraction(3, 2),
        ),
        Saw(
            Fraction(3),
            None,
            None,
            "long sled",
            SawKind.SLED,
            Fraction(600),
            ((Fraction(1800), Fraction(600)), (Fraction(2500), Fraction(400))),
        ),
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


@pytest.mark.parametrize(
    ("units", "board", "kerf"),
    [(Units.MM, "12, size: 500 x 300", "3"), (Units.INCH, "1/2, size: 20 x 12", "1/8")],
)
def test_left_out_limits_are_the_usual_ones(
    units: Units, board: str, kerf: str, tmp_path: Path
) -> None:
    """A saw of which only the kind is said has the limits of that kind, in round figures."""
    kinds = "".join(f"  - {{kind: {kind}, kerf: {kerf}}}\n" for kind in SawKind)
    text = SMALLEST.replace("saw: {kerf: 3}\n", f"saws:\n{kinds}").replace("mm", units)
    text = text.replace("12, size: 500 x 300", board).replace("400 x 100", "16 x 4")
    saws = job_of(text, tmp_path).saws
    names = [one.name for one in fields(UsualLimits)]
    assert [[getattr(saw, name) for name in names] for saw in saws] == [
        [getattr(USUAL_LIMITS[units][kind], name) for name in names] for kind in SawKind
    ]


def test_usual_limits_are_the_known_ones(tmp_path: Path) -> None:
    """What a home shop keeps to, in millimetres: common practice, but for the edge of 300 mm.

    That edge is where the warnings common to table-saw manuals begin to call work short.
    """
    kinds = "".join(f"  - {{kind: {kind}, kerf: 3}}\n" for kind in SawKind)
    job = job_of(SMALLEST.replace("saw: {kerf: 3}\n", f"saws:\n{kinds}"), tmp_path)
    saws: Any = job.saws
    fence, sled, gauge, track, circular = saws
    assert (fence.smallest_piece, fence.steady_edge, fence.thinnest_strip) == (300, 600, 10)
    assert (sled.max_rip, sled.longest_cut) == (1200, 600)
    assert sled.largest_pieces == ((1500, 600), (2500, 300))
    assert (gauge.longest_cut, gauge.largest_pieces) == (300, ((900, 300),))
    assert (sled.smallest_piece, gauge.smallest_piece) == (0, 0)
    assert (track.smallest_piece, circular.smallest_piece) == (200, 200)
    assert [saw.serves_one_cut for saw in saws] == [False, False, False, True, True]


@pytest.mark.parametrize(
    ("kind", "key", "field", "unlimited"),
    [
        ("sled", "max_rip", "max_rip", None),
        ("sled", "longest_cut", "longest_cut", None),
        ("mitre gauge", "largest_piece", "largest_pieces", ()),
        ("circular saw", "smallest_piece", "smallest_piece", 0),
        ("table saw", "thinnest_strip", "thinnest_strip", 0),
        ("table saw", "steady_edge", "steady_edge", None),
    ],
)
def test_none_takes_the_usual_limit_away(
    kind: str, key: str, field: str, unlimited: object, tmp_path: Path
) -> None:
    """A limit given as none is none, though the kind has one; as YAML writes null, too."""
    usual = job_of(
        SMALLEST.replace("saw: {kerf: 3}", f"saws: [{{kind: {kind}, kerf: 3}}]"), tmp_path
    )
    assert getattr(usual.saws[0], field) != unlimited
    for none in ("none", "null", "~"):
        saws = f"saws: [{{kind: {kind}, kerf: 3, {key}: {none}}}]"
        job = job_of(SMALLEST.replace("saw: {kerf: 3}", saws), tmp_path)
        assert getattr(job.saws[0], field) == unlimited


@pytest.mark.parametrize(
    ("written", "sizes"),
    [
        ("1500 x 600", ((1500, 600),)),
        ("[1500, 600]", ((1500, 600),)),
        ("[1500 x 600]", ((1500, 600),)),
        ("[1500 x 600, 2.5 m x 30 cm]", ((1500, 600), (2500, 300))),
        ("[[1500, 600], [2500, 300]]", ((1500, 600), (2500, 300))),
        ("[[1500, 600], 2500 × 300]", ((1500, 600), (2500, 300))),
    ],
)
def test_ways_to_write_the_largest_piece(
    written: str, sizes: tuple[tuple[int, int], ...], tmp_path: Path
) -> None:
    """One size, in either way to write a size, or a list of them."""
    text = THREE.replace("[1800 x 600, 2500 x 400]", written)
    found: Any = job_of(text, tmp_path).saws[1].largest_pieces
    assert found == sizes


@pytest.mark.parametrize(
    ("word", "repeats"), [("yes", True), ("true", True), ("no", False), ("false", False)]
)
def test_a_guide_may_repeat(word: str, repeats: bool, tmp_path: Path) -> None:
    """With parallel guides one set-up serves all cuts of a distance; left out it does not."""
    assert job_of(THREE, tmp_path).saws[2].serves_one_cut
    job = job_of(THREE.replace("kerf: 2.2", f"kerf: 2.2, repeats: {word}"), tmp_path)
    assert job.saws[2].repeats is repeats
    assert job.saws[2].serves_one_cut is not repeats


def test_a_saw_alone_stands_for_a_home_shop(tmp_path: Path) -> None:
    """Without a list there are the fence, a stop and a guide, all with the kerf of the saw."""
    job = job_of(SMALLEST, tmp_path)
    assert job.saws == ()
    assert [saw.device for saw in job.tools] == [Device.FENCE, Device.STOP, Device.GUIDE]
    assert {saw.kerf for saw in job.tools} == {3}
    assert job.remainders is Remainders.KEEP


def test_factory_edges_reach_the_job(tmp_path: Path) -> None:
    """Straight unless the sheet says that it is rough."""
    sheet = "sheets: [{name: full, material: MDF, thickness: 12, size: 2440 x 1220, trim: 10"
    for said, edge in (
        ("", FactoryEdge.STRAIGHT),
        (", factory_edge: straight", FactoryEdge.STRAIGHT),
        (", factory_edge: rough", FactoryEdge.ROUGH),
    ):
        job = job_of(f"{SMALLEST}{sheet}{said}}}]\n", tmp_path)
        assert job.sheets[0].factory_edge is edge


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
        ("kerf: 2.2", "kerf: 2.2, thinnest_strip: none", "saws[3].thinnest_strip", "a track saw"),
        ("kerf: 2.2", "kerf: 2.2, steady_edge: 500", "saws[3].steady_edge", "a track saw has no"),
        ("kerf: 2.2", "kerf: 2.2, largest_piece: 9 x 9", "saws[3].largest_piece", "a track saw ca"),
        ("[1800 x 600, 2", "[1800 x, 2", "saws[2].largest_piece[1]", "one side of the size is"),
        ("[1800 x 600, 2500 x 400]", "[]", "saws[2].largest_piece", "a size is two lengths"),
        ("long sled,", "long sled, repeats: no,", "saws[2].repeats", "a sled serves all cuts of a"),
        ("kerf: 2.2", "kerf: 2.2, repeats: often", "saws[3].repeats", "this is neither yes nor no"),
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

"""One job file, some of its values changed."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.reading import read_job
from cutlist.reading.varying import MOST_JOBS, read_varied, read_varying

TEXT = """\
job: bench
units: in
saw: {kerf: 1/8}
sheets:
  - {name: birch full, material: birch ply, thickness: 3/4, size: 96 x 48, price: 70}
  - {name: half.5, material: birch ply, thickness: 3/4, size: [48, 48], price: 40}
parts:
  - {name: shelf, material: birch ply, size: 30 x 12, qty: 4}
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give the path of a small job."""
    file = tmp_path / "bench.yaml"
    file.write_text(TEXT)
    return file


def test_each_value_gives_a_job(path: Path) -> None:
    """The value is read as it would be in the file; the rest stays."""
    (first, one), (second, two) = read_varied(path, [read_varying("saw.kerf=1/8, 2.4 mm")])
    assert (first, second) == ((("saw.kerf", "1/8"),), (("saw.kerf", "2.4 mm"),))
    assert one == read_job(path)
    assert two.saw.kerf == Fraction(24, 254)
    assert two.parts == one.parts


def test_keys_that_are_not_there_are_added(path: Path) -> None:
    """A key that the file leaves out, alone or in a section of its own."""
    keys = ("max_rip=30", "bed=72 x 40", "second_opening=98 x 12")
    ((_, job),) = read_varied(path, [read_varying(key) for key in keys])
    assert job.saw.max_rip == 30
    assert job.vehicle is not None
    assert job.vehicle.bed_length == 72
    assert job.vehicle.second_opening == (Fraction(98), Fraction(12))


@pytest.mark.parametrize("key", ["sheets[2]", "sheets[half.5]"])
def test_entries_by_number_and_name(path: Path, key: str) -> None:
    """The second sheet is found either way."""
    ((_, job),) = read_varied(path, [read_varying(f"{key}.price=33.5")])
    assert [sheet.price for sheet in job.sheets] == [Decimal(70), Decimal("33.5")]


def test_saws_by_their_kind(path: Path) -> None:
    """A saw without a name goes by its kind, and its limits take what the file would."""
    saws = "saws: [{kind: sled, kerf: 1/8}, {kind: table saw, name: old, kerf: 1/8}]"
    path.write_text(path.read_text().replace("saw: {kerf: 1/8}", saws))
    found = read_varied(path, [read_varying("saws[sled].largest_piece=48 x 30, none")])
    assert [job.saws[0].largest_pieces for _, job in found] == [((Fraction(48), Fraction(30)),), ()]
    ((_, job),) = read_varied(path, [read_varying("saws[old].steady_edge=30")])
    assert job.saws[1].steady_edge == 30


def test_all_pairs_of_values(path: Path) -> None:
    """Two keys of two values make four jobs, the first key the slowest."""
    found = read_varied(path, [read_varying("kerf=1/8,3/32"), read_varying("parts[1].qty=2,3")])
    told = [tuple(value for _, value in varied) for varied, _ in found]
    assert told == [("1/8", "2"), ("1/8", "3"), ("3/32", "2"), ("3/32", "3")]
    assert [job.parts[0].qty for _, job in found] == [2, 3, 2, 3]


def test_a_value_twice_is_one(path: Path) -> None:
    """What is repeated is planned once."""
    assert len(read_varied(path, [read_varying("kerf=1/8,1/8")])) == 1


@pytest.mark.parametrize(
    ("text", "message", "accepted"),
    [
        ("kerf", "a key without a value", "saw.kerf="),
        ("kerf=1/8,,3", "a key without a value", "saw.kerf="),
        ("=3", "no path of a key", "saw.kerf="),
        ("sheets[1=3", "no path of a key", "saw.kerf="),
        ("job=3", "no number", "saw.kerf="),
        ("parts[1].name=3", "no number", "saw.kerf="),
        ("saw.kref=3", "there is no key 'kref' here", "did you mean kerf?"),
        ("saw.kerf=wide", "not a length", "23 5/8"),
        ("saw.kerf.x=3", "saw.kerf has no keys", "saw.kerf="),
        ("saw[1]=3", "saw is no list", "saw.kerf="),
        ("parts.qty=3", "by number or name", "parts[1].qty"),
        ("parts[2].qty=3", "no such entry", "[1] to [1]"),
        ("sheets[birch ful].price=3", "no such entry", "did you mean birch full?"),
        ("sheets[1].size=20 x 10,10 x 10", "larger than every sheet", ""),
    ],
)
def test_what_cannot_be_varied(path: Path, text: str, message: str, accepted: str) -> None:
    """The fault says what is wrong and what to write instead."""
    if text.startswith("sheets[1].size"):
        path.write_text(TEXT.replace("[48, 48]", "[20, 10]"))
    with pytest.raises(JobFileError) as caught:
        read_varied(path, [read_varying(text)])
    fault = caught.value.faults[0]
    assert message in fault.message
    assert accepted in fault.accepted
    assert text.split("=")[0] in caught.value.source


def test_not_too_many_jobs(path: Path) -> None:
    """Twenty-five values are refused before anything is read."""
    values = ",".join(str(number) for number in range(1, MOST_JOBS + 2))
    with pytest.raises(JobFileError, match="25 jobs in all"):
        read_varied(path, [read_varying(f"parts[1].qty={values}")])

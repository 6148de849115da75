"""What ``describe`` says of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.telling.understood import describe
from tests.reading.jobs import POTTING_BENCH, SMALLEST, changed, job_of

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

EXPECTED = """\
Potting bench
  lengths in inches
  saw: kerf 1/8", marked every 1/32"; it stands for what a home shop has:
    table saw: fence from 3/8" to 30", edge along it from 12" (24" where the
    piece is longer across), 3 min a set-up
    sled: stop to 48", cuts to 24", pieces to 60" × 24" or 97" × 12"
    (across × along the cut), 2 min a set-up
    guided saw: guide laid for each cut, pieces from 8", 5 min a set-up
  store: kerf 3/16", cuts true to 1/8", 4 cuts a sheet, 2 free, then 0.50 each
  vehicle: bed 72" × 40", second opening 98" × 10 1/2", 600 lb
  offcuts are kept from 14" × 5"

Stock
  name            material         size           trim  how many    price
  ply full        birch ply 18 mm  96" × 48"      1/4"  5 in stock  74.00
  hardboard half  hardboard 1/4"   48" × 48"      -     to buy       11.5
  rack 3          birch ply 18 mm  40" × 22 1/2"  1/8"  2 on hand       -
  weighed as birch plywood, 42.8 lb/ft³: birch ply 18 mm
  weighed as hardboard, 59.3 lb/ft³: hardboard 1/4"

Parts
  name   qty  size                grain   material               area
  shelf    3  34 1/2" × 11 1/4"   length  birch ply 18 mm  8.09 sq ft
  rail     1  ≈ 23 5/8" × 2 1/2"  width   birch ply 18 mm  0.41 sq ft
  back     1  35 1/4" × 30"       any     hardboard 1/4"   7.34 sq ft
  between the fence's marks of 1/32": rail

Totals
  material         panels         area  sheets at least
  birch ply 18 mm       4   8.50 sq ft                0
  hardboard 1/4"        1   7.34 sq ft                1
  all                   5  15.84 sq ft
"""


def test_describes_every_key(tmp_path: Path) -> None:
    """The summary names saw, store, vehicle, stock, parts and totals, in aligned columns.

    Areas by hand: 3 · 34.5 · 11.25 / 144 = 8.09; 23.622 · 2.5 / 144 = 0.41 and 35.25 · 30 / 144 =
    7.34. The offcuts hold 2 · 39.75 · 22.25 / 144 = 12.28 sq ft, more than the 8.50 of their kind.
    """
    assert "\n".join(describe(job_of(POTTING_BENCH, tmp_path))) + "\n" == EXPECTED


def test_describes_the_smallest_job(tmp_path: Path) -> None:
    """What the file leaves out is told as a default, or not at all."""
    lines = describe(job_of(SMALLEST, tmp_path))
    saw = "  saw: kerf 3 mm, set to any length; it stands for what a home shop has:"
    assert saw in lines
    assert "  offcuts are kept from 300 × 100 mm" in lines
    assert not any(line.startswith(("  store", "  vehicle", "  between")) for line in lines)
    assert lines[-1].split() == ["MDF", "12", "mm", "1", "0.04", "m²", "0"]


def test_sheets_at_least_counts_usable_area(tmp_path: Path) -> None:
    """The least number of sheets is by the area inside the trim, once offcuts are used up."""
    text = changed("qty: 3", "qty: 1").replace("34 1/2 × 11 1/4", "95 1/2 x 47 1/2")
    for qty, sheets in ((1, 1), (2, 2), (300, 300)):
        job = job_of(text.replace("qty: 1", f"qty: {qty}"), tmp_path)
        line = next(line for line in describe(job) if line.startswith("  birch ply 18 mm"))
        assert int(line.split()[-1]) == sheets


def test_names_what_a_rule_cannot_show(tmp_path: Path) -> None:
    """Without a scale of the fence, parts are held against 0.1 mm or 1/64 in."""
    lines = describe(job_of(SMALLEST.replace("400 x 100", "400 mm x 4 in"), tmp_path))
    assert not any("between" in line for line in lines)
    lines = describe(job_of(SMALLEST.replace("400 x 100", "400 mm x 1/8 in"), tmp_path))
    assert "  between a rule's marks of 0.1 mm: board" in lines


def test_rough_edges_are_told(tmp_path: Path) -> None:
    """A sheet whose own edges are no guide says so beside its trim; others say nothing."""
    text = changed("    trim: 1/4", "    trim: 1/4\n    factory_edge: rough")
    full, half = (line for line in describe(job_of(text, tmp_path), 100) if '× 48"' in line)
    assert '1/4", rough  5 in stock' in full
    assert "rough" not in half


def test_names_what_has_to_match(tmp_path: Path) -> None:
    """Each group is told with its size and its parts, and a second unit as well."""
    text = changed("qty: 3", "qty: 3\n    match: {length: front}").replace(
        "units: in", "units: in\nalso_in: mm"
    )
    lines = describe(job_of(text, tmp_path))
    assert "  lengths in inches, distances in millimetres as well" in lines
    assert lines[lines.index("Parts that match") + 1] == '  front: 34 1/2", shelf'


def test_keeps_within_the_width(tmp_path: Path) -> None:
    """Long names run on below themselves instead of breaking the table at the terminal's edge."""
    text = changed("name: ply full", "name: the good birch from the yard beyond the bridge")
    lines = describe(job_of(text, tmp_path))
    assert max(map(len, lines)) <= 80
    wide = describe(job_of(text, tmp_path), 200)
    assert any("the good birch from the yard beyond the bridge" in line for line in wide)
    assert " ".join(lines).split().count("bridge") == 1


def test_prints_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Describing is a pure function: the command line prints."""
    describe(job_of(POTTING_BENCH, tmp_path))
    assert capsys.readouterr() == ("", "")

"""From a file to a job."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cutlist.errors import JobFileError
from cutlist.model.job import Grain, Job, KeepFrom, Offcut, Part, Saw, Sheet, Store, Vehicle
from cutlist.model.weights import Density
from cutlist.reading import read_job
from cutlist.units.system import Units
from tests.reading.jobs import POTTING_BENCH, SMALLEST, changed, job_of

if TYPE_CHECKING:
    from collections.abc import Callable

BIRCH = Density(Fraction(685), "birch plywood")
EIGHTEEN_MM = Fraction(180, 254)


def test_reads_every_key(tmp_path: Path) -> None:
    """Each key of the file reaches its place in the job, exactly."""
    assert job_of(POTTING_BENCH, tmp_path) == Job(
        name="Potting bench",
        units=Units.INCH,
        saw=Saw(kerf=Fraction(1, 8), max_rip=Fraction(30), scale=Fraction(1, 32)),
        sheets=(
            Sheet(
                "ply full",
                "birch ply",
                EIGHTEEN_MM,
                Fraction(96),
                Fraction(48),
                price=Decimal("74.00"),
                in_stock=5,
                trim=Fraction(1, 4),
                density=BIRCH,
            ),
            Sheet(
                "hardboard half",
                "hardboard",
                Fraction(1, 4),
                Fraction(48),
                Fraction(48),
                price=Decimal("11.5"),
                density=Density(Fraction(950), "hardboard"),
            ),
        ),
        offcuts=(
            Offcut(
                "rack 3",
                "birch ply",
                EIGHTEEN_MM,
                Fraction(40),
                Fraction(45, 2),
                qty=2,
                trim=Fraction(1, 8),
                density=BIRCH,
            ),
        ),
        parts=(
            Part(
                "shelf",
                "birch ply",
                EIGHTEEN_MM,
                Fraction(69, 2),
                Fraction(45, 4),
                qty=3,
                grain=Grain.LENGTH,
            ),
            Part(
                "rail",
                "birch ply",
                EIGHTEEN_MM,
                Fraction(6000, 254),
                Fraction(5, 2),
                grain=Grain.WIDTH,
            ),
            Part("back", "hardboard", Fraction(1, 4), Fraction(141, 4), Fraction(30)),
        ),
        store=Store(Fraction(3, 16), Fraction(1, 8), 4, 2, Decimal("0.50")),
        # 600 lb at 0.45359237 kg (international pound, agreement of 1959; NIST SP 811 app. B.8).
        vehicle=Vehicle(
            Fraction(72), Fraction(40), Fraction("272.155422"), (Fraction(98), Fraction(21, 2))
        ),
        keep_from=KeepFrom(Fraction(14), Fraction(5)),
    )


def test_what_may_be_left_out(tmp_path: Path) -> None:
    """The smallest job file leaves every other key to its default."""
    job = job_of(SMALLEST, tmp_path)
    assert job.saw == Saw(Fraction(3))
    assert job.sheets == ()
    assert job.parts == (Part("board", "MDF", Fraction(12), Fraction(400), Fraction(100)),)
    assert job.offcuts[0].qty == 1
    assert job.offcuts[0].trim == 0
    assert job.store is None
    assert job.vehicle is None
    assert job.keep_from == KeepFrom(Fraction(300), Fraction(100))


def test_digest_is_of_the_bytes(tmp_path: Path) -> None:
    """The job carries the SHA-256 of its file, a byte order mark and all."""
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALLEST.replace("\n", "\r\n").encode())
    assert read_job(str(path)).sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert read_job(path).name == "Hook board"


def test_byte_order_mark_takes_no_column(tmp_path: Path) -> None:
    """Columns of the first line are counted as an editor shows them."""
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbfjbo: Hook board\n")
    with pytest.raises(JobFileError) as caught:
        read_job(path)
    assert [fault.column for fault in caught.value.faults if fault.path == "jbo"] == [1]
    path.write_bytes(b"\xef\xbb\xbfjob: Hook\x07board\n")
    with pytest.raises(JobFileError) as caught:
        read_job(path)
    assert [fault.column for fault in caught.value.faults] == [10]


@pytest.mark.parametrize(
    ("old", "new", "look", "value"),
    [
        ("  max_rip: 30", "  max_rip: none", lambda job: job.saw.max_rip, None),
        ("  max_rip: 30", "  max_rip: ~", lambda job: job.saw.max_rip, None),
        ("  scale: 1/32", "  scale: null", lambda job: job.saw.scale, None),
        ("  scale: 1/32", "  scale: 0.5 mm", lambda job: job.saw.scale, Fraction(5, 254)),
        ("kerf: 1/8", "kerf: 0", lambda job: job.saw.kerf, 0),
        ("kerf: 1/8", "kerf: '1/8'", lambda job: job.saw.kerf, Fraction(1, 8)),
        ("kerf: 1/8", "kerf: 0.1253", lambda job: job.saw.kerf, Fraction("0.1253")),
        ("in_stock: 5", "in_stock: 0", lambda job: job.sheets[0].in_stock, 0),
        ("in_stock: 5", "in_stock: none", lambda job: job.sheets[0].in_stock, None),
        ("price: 74.00", "price: 0", lambda job: job.sheets[0].price, 0),
        ("max_load: 600 lb", "max_load: 270 kg", lambda job: job.vehicle.max_load_kg, 270),
        ("max_load: 600 lb", "max_load: 270kg", lambda job: job.vehicle.max_load_kg, 270),
        ("max_load: 600 lb", "max_load: none", lambda job: job.vehicle.max_load_kg, None),
        (
            "second_opening: [98, 10 1/2]",
            "second_opening: none",
            lambda job: job.vehicle.second_opening,
            None,
        ),
        (
            "second_opening: [98, 10 1/2]",
            "second_opening: 12 x 99",
            lambda job: job.vehicle.second_opening,
            (12, 99),
        ),
        ("job: Potting bench", "job: yes", lambda job: job.name, "yes"),
        ("job: Potting bench", "job: 010", lambda job: job.name, "010"),
        ("job: Potting bench", "job: 'null'", lambda job: job.name, "null"),
        ("job: Potting bench", "job: >\n  Potting\n  bench", lambda job: job.name, "Potting bench"),
        ("name: shelf", "name: Fachboden „groß“", lambda job: job.parts[0].name,
         "Fachboden „groß“"),
        ("34 1/2 × 11 1/4", "34 1/2\n      x 11 1/4", lambda job: job.parts[0].width,
         Fraction(45, 4)),
        ("34 1/2 × 11 1/4", "876.3 x 285.75 mm", lambda job: job.parts[0].length, Fraction(69, 2)),
        ("size: 34 1/2 × 11 1/4", "size: [34½, 285.75 mm]", lambda job: job.parts[0].width,
         Fraction(45, 4)),
        ("34 1/2 × 11 1/4", "3 x 34 1/2 # short", lambda job: job.parts[0].length, 3),
    ],
)  # fmt: skip
def test_forms_of_values(
    old: str, new: str, look: Callable[[Job], object], value: object, tmp_path: Path
) -> None:
    """Values are taken from the text that stands there, not from what YAML makes of it."""
    assert look(job_of(changed(old, new), tmp_path)) == value


def test_decimal_digits_survive(tmp_path: Path) -> None:
    """A sixty-fourth of an inch and a tenth of a millimetre in decimals are exact."""
    job = job_of(changed("34 1/2 × 11 1/4", "[571.1 mm, 11.015625]"), tmp_path)
    assert job.parts[0].length == Fraction(5711, 254)
    assert job.parts[0].width == Fraction(705, 64)


def test_import_is_light() -> None:
    """Reading needs PyYAML and nothing heavier."""
    code = (
        "import sys, cutlist.reading;"
        "print(sorted({m.partition('.')[0] for m in sys.modules} - set(sys.stdlib_module_names)))"
    )
    root = Path(__file__).parents[2]
    result = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=root
    )
    (modules,) = result.stdout.splitlines()
    assert "'yaml'" in modules
    heavy = {"numba", "numpy", "ortools", "reportlab", "shapely", "rich", "typer"}
    assert not [name for name in heavy if f"'{name}'" in modules]

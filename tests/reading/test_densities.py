"""What boards are taken to weigh."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.model.weights import Density
from cutlist.reading import read_job
from cutlist.reading.densities import KINDS, kind_of
from cutlist.telling.understood import describe
from cutlist.units.masses import KG_PER_LB, cubic_metres
from cutlist.units.system import Units
from tests.audit.plans import f
from tests.reading.jobs import SMALLEST, changed, job_of

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("material", "kind"),
    [
        ("MDF", "MDF"),
        ("moisture-resistant MDF", "MDF"),
        ("birch veneered MDF", "MDF"),
        ("melamine MDF", "MDF"),
        ("HDF white", "HDF"),
        ("hardboard", "hardboard"),
        ("Particleboard", "particleboard"),
        ("particle board P2", "particleboard"),
        ("chipboard", "particleboard"),
        ("melamine board", "particleboard"),
        ("birch ply", "birch plywood"),
        ("Baltic BIRCH Plywood (BB/BB)", "birch plywood"),
        ("ply, birch", "birch plywood"),
        ("CDX plywood", "softwood plywood"),
        ("spruce ply", "softwood plywood"),
        ("red oak plywood A-1", "hardwood plywood"),
        ("OSB/3", "OSB"),
    ],
)
def test_names_that_tell_the_board(material: str, kind: str) -> None:
    """Words in any order and case, with others between them."""
    found = kind_of(material)
    assert found is not None
    assert found.name == kind


@pytest.mark.parametrize(
    "material",
    [
        "ply",
        "plywood 18",
        "poplar ply",
        "birch",
        "oak",
        "pine boards",
        "birch ply on MDF",
        "ultralight MDF",
        "bendy ply",
        "acrylic",
        "birch and oak ply",
        "mdfx",
        "5",
    ],
)
def test_names_that_tell_nothing(material: str) -> None:
    """Half a name, two kinds at once, or an unusual make: no guess."""
    assert kind_of(material) is None


def test_reckoned_densities_are_within_their_ranges() -> None:
    """Each density lies in the range of its own sources."""
    for kind in KINDS:
        assert kind.low <= kind.kg_per_m3 <= kind.high


@pytest.mark.parametrize(
    ("kind", "size", "lb"),
    [
        # 84 to 104 lb: 673 to 833 kg/m³, Cai, Muehl, Winandy (USDA Forest Products Laboratory).
        ("MDF", ("96", "48", "3/4"), (84.0, 104.0)),
        # 66.7 lb for 1/2 in, 61 lb particleboard, 40.6 softwood, 45 hardwood plywood (a trade
        # chart of sheets of 96 × 48 in); such pages differ by 15 % between grades.
        ("MDF", ("96", "48", "1/2"), (66.7 * 0.85, 66.7 * 1.15)),
        ("particleboard", ("96", "48", "1/2"), (61 * 0.85, 61 * 1.15)),
        ("softwood plywood", ("96", "48", "1/2"), (40.6 * 0.85, 40.6 * 1.15)),
        ("hardwood plywood", ("96", "48", "1/2"), (45 * 0.85, 45 * 1.15)),
        # About 60 lb on trade pages, 72 lb by the rule of 3 lb/ft² for each inch.
        ("softwood plywood", ("96", "48", "3/4"), (60.0, 72.0)),
        # 2.3 lb/ft², "just over 70 lb" (a trade page): 73.6 lb by its own figure.
        ("hardwood plywood", ("96", "48", "3/4"), (70.0, 74.0)),
    ],
)
def test_sheets_in_inches_weigh_what_tables_say(
    kind: str, size: tuple[str, str, str], lb: tuple[float, float]
) -> None:
    """A full sheet by the reckoned density lies in the range that the sources give."""
    density = next(one.kg_per_m3 for one in KINDS if one.name == kind)
    length, width, thickness = map(f, size)
    kg = cubic_metres(length, width, thickness, Units.INCH) * density
    assert lb[0] <= float(kg / KG_PER_LB) <= lb[1]


@pytest.mark.parametrize(
    ("kind", "size", "kg"),
    [
        # A merchant's data sheet for birch plywood, 685 kg/m³ at 18 mm; 670 to 710 by thickness.
        ("birch plywood", ("2440", "1220", "18"), (36.7, 0.1)),
        ("birch plywood", ("2440", "1220", "12"), (24.8, 0.4)),
        ("birch plywood", ("2440", "1220", "24"), (48.6, 0.4)),
        ("birch plywood", ("2440", "1220", "9"), (19.0, 0.7)),
        ("birch plywood", ("2440", "1220", "6.5"), (13.0, 0.3)),
        # A maker's technical data to EN 312, type P2: 650 kg/m³ at 18 mm, 700 at 10, 600 at 38.
        ("particleboard", ("2800", "2070", "18"), (67.8, 0.1)),
        ("particleboard", ("2800", "2070", "10"), (40.6, 3.0)),
        ("particleboard", ("2800", "2070", "38"), (132.1, 11.1)),
    ],
)
def test_sheets_in_millimetres_weigh_what_tables_say(
    kind: str, size: tuple[str, str, str], kg: tuple[float, float]
) -> None:
    """One density for all thicknesses: off by as much as the source's own density differs."""
    density = next(one.kg_per_m3 for one in KINDS if one.name == kind)
    length, width, thickness = map(f, size)
    weight = float(cubic_metres(length, width, thickness, Units.MM) * density)
    assert weight == pytest.approx(kg[0], abs=kg[1])


def test_density_is_read_in_either_unit(tmp_path: Path) -> None:
    """44 lb/ft³ and 700 kg/m3 are what they say; 1 lb/ft³ is 16.01846 kg/m³ (NIST SP 811)."""
    for text, kg_per_m3 in (
        ("700 kg/m3", 700),
        ("700 kg/m³", 700),
        ("44 lb/ft3", 704.812),
        ("44lb/ft³", 704.812),
    ):
        job = job_of(SMALLEST.replace("thickness: 12", f"thickness: 12, density: {text}"), tmp_path)
        density = job.offcuts[0].density
        assert density is not None
        assert density.kind is None
        assert float(density.kg_per_m3) == pytest.approx(kg_per_m3, abs=1e-3)


def test_weight_of_a_sheet_gives_its_density(tmp_path: Path) -> None:
    """500 × 300 × 12 mm is 0.0018 m³: at 1.35 kg 750 kg/m³."""
    job = job_of(SMALLEST.replace("thickness: 12", "thickness: 12, weight: 1.35 kg"), tmp_path)
    assert job.offcuts[0].density == Density(Fraction(750))


def test_stock_without_a_density_takes_that_of_its_fellow(tmp_path: Path) -> None:
    """What one sheet is said to weigh holds for its material and thickness, and for no other."""
    text = changed("in_stock: 5", "in_stock: 5\n    weight: 80 lb")
    full, half = job_of(text, tmp_path).sheets
    (rack,) = job_of(text, tmp_path).offcuts
    assert full.density == rack.density
    assert full.density is not None
    assert full.density.kind is None
    assert half.density == Density(Fraction(950), "hardboard")


def test_unknown_boards_have_no_density(tmp_path: Path) -> None:
    """Without a guess there is none, and the summary asks for it."""
    job = job_of(SMALLEST.replace("MDF", "acrylic"), tmp_path)
    assert job.offcuts[0].density is None
    assert any("weight not known" in line for line in describe(job))


def test_the_page_lists_the_kinds() -> None:
    """The table in the job file's page has each kind with its density and range, in order."""
    section = PAGE.split("### Weight\n")[1].split("\n### ")[0]
    rows = [row.split(" | ") for row in section.splitlines() if row.startswith("| ")][2:]
    assert [(row[1], row[2], row[3]) for row in rows] == [
        (kind.name, str(kind.kg_per_m3), f"{kind.low} to {kind.high}") for kind in KINDS
    ]
    for row, kind in zip(rows, KINDS, strict=True):
        words = set(row[0].casefold().replace(",", " ").split())
        assert all(group <= words for group in kind.words), kind.name


def test_tax_is_a_rate_in_per_cent(tmp_path: Path) -> None:
    """The sign belongs to it; nothing is said where the job says nothing."""
    job = job_of(changed("units: in", "units: in\ntax: 8.25 %"), tmp_path)
    assert job.tax_percent == Decimal("8.25")
    assert "  tax: 8.25 % on what is bought" in describe(job)
    assert read_job(tmp_path / "job.yaml").tax_percent == Decimal("8.25")
    assert job_of(SMALLEST, tmp_path).tax_percent is None

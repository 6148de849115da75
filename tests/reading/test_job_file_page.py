"""The reference page of the job file says what the reader does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cutlist.model.job import SawKind
from cutlist.reading import keys
from cutlist.units.lengths import LengthError, read_length, read_size
from cutlist.units.system import Units
from tests.reading.jobs import job_of

PAGE = (Path(__file__).parents[2] / "docs" / "job-file.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"```yaml\n(.*?)```", PAGE, re.DOTALL)


@pytest.mark.parametrize("example", EXAMPLES)
def test_examples_are_sound(example: str, tmp_path: Path) -> None:
    """Every example on the page is a job without fault."""
    assert job_of(example, tmp_path).parts


def test_there_are_examples() -> None:
    """The page shows a full and a smallest job, and one for each key that needs explaining."""
    assert len(EXAMPLES) == 9


@pytest.mark.parametrize(
    ("heading", "section_keys"),
    [
        ("At the top", keys.TOP),
        ("`saw`", keys.SAW),
        ("`saws`, each", keys.LISTED_SAW),
        ("`sheets`, each", keys.SHEET),
        ("`offcuts`, each", keys.OFFCUT),
        ("`parts`, each", keys.PART),
        ("`store`", keys.STORE),
        ("`vehicle`", keys.VEHICLE),
    ],
)
def test_every_key_is_listed(heading: str, section_keys: keys.Keys) -> None:
    """The first column of each table holds the section's keys, all and no others."""
    section = PAGE.split(f"### {heading}\n")[1].split("\n#")[0]
    cells = [row.split("|")[1] for row in section.splitlines() if row.startswith("| ")]
    assert set(re.findall(r"`(\w+)`", " ".join(cells))) == set(section_keys.names)


def test_the_shop_written_out_is_what_a_saw_stands_for(tmp_path: Path) -> None:
    """A list of the three devices, nothing changed, makes the same shop as the saw alone."""
    section = PAGE.split("What a `saw` stands for, written out")[1]
    listed = job_of(section.split("```yaml\n")[1].split("```")[0], tmp_path)
    alone = job_of(EXAMPLES[0], tmp_path)
    assert not alone.saws
    assert listed.saws == alone.tools


@pytest.mark.parametrize("kind", SawKind)
@pytest.mark.parametrize("units", Units)
def test_usual_limits_are_those_of_the_reader(kind: SawKind, units: Units, tmp_path: Path) -> None:
    """The table of kinds tells what a saw is of which the job says nothing more."""
    section = PAGE.split("### `saws`, each\n")[1].split("\n```")[0]
    table = [row.split("|")[1:-1] for row in section.splitlines() if row.startswith("| ")]
    head = next(row for row in table if row[0].strip() == "kind")
    told = next(row for row in table if row[0].strip().startswith(kind) and row is not head)
    said = dict(zip([cell.strip(" `") for cell in head], map(str.strip, told), strict=True))
    keys_told = []
    for key, cell in said.items():
        if key in ("kind", "device") or not cell:
            continue
        word = cell.strip("`")
        if ", " in word:
            word = next(one for one in word.split(", ") if one.endswith(units)).removesuffix(units)
        sizes = ", ".join(f"[{size.strip().replace(' x ', ', ')}]" for size in word.split(" and "))
        keys_told.append(f"{key}: {f'[{sizes}]' if ' x ' in word else word}")
    assert said["device"] == {"table saw": "fence", "sled": "stop", "mitre gauge": "stop"}.get(
        kind, "guide"
    )
    assert len(keys_told) >= 3
    shop = f"job: x\nunits: {units}\nparts: [{{name: a, material: ply, size: 9 x 9}}]\n"
    shop += "sheets: [{name: full, material: ply, thickness: 18 mm, size: 99 x 99}]\n"
    shop += f"saws: [{{kind: {kind}, kerf: 0.1"
    bare = job_of(f"{shop}}}]\n", tmp_path)
    assert job_of(f"{shop}, {', '.join(keys_told)}}}]\n", tmp_path).saws == bare.saws


def test_accepted_lengths_are_accepted() -> None:
    """Each example in the table of forms is read, each one under it that is not read is refused."""
    section = PAGE.split("## Lengths\n")[1].split("\n## ")[0]
    table = [row.split("|")[2] for row in section.splitlines() if row.startswith("| ")]
    forms = re.findall(r"`([^`]+)`", " ".join(table))
    assert len(forms) > 20
    for form in forms:
        assert read_length(form, Units.INCH) > 0
    refused = re.findall(r"`([^`]+)`", section.split("Not read")[1].split("\n\n")[0])
    written_right = {"23.5", "2' 3\""}
    assert written_right < set(refused)
    for form in set(refused) - written_right:
        with pytest.raises(LengthError):
            read_length(form, Units.INCH)


def test_accepted_sizes_are_accepted() -> None:
    """Each size written out in the section on sizes is read in an inch job."""
    section = PAGE.split("## Sizes\n")[1].split("\n## ")[0]
    sizes = [text for text in re.findall(r"`([^`]+)`", section) if re.search(r"\d x \d", text)]
    assert len(sizes) == 3
    for size in sizes:
        assert min(read_size(size, Units.INCH)) > 0

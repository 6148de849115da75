"""The reference page of the job file says what the reader does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

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
    assert len(EXAMPLES) == 8


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

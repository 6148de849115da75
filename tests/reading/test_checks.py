"""Whether the values of a job agree with each other."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import pytest

from cutlist.errors import JobFileError
from tests.reading.jobs import changed, job_of

if TYPE_CHECKING:
    from pathlib import Path


def test_thickness_is_compared_exactly(tmp_path: Path) -> None:
    """18 mm, 1.8 cm and 0.018 m are one thickness in an inch job; 0.7087 in is another."""
    for same in ("18 mm", "1.8 cm", "0.018 m", "18.0 mm"):
        assert job_of(
            changed("thickness: 18 mm\n    size: 600", f"thickness: {same}\n    size: 600"),
            tmp_path,
        )
    with pytest.raises(JobFileError, match="1 fault"):
        job_of(
            changed("thickness: 18 mm\n    size: 600", "thickness: 0.7087\n    size: 600"), tmp_path
        )


def test_part_beyond_the_fence_is_sound(tmp_path: Path) -> None:
    """A part wider than the fence reaches may still be crosscut: no fault of the file."""
    job = job_of(changed("34 1/2 × 11 1/4", "40 x 40"), tmp_path)
    assert job.parts[0].width > (job.saw.max_rip or 0)


def test_exactly_fitting_part_is_sound(tmp_path: Path) -> None:
    """A part may be as large as the sheet with its trim off, and not a hair larger."""
    assert job_of(changed("34 1/2 × 11 1/4", "95 1/2 x 47 1/2"), tmp_path)
    with pytest.raises(JobFileError, match="1 fault"):
        job_of(changed("34 1/2 × 11 1/4", "95 1/2 x 47.5001"), tmp_path)


def test_offcut_may_be_what_a_part_fits(tmp_path: Path) -> None:
    """A part larger than all sheets is sound where an offcut holds it, turned if its grain lets."""
    text = changed("size: 40 x 22 1/2", "size: 40 x 120")
    assert job_of(text.replace("34 1/2 × 11 1/4", "30 x 119"), tmp_path)
    with pytest.raises(JobFileError, match="1 fault"):
        job_of(text.replace("34 1/2 × 11 1/4", "119 x 30"), tmp_path)
    turned = text.replace("34 1/2 × 11 1/4", "119 x 30").replace("grain: length", "grain: any")
    assert job_of(turned, tmp_path)


def test_faults_come_in_file_order(tmp_path: Path) -> None:
    """Faults of every kind are in one list, sorted by their place."""
    text = changed("kerf: 1/8", "kerf: !x wide").replace("qty: 3", "qty: 0").replace("in_s", "on_s")
    with pytest.raises(JobFileError) as caught:
        job_of(text, tmp_path)
    places = [(fault.line, fault.column) for fault in caught.value.faults]
    assert len(places) == 4
    assert places == sorted(places)
    assert re.search(
        r"job.yaml: 4 faults\n  line 5, column 9: saw.kerf: type tags", str(caught.value)
    )

"""The random cabinet jobs that set-ups are measured on: what they are, and that they stay so."""

from __future__ import annotations

import hashlib

import pytest

from cutlist.model.job import Grain, Job, Part, Sheet
from tests.benchmarks.cabinets import JOBS, LEAST_PANELS, MOST_PANELS, cabinet_job, with_trim


def fits(part: Part, sheet: Sheet) -> bool:
    """Say whether a part lies within what is left of a sheet without its edges."""
    if (part.material, part.thickness) != (sheet.material, sheet.thickness):
        return False
    room = (sheet.length - 2 * sheet.trim, sheet.width - 2 * sheet.trim)
    turns = [(part.length, part.width)]
    if part.grain is Grain.ANY:
        turns.append((part.width, part.length))
    return any(x <= room[0] and y <= room[1] for x, y in turns)


@pytest.mark.parametrize("trimmed", [False, True])
def test_every_part_fits_a_sheet(trimmed: bool) -> None:
    """Each job has 8 to 50 panels, all of them above 0 and within some sheet, trimmed or not."""
    for number in range(JOBS):
        job = with_trim(cabinet_job(number)) if trimmed else cabinet_job(number)
        assert LEAST_PANELS <= sum(part.qty for part in job.parts) <= MOST_PANELS
        assert all((sheet.trim > 0) is trimmed for sheet in job.sheets)
        for part in job.parts:
            assert part.length > 0
            assert part.width > 0
            assert any(fits(part, sheet) for sheet in job.sheets)


def text_of(job: Job) -> str:
    """Return what defines a job, in a form that no release of the program changes."""
    sheets = [
        (s.name, str(s.thickness), str(s.length), str(s.width), str(s.price)) for s in job.sheets
    ]
    parts = [
        (p.name, p.material, str(p.length), str(p.width), p.qty, p.grain.value) for p in job.parts
    ]
    saw = (str(job.saw.kerf), str(job.saw.max_rip), str(job.saw.scale))
    return repr((job.units.value, saw, sheets, parts))


def test_the_set_stays_the_same() -> None:
    """The recorded figures hold for this set and for no other."""
    text = "\n".join(text_of(cabinet_job(number)) for number in range(JOBS))
    assert hashlib.sha256(text.encode()).hexdigest()[:16] == "394dc60d0660feb8"


def test_the_set_is_varied() -> None:
    """Both units, one and two materials, fences with and without limit, and a second size occur."""
    jobs = [cabinet_job(number) for number in range(JOBS)]
    assert {job.units.value for job in jobs} == {"in", "mm"}
    assert {len({part.material for part in job.parts}) for job in jobs} == {1, 2}
    assert 0 < sum(job.saw.max_rip is not None for job in jobs) < JOBS
    assert any(len({s.material for s in job.sheets}) < len(job.sheets) for job in jobs)
    assert {part.grain for job in jobs for part in job.parts} >= {Grain.ANY, Grain.LENGTH}

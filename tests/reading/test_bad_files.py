"""Every way we know to get a job file wrong, one file each, named after its fault."""

from __future__ import annotations

from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.reading import read_job
from tests.reading.bad_files import EXPECTED

BAD = Path(__file__).parent / "bad"


@pytest.mark.parametrize("name", sorted(EXPECTED))
def test_every_fault_is_told_with_its_place(name: str) -> None:
    """The faults come in file order with line, column, key path and message, and no others."""
    with pytest.raises(JobFileError) as caught:
        read_job(BAD / f"{name}.yaml")
    faults = caught.value.faults
    assert [fault[:3] for fault in EXPECTED[name]] == [
        (fault.line, fault.column, fault.path) for fault in faults
    ]
    for fault, (*_, phrase) in zip(faults, EXPECTED[name], strict=True):
        assert phrase in fault.message
        assert fault.accepted, "each fault shows what may stand there"
        assert len(fault.found) <= 60
        assert "\n" not in fault.found


def test_every_bad_file_is_listed() -> None:
    """No file lies in the folder unread."""
    assert {path.stem for path in BAD.iterdir()} == set(EXPECTED)


def test_marks_point_at_the_text_found() -> None:
    """What a fault found stands at its line and column, where it is one plain value."""
    checked = 0
    for name in EXPECTED:
        with pytest.raises(JobFileError) as caught:
            read_job(BAD / f"{name}.yaml")
        lines = (BAD / f"{name}.yaml").read_bytes().decode("utf-8", "replace").splitlines()
        for fault in caught.value.faults:
            if fault.path and fault.found and fault.found[0] not in "[{" and "…" not in fault.found:
                there = lines[fault.line - 1][fault.column - 1 :].lstrip('"')
                assert there.startswith(fault.found.split(" ")[0]), (name, fault)
                checked += 1
    assert checked > 70

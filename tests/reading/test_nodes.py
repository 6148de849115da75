"""What a file may be, and what a hostile one cannot do."""

from __future__ import annotations

import os
import time
from typing import TYPE_CHECKING

import pytest

from cutlist.errors import JobFileError
from cutlist.reading import read_job
from tests.reading.jobs import SMALLEST, job_of

if TYPE_CHECKING:
    from pathlib import Path


def test_symbolic_link_is_followed(tmp_path: Path) -> None:
    """A link to a job file is as good as the file."""
    (tmp_path / "real.yaml").write_text(SMALLEST, encoding="utf-8")
    (tmp_path / "link.yaml").symlink_to(tmp_path / "real.yaml")
    assert read_job(tmp_path / "link.yaml").name == "Hook board"


@pytest.mark.parametrize("name", ["missing.yaml", "folder", "pipe", "broken-link", "nul\0"])
def test_unreadable_paths(name: str, tmp_path: Path) -> None:
    """A path that is no readable file is a fault without a place, and never blocks."""
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "broken-link").symlink_to(tmp_path / "nowhere")
    with pytest.raises(JobFileError) as caught:
        read_job(tmp_path / name)
    (fault,) = caught.value.faults
    assert (fault.line, fault.column) == (0, 0)
    assert "file" in fault.message


def test_size_limit(tmp_path: Path) -> None:
    """A million bytes are read, one more is refused unread."""
    path = tmp_path / "job.yaml"
    comment = b"#" * (1_000_000 - len(SMALLEST))
    path.write_bytes(SMALLEST.encode() + comment)
    assert read_job(path)
    path.write_bytes(SMALLEST.encode() + comment + b"#")
    with pytest.raises(JobFileError) as caught:
        read_job(path)
    assert "larger than 1,000,000 bytes" in caught.value.faults[0].message


@pytest.mark.slow
@pytest.mark.parametrize("text", ["[", "{", "- ", "? ", "[{", "a: [", "!!", "&a ", "*a ", "%", "'"])
def test_hostile_repetition_ends_soon(text: str, tmp_path: Path) -> None:
    """Deep nesting and the like are refused, without exhausting the stack.

    Four times as much takes less than twelve times as long: a square law would take sixteen.
    """

    def seconds(size: int) -> float:
        started = time.process_time()
        with pytest.raises(JobFileError):
            job_of(text * (size // len(text)), tmp_path)
        return time.process_time() - started

    short = min(seconds(120_000) for _ in range(3))
    assert min(seconds(480_000) for _ in range(3)) < 12 * short + 0.01


def test_alias_bomb_stays_small(tmp_path: Path) -> None:
    """Nine levels of nine references each are 29 nodes and as many faults, not 9**9."""
    lines = ["a0: &a0 x"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 10)]
    with pytest.raises(JobFileError) as caught:
        job_of("\n".join(lines), tmp_path)
    references = [fault for fault in caught.value.faults if fault.found.startswith("*")]
    assert len(references) == 81

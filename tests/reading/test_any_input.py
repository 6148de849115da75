"""Whatever stands in a file, reading gives a job or the list of its faults."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.errors import JobFileError
from cutlist.reading import read_job
from cutlist.telling.understood import describe
from tests.reading.jobs import POTTING_BENCH, job_of

if TYPE_CHECKING:
    from pathlib import Path

SAME_FOLDER = settings(suppress_health_check=[HealthCheck.function_scoped_fixture])


@given(data=st.binary(max_size=300))
@SAME_FOLDER
def test_any_bytes_are_read_or_refused(data: bytes, tmp_path: Path) -> None:
    """No bytes raise anything but the job file error."""
    path = tmp_path / "job.yaml"
    path.write_bytes(data)
    with pytest.raises(JobFileError):
        read_job(path)


@given(
    text=st.text(alphabet="abjo:unitsmq- \n\t[]{}&*!%@`|>'\"#,?\\xU0158/½\u2028\x85é", max_size=200)
)
@SAME_FOLDER
def test_any_yaml_like_text_is_refused(text: str, tmp_path: Path) -> None:
    """Text made of YAML's own marks raises nothing but the job file error."""
    with pytest.raises(JobFileError):
        job_of(text, tmp_path)


@pytest.mark.slow
@given(data=st.data())
@settings(SAME_FOLDER, max_examples=200, deadline=None)
def test_mutated_job_is_read_or_refused(data: st.DataObject, tmp_path: Path) -> None:
    """A sound file with pieces cut, doubled or replaced gives a job or its faults, nothing else."""
    text = POTTING_BENCH
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 12)))
        piece = data.draw(
            st.sampled_from(
                ["", " ", "\n", ":", "- ", "0", "-", "[", "}", '"', "&a ", "*a", "x", "½"]
            )
            | st.text(max_size=5)
            | st.just(text[start:end] * 2)
        )
        text = text[:start] + piece + text[end:]
    with suppress(JobFileError, UnicodeEncodeError):
        job = job_of(text, tmp_path)
        assert describe(job)
        assert all(part.qty >= 1 and part.length > 0 and part.width > 0 for part in job.parts)

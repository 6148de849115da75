"""The examples of the page for programs run, one after the other, as they stand there."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

import cutlist

PAGE = Path(__file__).parents[1] / "docs" / "for-programs.md"


def test_the_examples_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each block of Python goes on from the ones before it, in a folder of its own."""
    monkeypatch.chdir(tmp_path)
    blocks = re.findall(r"```python\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    assert len(blocks) > 8
    space: dict[str, Any] = {}
    for number, block in enumerate(blocks, start=1):
        exec(compile(block, f"{PAGE.name}, example {number}", "exec"), space)
    assert (tmp_path / "shelf" / "plan.pdf").is_file()


def test_every_function_is_on_the_page() -> None:
    """What the entrance offers is shown there."""
    text = PAGE.read_text(encoding="utf-8")
    functions = [name for name in cutlist.__all__ if name.islower() and not name.startswith("_")]
    assert len(functions) > 4
    for name in functions:
        assert f"cutlist.{name}(" in text, name

"""What is printed to a terminal is broken between words."""

from __future__ import annotations

import os
import sys

import pytest
import typer

from cutlist.command.terminal import broken, complain

FAULT = "job.yaml:13:35: parts[1].material: no sheet or offcut is of the material birch plywood"
ACCEPTED = "    accepted: a size is a length and a width with x between them: 34 1/2 x 23 1/4"


@pytest.mark.parametrize("columns", [40, 60, 80, 120])
@pytest.mark.parametrize("line", [FAULT, ACCEPTED])
def test_lines_are_broken_between_words(line: str, columns: int) -> None:
    """No word is parted or lost, and no line is too long."""
    lines = broken(line, columns)
    assert " ".join(part.strip() for part in lines).split() == line.split()
    assert all(len(part) <= columns for part in lines)
    assert len(lines) == 1 if len(line) <= columns else len(lines) > 1


def test_what_runs_on_stands_below_what_the_label_says() -> None:
    """The second line of what is accepted begins below the first word after the colon."""
    first, second, *_ = broken(ACCEPTED, 40)
    assert first.index("a size") == len(second) - len(second.lstrip())
    _, second, *_ = broken(FAULT, 60)
    assert second.startswith("    ")


def test_a_path_stays_whole() -> None:
    """It is there to be copied."""
    path = "/a/very/long/path/that-has-hyphens/" * 4 + "job.yaml"
    assert any(path in line for line in broken(f"error: {path}: no such file", 60))


def test_lines_stay_whole_where_no_terminal_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An editor that reads the faults gets each on its line; a terminal gets them broken."""
    with pytest.raises(typer.Exit):
        complain([FAULT], 2)
    assert capsys.readouterr().err == FAULT + "\n"
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True, raising=False)
    monkeypatch.setattr("shutil.get_terminal_size", lambda: os.terminal_size((60, 24)))
    with pytest.raises(typer.Exit):
        complain([FAULT], 2)
    assert max(map(len, capsys.readouterr().err.splitlines())) <= 60

"""The page of the offcut rack: its walk-through is done just as it stands there, on a sample."""

from __future__ import annotations

import datetime
import json
import re
import shlex
import shutil
from fractions import Fraction
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cutlist.command.main import app
from cutlist.model.edges import Edge
from cutlist.rack import book, booking_text, read_rack
from tests.rack.plans import job, planned
from tests.rack.racks import names

HOME = Path(__file__).parents[1]
PAGE = (HOME / "docs" / "offcut-rack.md").read_text(encoding="utf-8")
SAMPLE = HOME / "sample_projects" / "offcut_rack"
#: The day on which the page says that the job was done.
DAY = "2026-05-09"


def steps() -> list[tuple[str, str]]:
    """Return each command of the page's consoles, and what it prints."""
    consoles = re.findall(r"```console\n(.*?)```", PAGE, re.DOTALL)
    found = re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n)*)", "".join(consoles), re.MULTILINE)
    return [(command, printed) for command, printed in found]


def looks_like(printed: str, told: str) -> bool:
    """Say whether the page has what was printed; a line of three points stands for any number."""
    pattern = re.escape(told).replace(re.escape("...\n"), "(?:.*\n)*")
    return re.fullmatch(pattern, printed) is not None


def test_the_page_has_a_whole_round() -> None:
    """The walk-through makes a rack, fills it, plans, takes, lists, draws and undoes."""
    commands = [shlex.split(command) for command, _ in steps()]
    assert all(words[0] == "cutlist" for words in commands)
    done = [words[2] if words[1] == "offcuts" else words[1] for words in commands]
    order = ["new", "import", "add", "check", "plan", "plan", "list", "draw", "history", "undo"]
    assert done == order
    assert "--take" in commands[5]


def test_the_walk_through_is_what_happens(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each command, called in turn in the sample's folder, prints what the page says."""
    for file in ("garage.csv", "seed-shelf.yaml"):
        shutil.copy(SAMPLE / file, tmp_path)
    monkeypatch.chdir(tmp_path)
    today = datetime.date.today().isoformat()
    for command, told in steps():
        result = CliRunner().invoke(app, shlex.split(command)[1:])
        assert result.exit_code == 0, result.output
        printed = result.output.replace(today, DAY)
        assert looks_like(printed, told), f"{command}\n{printed}"
    assert Path("rack.pdf").read_bytes().startswith(b"%PDF-")
    # The last command undid the taking; what was put there by hand is there again.
    before = ["end of a sheet", "long strip", "cupboard back", "MDF square", "rack 1"]
    assert names(Path("rack.db")) == before
    assert len(read_rack(Path("rack.db")).offcuts) == len(before)


def test_what_looks_alike() -> None:
    """Three points stand for whole lines, and for nothing else."""
    assert looks_like("a\nb\nc\n", "a\n...\nc\n")
    assert looks_like("a\nc\n", "a\n...\nc\n")
    assert not looks_like("a\nb\nc\n", "a\nc\n")
    assert not looks_like("a\nb\nd\n", "a\n...\nc\n")


def keys_below(title: str) -> list[str]:
    """Return the keys in the first column of the first table below a line of the page."""
    table = PAGE.split(title, 1)[1].split("| --- | --- |\n", 1)[1].split("\n\n", 1)[0]
    return [re.findall(r"`(\w+)`", row.split("|")[1])[0] for row in table.splitlines()]


def test_the_page_tells_every_field_of_the_booking(tmp_path: Path) -> None:
    """The tables have the fields that are written, all and no others, in their order."""
    booking = book(planned(job(tmp_path)))
    assert booking is not None
    document = json.loads(booking_text(booking))
    assert keys_below("### rack.json") == list(document)
    assert document["leaving"]
    assert all(keys_below("`leaving[]`") == list(one) for one in document["leaving"])
    assert document["entering"]
    for one, piece in zip(document["entering"], booking.entering, strict=True):
        assert keys_below("`entering[]`") == list(one)
        lengths = [one[key] for key in ("thickness", "length", "width", "trim")]
        assert all(re.fullmatch(r"\d+(/[1-9]\d*)?", text) for text in lengths)
        assert Fraction(one["length"]) == piece.length
        assert one["edges"] == [edge for edge in Edge if edge in piece.edges]
    assert any(one["edges"] for one in document["entering"])
    assert document["format"] in PAGE

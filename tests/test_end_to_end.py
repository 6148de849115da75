"""From a job to a sound plan: random jobs and the sample projects, replayed a second way.

The number of random jobs is raised by the environment variable ``CUTLIST_RANDOM_JOBS``.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

import cutlist
from cutlist.audit import audit
from cutlist.command.main import app
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.make import make_plan
from tests.random_jobs import random_job, with_matches
from tests.random_loads import with_load
from tests.replay import replay

SAMPLES = sorted((Path(__file__).parent.parent / "sample_projects").glob("*.yaml"))
JOBS = int(os.environ.get("CUTLIST_RANDOM_JOBS", "60"))


@pytest.mark.slow
@pytest.mark.parametrize("number", range(JOBS))
def test_random_job(number: int) -> None:
    """A random job's plan passes the audit and the independent replay, as its document too."""
    job = random_job(number)
    if number % 4 == 1:
        job = with_matches(job)
    if number % 4 == 2:
        job = with_load(job, number)
    steps = (50, 200, 600)[number % 3]
    plan = make_plan(job, seed=number, allowance=Allowance(steps=steps))
    assert audit(plan) == ()
    document = json.loads(json.dumps(to_document(plan)))
    assert replay(document, job) == []


def planned(path: Path, folder: Path, *options: str) -> dict[str, Any]:
    """Plan a job from the command line and read what was written."""
    arguments = ["plan", str(path), "-o", str(folder), "--steps", "1500", "--write", "json"]
    result = CliRunner().invoke(app, [*arguments, *options])
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    document: dict[str, Any] = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
    return document


def test_there_are_samples() -> None:
    """The samples that the tests below go through are there."""
    assert len(SAMPLES) >= 3


@pytest.mark.slow
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_sample_project(path: Path, tmp_path: Path) -> None:
    """A sample project plans soundly from the command line."""
    document = planned(path, tmp_path)
    job = cutlist.read_job(path)
    assert replay(document, job) == []
    assert document["job"]["name"] == job.name
    assert document["job"]["sha256"] == job.sha256
    assert document["job"]["text"] == path.read_text(encoding="utf-8")
    # Grouped by setting the saw is set far less often than it cuts.
    assert document["totals"]["setups"] < document["totals"]["cuts"] / 2


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_sample_project_is_described(path: Path) -> None:
    """A sample project is understood without a fault, each part being named."""
    result = CliRunner().invoke(app, ["check", str(path)])
    assert result.exit_code == 0
    for part in cutlist.read_job(path).parts:
        assert part.name in result.stdout


def test_units_change_nothing(tmp_path: Path) -> None:
    """A job in inches and the same lengths in millimetres are planned alike (1 in = 25.4 mm).

    The saw's limits are given, since what is usual is rounded in each unit.
    """
    inches = """
job: Shelf
units: in
saws:
  - {kind: table saw, kerf: 1/8, smallest_piece: 12 in, steady_edge: 11 in, thinnest_strip: 1 in}
  - {kind: sled, kerf: 1/8, max_rip: 48 in, longest_cut: 24 in, largest_piece: 97 in x 13 in}
sheets:
  - {name: full, material: ply, thickness: 1/2, size: 96 x 48, price: 50}
parts:
  - {name: shelf, material: ply, size: 30 x 11 1/4, qty: 5}
  - {name: side, material: ply, size: 40 x 12, qty: 2}
"""
    millimetres = inches.replace("units: in", "units: mm")
    for text, unit in (("1/8", "3.175"), ("1/2", "12.7"), ("96 x 48", "2438.4 x 1219.2")):
        millimetres = millimetres.replace(text, unit)
    millimetres = millimetres.replace("30 x 11 1/4", "762 x 285.75")
    millimetres = millimetres.replace("40 x 12", "1016 x 304.8")
    documents = []
    for name, text in (("in", inches), ("mm", millimetres)):
        path = tmp_path / f"{name}.yaml"
        path.write_text(text)
        documents.append(planned(path, tmp_path / name))
    one, other = documents
    for key in ("sheets", "cost", "setups", "cuts", "parts"):
        assert one["totals"][key] == other["totals"][key]
    distances = [[s["distance"] for s in document["settings"]] for document in documents]
    assert [d * 25.4 for d in distances[0]] == pytest.approx(distances[1])

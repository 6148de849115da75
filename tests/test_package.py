"""The package from outside: its names, how light it is, and its errors."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import cutlist
from cutlist import errors
from cutlist.errors import CutlistError
from cutlist.model.plan import Plan

HEAVY = ("numba", "numpy", "ortools", "reportlab", "shapely", "rich", "yaml")

SHELF = """
job: Shelf
units: mm
saw: {kerf: 3}
sheets:
  - {name: full, material: ply, thickness: 18, size: 2440 x 1220, price: 50}
parts:
  - {name: shelf, material: ply, size: 900 x 300, qty: 4}
"""


def loaded_by(code: str, *arguments: str) -> list[str]:
    """Run code in a child process and return which heavy packages it loaded."""
    report = f"import sys\nprint('|'.join(m for m in {HEAVY!r} if m in sys.modules))"
    child = subprocess.run(
        [sys.executable, "-c", f"{code}\n{report}", *arguments],
        capture_output=True,
        text=True,
        check=True,
    )
    return [name for name in child.stdout.splitlines()[-1].split("|") if name]


FUNCTIONS = {"compare", "job_from", "plan", "read_job", "read_plan", "write"}
ERRORS = {
    *("AuditError", "CannotCutError", "CutlistError", "JobError", "JobFileError", "LengthError"),
    *("PlanFileError", "RackError", "RackFileError", "StoppedError", "WriteError"),
}
CLASSES = {
    *("Bounds", "Caution", "CompareWatcher", "Cut", "Density", "Device", "Direction", "Edge"),
    *("EdgeTrims", "Fault", "FaultCode", "Goal", "Grain", "Hazard", "Job", "KeepFrom", "Leftover"),
    *("FactoryEdge", "Match", "Offcut", "Operation", "Panel", "Paper", "Part", "Piece", "Place"),
    "Plan",
    *(
        "PlanSoFar",
        "Purchase",
        "Purpose",
        "Reason",
        "ReasonCode",
        "Remainders",
        "Saw",
        "SawKind",
        "SawSetup",
        "Setup",
    ),
    *(
        "Sheet",
        "SizeCheck",
        "SizeOrigin",
        "Store",
        "Totals",
        "Units",
        "Variant",
        "Vehicle",
        "Watcher",
    ),
    *("WhenAsked", "Workpiece"),
}
VALUES = {"A4", "LETTER", "__version__"}


def test_public_names_are_pinned_and_there() -> None:
    """All public names exist, each is told, and nothing else is public."""
    assert set(cutlist.__all__) == FUNCTIONS | ERRORS | CLASSES | VALUES
    assert len(cutlist.__all__) == len(set(cutlist.__all__))
    for name in cutlist.__all__:
        assert getattr(cutlist, name)
        assert name in VALUES or getattr(cutlist, name).__doc__
    assert set(cutlist.__all__) <= set(dir(cutlist))
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        cutlist.nothing  # noqa: B018
    child = "import cutlist, types\nprint([n for n, v in vars(cutlist).items()"
    child += " if n[0] != '_' and not isinstance(v, types.ModuleType)])"
    listed = subprocess.run(
        [sys.executable, "-c", child], capture_output=True, text=True, check=True
    ).stdout
    public = set(json.loads(listed.replace("'", '"')))
    assert public - {"annotations", "TYPE_CHECKING", "Any", "Final", "import_module"} == FUNCTIONS


def test_every_error_has_one_root() -> None:
    """Whoever catches the root catches all."""
    for name in ERRORS:
        assert issubclass(getattr(cutlist, name), cutlist.CutlistError)


def test_import_is_light() -> None:
    """Importing the package loads none of the heavy packages."""
    assert loaded_by("import cutlist") == []


HELP = """
import sys
sys.argv = ["cutlist", "--help"]
from cutlist.command.main import main
try:
    main()
except SystemExit:
    pass
"""


def test_help_is_light() -> None:
    """Asking for help loads none of the heavy packages."""
    assert loaded_by(HELP) == []


def test_help_is_quick() -> None:
    """Help takes less than twice the processor time of importing what words it."""

    def seconds(*arguments: str) -> float:
        taken = []
        for _ in range(4):
            before = os.times()
            subprocess.run([sys.executable, *arguments], capture_output=True, check=True)
            after = os.times()
            taken.append(sum(after[2:4]) - sum(before[2:4]))
        return min(taken)

    words = "import typer, typer.rich_utils, rich.table, rich.panel, rich.markdown"
    assert seconds("-m", "cutlist", "--help") < 2 * seconds("-c", words)


JSON_ONLY = """
import sys
from cutlist.command.main import app
app(["plan", sys.argv[1], "--write", "json", "--steps", "50", "--quiet"], standalone_mode=False)
"""


@pytest.mark.slow
def test_json_alone_needs_no_pdf_work(tmp_path: Path) -> None:
    """Writing plan.json alone loads nothing that makes PDFs."""
    job = tmp_path / "shelf.yaml"
    job.write_text(SHELF)
    assert "reportlab" not in loaded_by(JSON_ONLY, str(job))
    assert (tmp_path / "shelf" / "plan.json").exists()


def test_reading_needs_no_search(tmp_path: Path) -> None:
    """Checking a job loads neither the compiler nor the solver nor the PDF."""
    job = tmp_path / "shelf.yaml"
    job.write_text(SHELF)
    loaded = loaded_by("import sys, cutlist\ncutlist.read_job(sys.argv[1])", str(job))
    assert not {"numba", "ortools", "reportlab", "shapely"} & set(loaded)


def test_read_plan_write(tmp_path: Path) -> None:
    """The entrance for programs reads, plans and writes."""
    path = tmp_path / "shelf.yaml"
    path.write_text(SHELF)
    job = cutlist.read_job(path)
    plan = cutlist.plan(job, seconds=None, steps=100, seed=3)
    assert isinstance(plan, Plan)
    assert plan.job == job
    (written,) = cutlist.write(plan, tmp_path / "out", ("json",))
    assert written == tmp_path / "out" / "plan.json"
    assert json.loads(written.read_text())["totals"]["parts"] == 4


def every_error() -> list[type[CutlistError]]:
    """Return the root of the errors and all below it."""
    found: list[type[CutlistError]] = [CutlistError]
    for kind in found:
        found += kind.__subclasses__()
    return found


@pytest.mark.parametrize("kind", every_error(), ids=lambda kind: kind.__name__)
def test_exit_status_of_every_error(kind: type[CutlistError]) -> None:
    """Every error ends the command with one of the statuses that are documented."""
    assert kind.exit_status in {1, 2, 3, 130}


def test_the_tree_in_the_docstring() -> None:
    """The tree printed in the module of errors has every error there with its exit status."""
    shown = errors.__doc__ or ""
    own = [kind for kind in every_error() if kind.__module__ == "cutlist.errors"]
    assert len(own) > 3
    for kind in own:
        line = next(line for line in shown.splitlines() if kind.__name__ in line)
        assert str(kind.exit_status) in line.split(kind.__name__)[1].split()[:3]

"""The commands of the rack, as they are typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cutlist.command.main import app
from cutlist.rack import read_rack
from tests.rack.plans import JOB
from tests.rack.racks import names

RUNNER = CliRunner()
PIECE = ("--material", "birch ply", "--thickness", "18 mm")


def run(*words: object, status: int = 0) -> str:
    """Run the command and return what it printed, errors included."""
    result = RUNNER.invoke(app, [str(word) for word in words])
    assert result.exit_code == status, result.output
    return result.output


@pytest.fixture
def rack(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a new rack in inches, with one strip on it, in the folder of the command."""
    monkeypatch.chdir(tmp_path)
    path = Path("rack.db")
    run("offcuts", "new", path, "--units", "in")
    run("offcuts", "add", path, *PIECE, "--size", "50 x 7", "--name", "strip")
    return path


def test_a_rack_by_hand(rack: Path) -> None:
    """Pieces are put on the rack, listed, taken off; each change is told and undone."""
    told = run("offcuts", "add", rack, *PIECE, "--size", "40 x 22 1/2", "--trim", "1/4")
    assert told.splitlines() == [
        "rack.db: 2 on the rack now",
        '  on       rack 1: birch ply 18 mm, 40" × 22 1/2", clean off 1/4": all edges',
    ]
    listed = run("offcuts", "list", rack).splitlines()
    assert [line.split("  ")[0] for line in listed] == ["name", "strip", "rack 1"]
    assert max(map(len, listed)) <= 80
    assert "  off      strip" in run("offcuts", "remove", rack, "strip")
    assert "undone: change 3, remove; 2 on the rack now" in run("offcuts", "undo", rack)
    assert "made again: change 3, remove; 1 on" in run("offcuts", "redo", rack)
    for _ in range(3):
        run("offcuts", "undo", rack)
    assert "there is nothing to undo" in run("offcuts", "undo", rack)
    assert "there is nothing on the rack" in run("offcuts", "list", rack)
    rows = run("offcuts", "history", rack).splitlines()[1:]
    assert [row.split()[0] for row in rows] == ["3", "2", "1"]
    assert [row.split(maxsplit=3)[3] for row in rows] == [
        "undone  off strip",
        "undone  on rack 1",
        "undone  on strip",
    ]


def test_history_elsewhere_than_on_a_terminal(rack: Path) -> None:
    """Piped or kept in a file, a change is one line, however many and long the names in it are."""
    long = [f"board from the far corner of the garage, number {n}" for n in range(60)]
    lines = [f'"{name}",MDF,1/2,40 x 20' for name in long]
    Path("in.csv").write_text("\n".join(["name,material,thickness,size", *lines]), encoding="utf-8")
    run("offcuts", "import", rack, "in.csv", "--replace")
    rows = run("offcuts", "history", rack).splitlines()
    assert len(rows) == 3
    assert rows[1].endswith(f"on {', '.join(long)}; off strip")
    assert rows[2].endswith("  on strip")


def test_faults_by_hand(rack: Path) -> None:
    """What is wrong is told all at once, with status 2, and nothing changes."""
    words = ("offcuts", "add", rack, "--material", "MDF", "--thickness", "x", "--size", "40")
    told = run(*words, status=2)
    assert "offcuts add: thickness: " in told
    assert "offcuts add: size: " in told
    assert "2 faults in offcuts add; the rack is as it was" in told
    assert "not on the rack: door" in run("offcuts", "remove", rack, "door", status=2)
    assert "make one: cutlist offcuts new away.db" in run("offcuts", "list", "away.db", status=2)
    assert "there is a rack already" in run("offcuts", "new", rack, "--units", "mm", status=2)
    assert names(rack) == ["strip"]


def test_a_material_that_looks_like_a_slip(rack: Path) -> None:
    """A new material is taken as it is; one nearly like another on the rack is pointed out."""
    words = ("offcuts", "add", rack, "--thickness", "18 mm", "--size", "40 x 20", "--material")
    assert "if birch ply is meant, undo this" in run(*words, "birch pyl")
    assert "note" not in run(*words, "birch ply")
    assert "note" not in run(*words, "MDF")


@pytest.mark.slow
def test_out_and_in_again(rack: Path) -> None:
    """A rack that is exported and imported elsewhere is the same, in a rack of either unit."""
    run("offcuts", "add", rack, *PIECE, "--size", "22 1/3 x 600 mm", "--trim", "5 mm")
    run("offcuts", "export", rack, "rack.csv")
    for units in ("in", "mm"):
        other = f"{units}.db"
        run("offcuts", "new", other, "--units", units)
        run("offcuts", "import", other, "rack.csv")
        assert read_rack(Path(other)).offcuts == read_rack(rack).offcuts
        assert "the rack and the list agree" in run("offcuts", "import", other, "rack.csv")
    Path("rack.csv").write_text("material,thickness,size\nMDF,1/2,40 x 20\n", encoding="utf-8")
    run("offcuts", "import", rack, "rack.csv", "--replace")
    assert names(rack) == ["rack 2"]
    run("offcuts", "undo", rack)
    assert names(rack) == ["strip", "rack 1"]
    Path("rack.csv").write_text("material,thickness,size\nMDF,1/2,40\n", encoding="utf-8")
    told = run("offcuts", "import", rack, "rack.csv", status=2)
    assert told.startswith("rack.csv:2:1: size: ")
    assert "1 fault in rack.csv; the rack is as it was" in told


def test_the_drawing_lies_beside_the_rack(rack: Path) -> None:
    """The PDF is named after the rack, or as asked; it never takes the place of the rack."""
    assert run("offcuts", "draw", rack) == "written  rack.pdf\n"
    assert Path("rack.pdf").read_bytes().startswith(b"%PDF-")
    assert run("offcuts", "draw", rack, "-o", "other.pdf") == "written  other.pdf\n"
    assert "this is the rack itself" in run("offcuts", "draw", rack, "-o", rack, status=2)
    assert names(rack) == ["strip"]


def test_from_plan_to_rack(rack: Path) -> None:
    """A plan changes nothing until it is taken; then the rack has what it left over, once."""
    Path("bench.yaml").write_text(JOB, encoding="utf-8")
    before = rack.read_bytes()
    told = run("plan", "bench.yaml", "--steps", 200, "--write", "json")
    assert "not changed yet; once all is cut: cutlist plan JOB --take" in told
    assert rack.read_bytes() == before
    plan = Path("bench/plan.json").read_bytes()
    told = run("plan", "bench.yaml", "--take")
    assert told.startswith("taken: Bench\n  off      strip: ")
    assert "is now rack 1: birch ply 18 mm" in told
    assert Path("bench/plan.json").read_bytes() == plan
    kept = [one["piece"] for one in json.loads(plan)["offcuts"] if one["keep"]]
    assert names(rack) == [f"rack {number}" for number in range(1, len(kept) + 1)]
    assert all(f"piece {name} is now" in told for name in kept)
    assert "taken already" in run("plan", "bench.yaml", "--take", status=1)
    assert "undone: change 2, take of Bench; 1 on" in run("offcuts", "undo", rack)
    assert run("plan", "bench.yaml", "--take", "--quiet") == ""


def test_planning_and_taking_at_once(rack: Path) -> None:
    """Where no plan lies yet, one is made, written, and taken."""
    Path("bench.yaml").write_text(JOB, encoding="utf-8")
    told = run("plan", "bench.yaml", "--steps", 200, "--write", "json", "--take")
    assert "written  bench/plan.json" in told
    assert "not changed yet" not in told
    assert "taken: Bench" in told
    assert "strip" not in names(rack)


def test_a_plan_made_before_the_piece_left(rack: Path) -> None:
    """A plan whose piece another command took is refused with status 1, and nothing changes."""
    Path("bench.yaml").write_text(JOB, encoding="utf-8")
    run("plan", "bench.yaml", "--steps", 200, "--write", "json")
    run("offcuts", "remove", rack, "strip")
    told = run("plan", "bench.yaml", "--take", status=1)
    assert "cuts up what is no longer on the rack: strip" in told
    assert names(rack) == []
    Path("bench.yaml").write_text(JOB.replace("offcuts: rack.db\n", ""), encoding="utf-8")
    assert "names no offcut rack" in run("plan", "bench.yaml", "--take", status=2)

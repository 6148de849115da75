"""The command: exit statuses, streams, options, and Ctrl-C."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

import pytest
from typer.testing import CliRunner

from cutlist.command.main import app
from cutlist.planning.packing.pack import Packed
from cutlist.planning.stages import Stages

SHELF = """
job: Shelf
units: mm
saw: {kerf: 3}
sheets:
  - {name: full, material: ply, thickness: 18, size: 2440 x 1220, price: 50}
  - {name: half, material: ply, thickness: 18, size: 1220 x 1220, price: 30}
parts:
  - {name: shelf, material: ply, size: 900 x 300, qty: 4}
"""
TOO_LONG = SHELF.replace("size: 2440 x 1220, price: 50", "size: 950 x 999, price: 50, in_stock: 1")
TOO_LONG = TOO_LONG.replace("size: 1220 x 1220, price: 30", "size: 800 x 800, price: 30")
STEPS = ("--steps", "60")


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return the path of a small job."""
    path = tmp_path / "shelf.yaml"
    path.write_text(SHELF)
    return path


@dataclass(frozen=True, slots=True)
class Ran:
    """What a run of the command came to."""

    exit_code: int
    stdout: str
    stderr: str
    exception: BaseException | None


def run(*arguments: str | Path, stages: Stages | None = None) -> Ran:
    """Run the command in this process, with other stages of planning where some are given."""
    result = CliRunner().invoke(app, [str(argument) for argument in arguments], obj=stages)
    return Ran(result.exit_code, result.stdout, result.stderr, result.exception)


def fails(result: Ran, status: int) -> str:
    """Check that a run ended with a status, printed no result and no traceback; give its errors."""
    assert result.exit_code == status, result
    assert result.stdout == ""
    assert result.stderr.strip()
    assert "Traceback" not in result.stderr
    return result.stderr


def test_plan_writes_beside_the_job(job: Path) -> None:
    """A plan is made, told on standard output, and written into a folder named after the job."""
    result = run("plan", job, *STEPS)
    assert result.exit_code == 0
    assert result.stderr == ""
    assert result.stdout.startswith("Shelf\n")
    folder = job.parent / "shelf"
    assert sorted(path.name for path in folder.iterdir()) == ["plan.json", "plan.pdf"]
    assert f"written  {folder / 'plan.json'}" in result.stdout
    document = json.loads((folder / "plan.json").read_text())
    assert document["job"]["name"] == "Shelf"
    assert document["totals"]["parts"] == 4


def test_job_without_suffix_keeps_its_name(tmp_path: Path) -> None:
    """A job file without a suffix gets a folder of another name beside it."""
    path = tmp_path / "shelf"
    path.write_text(SHELF)
    assert run("plan", path, *STEPS, "--write", "json").exit_code == 0
    assert path.is_file()
    assert (tmp_path / "shelf-plan" / "plan.json").exists()


def test_out_and_write(job: Path, tmp_path: Path) -> None:
    """The folder and the documents are chosen by options."""
    folder = tmp_path / "deep" / "er"
    assert run("plan", job, *STEPS, "-o", folder, "--write", "json").exit_code == 0
    assert [path.name for path in folder.iterdir()] == ["plan.json"]
    assert run("plan", job, *STEPS, "--out", folder, "--write", "pdf, json").exit_code == 0
    assert sorted(path.name for path in folder.iterdir()) == ["plan.json", "plan.pdf"]
    assert not (tmp_path / "shelf").exists()


def test_quiet_prints_nothing(job: Path) -> None:
    """With --quiet a plan is written and nothing printed."""
    result = run("plan", job, *STEPS, "--quiet", "--write", "json")
    assert (result.exit_code, result.stdout, result.stderr) == (0, "", "")
    assert (job.parent / "shelf" / "plan.json").exists()


def test_seed_and_steps_repeat(job: Path, tmp_path: Path) -> None:
    """The same seed, steps and date give the same bytes."""
    for name in ("one", "two"):
        options = ("--seed", "7", "--date", "2024-02-29", "--paper", "letter", "--quiet")
        assert run("plan", job, *STEPS, *options, "-o", tmp_path / name).exit_code == 0
    for name in ("plan.pdf", "plan.json"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


def test_check_plans_nothing(job: Path) -> None:
    """A check tells what was understood and writes nothing."""
    result = run("check", job)
    assert result.exit_code == 0
    assert result.stderr == ""
    assert "Shelf" in result.stdout
    assert "shelf" in result.stdout
    assert list(job.parent.iterdir()) == [job]


@pytest.mark.parametrize("command", ["check", "plan", "compare"])
def test_faulty_job(command: str, tmp_path: Path) -> None:
    """All faults of a job file are told with their places, status 2, nothing written."""
    path = tmp_path / "bad.yaml"
    path.write_text(SHELF.replace("kerf: 3", "kerf: wide").replace("qty: 4", "qty: none"))
    told = fails(run(command, path), 2)
    assert f"{path}:4:13: saw.kerf:" in told
    assert "qty" in told
    assert "accepted:" in told
    assert "2 faults" in told
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("command", ["check", "plan", "compare"])
def test_no_such_file(command: str, tmp_path: Path) -> None:
    """A job file that is not there is a fault of the command line."""
    assert "nothing.yaml" in fails(run(command, tmp_path / "nothing.yaml"), 2)


def test_a_folder_is_no_job(tmp_path: Path) -> None:
    """A folder in place of the job file is told like any other fault."""
    assert str(tmp_path) in fails(run("plan", tmp_path), 2)


@pytest.mark.parametrize(
    "options",
    [
        ("--write", "json,dxf"),
        ("--write", ","),
        ("--steps", "0"),
        ("--steps", "many"),
        ("--seconds", "-1"),
        ("--seconds", "soon"),
        ("--seed", "-1"),
        ("--paper", "a7"),
        ("--date", "29.2.2024"),
        ("--date", "2023-02-29"),
        ("--unknown",),
        ("another.yaml",),
    ],
)
def test_wrong_command_line(job: Path, options: tuple[str, ...]) -> None:
    """A wrong option is told, status 2, nothing written."""
    fails(run("plan", job, *options), 2)
    assert list(job.parent.iterdir()) == [job]


def test_paper_is_named_either_way(job: Path) -> None:
    """The names of papers are read in capitals too."""
    assert run("plan", job, *STEPS, "--paper", "A4", "--quiet").exit_code == 0


def test_a_wrong_day_names_the_form(job: Path) -> None:
    """A day that is none is told with an example of one."""
    told = fails(run("plan", job, "--date", "30.2.2024"), 2)
    assert "found 30.2.2024; accepted: a day such as 2026-01-02" in " ".join(told.split())


def test_a_wrong_paper_names_those_there_are(job: Path) -> None:
    """Paper that is none is told in plain words; capitals do not matter."""
    told = " ".join(fails(run("plan", job, "--paper", "a3"), 2).split())
    assert "found a3; accepted: a4, letter" in told
    assert "Value error" not in told
    assert "[a4|letter]" in run("plan", "--help").stdout


def test_version() -> None:
    """The version is told without a command."""
    from cutlist import __version__

    assert run("--version").stdout == f"cutlist {__version__}\n"


def test_a_shortage_names_the_way_out(job: Path) -> None:
    """Where the stock falls short the option that helps is named, to the command that has it."""
    job.write_text(TOO_LONG)
    assert "with --partial" in fails(run("plan", job, *STEPS), 1)
    assert "--partial" not in run("compare", job, *STEPS).stdout
    result = run("plan", job, *STEPS, "--partial", "--write", "json")
    assert result.exit_code == 0
    assert "left out" in result.stdout


def test_seconds_are_a_number(job: Path) -> None:
    """What is no number is refused like any other wrong option."""
    fails(run("plan", job, "--seconds", "nan"), 2)


def test_unknown_document_names_the_accepted(job: Path) -> None:
    """The words accepted by --write are told."""
    told = fails(run("plan", job, "--write", "dxf"), 2)
    assert "found dxf; accepted: pdf, json" in " ".join(told.split())


def test_cannot_be_cut(tmp_path: Path) -> None:
    """A sound job that cannot be cut ends with 1 and names the part; so does a comparison."""
    path = tmp_path / "long.yaml"
    path.write_text(TOO_LONG)
    told = fails(run("plan", path, *STEPS), 1)
    assert told.startswith("cannot be cut: ")
    assert "shelf" in told
    result = run("compare", path, *STEPS)
    assert result.exit_code == 1
    assert "cannot serve" in result.stdout
    assert list(tmp_path.iterdir()) == [path]


def test_audit_refuses(job: Path) -> None:
    """A plan that the audit refuses ends with 3: the findings are told and nothing is written."""
    told = fails(run("plan", job, *STEPS, stages=Stages(audit=lambda _: ("KERF at cut 3",))), 3)
    assert "KERF at cut 3" in told
    assert "bug" in told
    assert list(job.parent.iterdir()) == [job]


def test_folder_that_cannot_be_made(job: Path, tmp_path: Path) -> None:
    """A folder whose name a file has is refused with status 1, before any search."""
    for command in ("plan", "compare"):
        told = fails(run(command, job, "--seconds", "600", "-o", job), 1)
        assert f"{job}: this is a file; a folder is wanted" in told
    told = fails(run("plan", job, "--seconds", "600", "-o", job / "below"), 1)
    assert f"{job} is a file" in told
    assert job.read_text() == SHELF


def test_debug_shows_the_error(tmp_path: Path) -> None:
    """With --debug the error itself comes through."""
    path = tmp_path / "long.yaml"
    path.write_text(TOO_LONG)
    result = run("plan", path, *STEPS, "--debug")
    assert type(result.exception).__name__ == "CannotCutError"


@pytest.mark.slow
def test_compare_tells_and_writes(job: Path, tmp_path: Path) -> None:
    """A comparison is told as a table, and written where a folder is named."""
    out = tmp_path / "out"
    result = run("compare", job, *STEPS, "-o", out)
    assert result.exit_code == 0
    assert result.stderr == ""
    lines = result.stdout.splitlines()
    assert lines[-2:] == [f"written  {out / 'compare.pdf'}", f"written  {out / 'compare.json'}"]
    document = json.loads((out / "compare.json").read_text())
    assert len(document["variants"]) == 3
    assert (out / "compare.pdf").read_bytes().startswith(b"%PDF")
    assert run("compare", job, *STEPS, "--quiet").stdout == ""
    assert run("compare", job, *STEPS, "-o", tmp_path / "one", "--write", "json").exit_code == 0
    assert [path.name for path in (tmp_path / "one").iterdir()] == ["compare.json"]


def test_compare_varies_a_number(job: Path, tmp_path: Path) -> None:
    """Each value is planned on each sheet, beside the others, and told in the document."""
    more: list[str | Path] = ["--vary", "kerf=3,2", "-o", tmp_path, "--write", "json"]
    assert run("compare", job, *STEPS, *more).exit_code == 0
    document = json.loads((tmp_path / "compare.json").read_text())
    values = [one["varied"]["saw.kerf"] for one in document["variants"]]
    assert values == ["3", "2"] * 3


@pytest.mark.parametrize("asked", ["kerf=wide", "saw.kref=3", "parts[9].qty=1", "kerf", "job=3"])
def test_what_cannot_be_varied(job: Path, asked: str) -> None:
    """A wrong key or value ends with status 2 and names what was asked for."""
    result = run("compare", job, *STEPS, "--vary", asked)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert asked in result.stderr
    assert "accepted:" in result.stderr


def test_interrupt_before_a_plan(job: Path) -> None:
    """Ctrl-C before there is a plan ends with 130 and writes nothing."""

    def interrupt(*_: object) -> Packed:
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(1)
        raise AssertionError("nobody heard")

    # What runs in the background may have been started with Ctrl-C ignored.
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    try:
        assert "interrupted" in fails(run("plan", job, *STEPS, stages=Stages(pack=interrupt)), 130)
        assert list(job.parent.iterdir()) == [job]
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)


def test_interrupt_while_writing(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while the documents are written does not lose the plan."""
    from cutlist.output import writing

    made = writing._json

    def interrupted(plan: object) -> bytes:
        os.kill(os.getpid(), signal.SIGINT)
        return made(plan)  # type: ignore[arg-type]

    monkeypatch.setattr(writing, "_json", interrupted)
    result = run("plan", job, *STEPS)
    assert result.exit_code == 0, result
    assert (job.parent / "shelf" / "plan.json").exists()


def child(*arguments: str | Path, code: str | None = None) -> subprocess.Popen[str]:
    """Start the command as a process of its own."""
    start = [sys.executable, "-m", "cutlist"] if code is None else [sys.executable, "-c", code]
    return subprocess.Popen(
        [*start, *(str(argument) for argument in arguments)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


#: A job of many sizes whose cost cannot be proven, so that the search goes on till it is ended.
HARD = "job: Hard\nunits: mm\nsaw: {kerf: 3}\nsheets:\n"
HARD += "  - {name: full, material: ply, thickness: 18, size: 2440 x 1220, price: 50, trim: 6}\n"
HARD += "parts:\n" + "".join(
    f"  - {{name: p{i}, material: ply, size: {311 + 67 * i} x {207 + 41 * i}, qty: 3}}\n"
    for i in range(12)
)

WITH_A_MARK = """
import sys
from cutlist.command import progress
heard = progress.QuietWatcher.heard
def marked(self, plan):
    before = self.has_plan
    heard(self, plan)
    if self.has_plan and not before:
        print("in hand", file=sys.stderr, flush=True)
progress.QuietWatcher.heard = marked
from cutlist.command.main import main
main()
"""

STUCK = """
import sys, time
from cutlist.planning.stages import Stages
def pack(division, terms):
    print("searching", file=sys.stderr, flush=True)
    time.sleep(60)
from cutlist.command.main import main
main(Stages(pack=pack))
"""


@pytest.mark.slow
def test_interrupt_with_a_plan_in_hand(tmp_path: Path) -> None:
    """Ctrl-C in a long search takes the best plan so far: it is written, status 0."""
    path = tmp_path / "hard.yaml"
    path.write_text(HARD)
    process = child("plan", path, "--seconds", "120", "--write", "json", code=WITH_A_MARK)
    assert process.stderr
    assert process.stderr.readline() == "in hand\n"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, "")
    assert out.startswith("Hard\n")
    assert (tmp_path / "hard" / "plan.json").exists()


COMPARING = """
import sys
from cutlist.command import progress
class Marked(progress.ComparingWatcher):
    def began(self, variant):
        super().began(variant)
        sys.stderr.write("began\\n")
    def ended(self, done, of):
        super().ended(done, of)
        sys.stderr.write(f"{done} of {of}\\n")
progress.ComparingWatcher = Marked
from cutlist.command.main import main
main()
"""
THREE = HARD.replace("sheets:\n", "sheets:\n  - {name: half, material: ply, thickness: 18, "
                     "size: 1220 x 1220, price: 30, trim: 6}\n")  # fmt: skip


@pytest.mark.slow
def test_interrupt_of_a_comparison(tmp_path: Path) -> None:
    """Ctrl-C keeps the ways that are planned, names the others, and ends with 0."""
    path = tmp_path / "hard.yaml"
    path.write_text(THREE)
    words = ("--seconds", "2", "-o", tmp_path / "out", "--write", "json,pdf")
    process = child("compare", path, *words, code=COMPARING)
    assert process.stderr
    while (line := process.stderr.readline()) != "1 of 3\n":
        assert line, "the comparison ended by itself"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 0, err
    assert "Traceback" not in err
    assert "of 3" not in err
    assert "not planned, for the comparison was interrupted" in " ".join(out.split())
    assert (tmp_path / "out" / "compare.pdf").read_bytes().startswith(b"%PDF")
    document = json.loads((tmp_path / "out" / "compare.json").read_text())
    rows = document["variants"]
    assert [row["serves"] for row in rows] == [True, None, None]
    assert rows[0]["totals"]["parts"] == 36
    assert all(row["reason"] == "interrupted" and "totals" not in row for row in rows[1:])


@pytest.mark.slow
def test_interrupt_of_a_comparison_without_a_plan(tmp_path: Path) -> None:
    """Ctrl-C before any way is planned ends with 130, in one line, and writes nothing."""
    path = tmp_path / "hard.yaml"
    path.write_text(THREE)
    process = child("compare", path, "--seconds", "120", "-o", tmp_path / "out", code=COMPARING)
    assert process.stderr
    while (line := process.stderr.readline()) != "began\n":
        assert line, "the comparison ended by itself"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (130, "")
    assert "interrupted" in err
    assert "Traceback" not in err
    assert not list(tmp_path.glob("out/*"))


def test_choosing_fillings_leaves_ctrl_c_alone() -> None:
    """The solver behind the choice among fillings does not take the handler of Ctrl-C away."""
    code = """
import os, signal, numpy as np
from cutlist.nesting.columns.choosing import choose
heard = []
signal.signal(signal.SIGINT, lambda *_: heard.append(1))
demand = np.array([3, 2]); column = (0, np.array([1, 1], np.int32))
assert choose(demand, [column], [5], [None], 100, 1.0, lambda: False) == [3]
os.kill(os.getpid(), signal.SIGINT)
print(len(heard))
"""
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout == "1\n"


def test_signs_that_the_terminal_lacks(job: Path) -> None:
    """Where an encoding lacks a sign a stand-in is printed, and there is no traceback."""
    env = {**os.environ, "PYTHONIOENCODING": "ascii"}
    command = [sys.executable, "-m", "cutlist", "check", str(job)]
    out = subprocess.run(command, capture_output=True, text=True, env=env, check=False)
    assert (out.returncode, out.stderr) == (0, "")
    assert " ? " in out.stdout


@pytest.mark.slow
def test_interrupt_of_a_process_without_a_plan(tmp_path: Path) -> None:
    """Ctrl-C before the first plan ends the process with 130, in one line, without a traceback."""
    path = tmp_path / "hard.yaml"
    path.write_text(HARD)
    process = child("plan", path, "--seconds", "120", code=STUCK)
    assert process.stderr
    assert process.stderr.readline() == "searching\n"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert process.returncode == 130
    assert out == ""
    assert err.count("\n") == 1
    assert "interrupted" in err
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.slow
def test_statuses_of_real_processes(job: Path) -> None:
    """The process ends with the documented status, its streams kept apart."""
    process = child("plan", job, *STEPS, "--write", "json")
    out, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, "")
    assert out.startswith("Shelf\n")
    job.write_text("job: [")
    process = child("check", job)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (2, "")
    assert "Traceback" not in err
    assert str(job) in err


def test_reader_that_goes_away(job: Path) -> None:
    """A closed pipe on standard output is no error worth a traceback."""
    process = child("check", job)
    assert process.stdout
    process.stdout.close()
    assert process.stderr
    err = process.stderr.read()
    process.stderr.close()
    process.wait(timeout=60)
    assert "Traceback" not in err
    assert "BrokenPipe" not in err


def test_help_names_commands_and_options() -> None:
    """Help is there for the command and each of its commands."""
    shown = run("--help").stdout
    for command in ("check", "plan", "compare"):
        assert command in shown
        assert run(command, "-h").exit_code == 0
    shown = run("plan", "--help").stdout
    for option in ("--out", "--seconds", "--seed", "--steps", "--write", "--quiet"):
        assert option in shown

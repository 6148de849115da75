"""Documents are written whole or not at all."""

from __future__ import annotations

import errno
import json
import os
import signal
import stat
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from cutlist.drawing.paper import A4, LETTER
from cutlist.errors import WriteError
from cutlist.model.plan import Plan
from cutlist.model.variants import Variant
from cutlist.output import writing
from cutlist.output.writing import (
    DOCUMENTS,
    compared_pdf,
    write_atomically,
    write_compared,
    write_documents,
)
from tests.planning.jobs import job, part, planned

DAY = date(2024, 2, 29)


@pytest.fixture(scope="module")
def plan() -> Plan:
    """Return a small plan."""
    return planned(job([part("shelf", (900, 300), 4)]), steps=50)


def names(folder: Path) -> list[str]:
    """Return the names of all files in a folder, hidden ones included."""
    return sorted(path.name for path in folder.iterdir())


def test_documents_by_word(plan: Plan, tmp_path: Path) -> None:
    """Each word makes one file, in the order asked for, in a folder made if need be."""
    folder = tmp_path / "a" / "b"
    written = write_documents(plan, folder, ("json", "pdf", "json"), day=DAY)
    assert written == (folder / "plan.json", folder / "plan.pdf")
    assert names(folder) == ["plan.json", "plan.pdf"]
    assert json.loads((folder / "plan.json").read_text())["format"] == "cutlist-plan/2"
    assert (folder / "plan.pdf").read_bytes().startswith(b"%PDF-")
    assert set(DOCUMENTS) == {"pdf", "json"}


def test_same_plan_same_bytes(plan: Plan, tmp_path: Path) -> None:
    """The same plan on the same day gives the same bytes, on A4 for millimetres."""
    write_documents(plan, tmp_path / "one", day=DAY)
    write_documents(plan, tmp_path / "two", day=DAY, paper=A4)
    write_documents(plan, tmp_path / "three", day=DAY, paper=LETTER)
    for name in DOCUMENTS.values():
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    one, three = ((tmp_path / folder / "plan.pdf").read_bytes() for folder in ("one", "three"))
    assert one != three


def test_old_files_are_replaced(plan: Plan, tmp_path: Path) -> None:
    """A file of the same name is replaced, other files stay."""
    (tmp_path / "plan.json").write_text("old")
    (tmp_path / "notes.txt").write_text("mine")
    write_documents(plan, tmp_path, ("json",))
    assert (tmp_path / "plan.json").read_text().startswith("{")
    assert (tmp_path / "notes.txt").read_text() == "mine"


def test_everything_is_made_before_anything_is_written(
    plan: Plan, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where one document cannot be made none is written."""

    def fail(*_: object) -> bytes:
        raise RuntimeError("no page is large enough")

    monkeypatch.setattr(writing, "_pdf", fail)
    with pytest.raises(RuntimeError):
        write_documents(plan, tmp_path, ("json", "pdf"))
    assert names(tmp_path) == []


def no_space(*_: object, **__: object) -> None:
    """Fail as a full disk does."""
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


@pytest.mark.parametrize("target", ["tempfile.mkstemp", "os.fsync", "os.chmod", "os.replace"])
def test_failure_leaves_the_old_file(
    target: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever the disk fails, the old file stays whole and nothing else is left behind."""
    path = tmp_path / "plan.json"
    path.write_text("old")
    monkeypatch.setattr(target, no_space)
    with pytest.raises(WriteError) as caught:
        write_atomically(path, b"new")
    assert str(caught.value) == f"{path}: {os.strerror(errno.ENOSPC)}"
    monkeypatch.undo()
    assert path.read_text() == "old"
    assert names(tmp_path) == ["plan.json"]


def test_full_device(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A real write to a device that is always full fails as an error of this package."""
    if not Path("/dev/full").exists():
        pytest.skip("there is no device that is always full")
    handle = os.open("/dev/full", os.O_WRONLY)
    aside = str(tmp_path / "aside")
    Path(aside).write_text("")
    monkeypatch.setattr("tempfile.mkstemp", lambda **_: (handle, aside))
    with pytest.raises(WriteError, match=os.strerror(errno.ENOSPC)):
        write_atomically(tmp_path / "plan.json", b"x" * 100_000)
    assert names(tmp_path) == []


def test_interrupted_in_the_middle(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while writing leaves the old file and no other."""
    path = tmp_path / "plan.json"
    path.write_text("old")

    def interrupt(_: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_atomically(path, b"new")
    assert names(tmp_path) == ["plan.json"]
    assert path.read_text() == "old"


KILLED = """
import os, sys, time
from pathlib import Path
from cutlist.output.writing import write_atomically
os.fsync = lambda _: (print("writing", flush=True), time.sleep(60))
write_atomically(Path(sys.argv[1]), b"new" * 100_000)
"""


def test_killed_in_the_middle(tmp_path: Path) -> None:
    """A process killed while it writes leaves the old file whole under its name."""
    path = tmp_path / "plan.json"
    path.write_text("old")
    child = subprocess.Popen(
        [sys.executable, "-c", KILLED, str(path)], stdout=subprocess.PIPE, text=True
    )
    assert child.stdout
    assert child.stdout.readline() == "writing\n"
    child.send_signal(signal.SIGKILL)
    assert child.wait(timeout=20) == -signal.SIGKILL
    child.stdout.close()
    assert path.read_text() == "old"
    assert [name for name in names(tmp_path) if not name.startswith(".")] == ["plan.json"]


def test_rights_follow_the_umask(tmp_path: Path) -> None:
    """A document has the rights of any new file, not those of a private temporary one."""
    path, plain = tmp_path / "plan.json", tmp_path / "plain"
    write_atomically(path, b"new")
    plain.write_bytes(b"")
    assert stat.S_IMODE(path.stat().st_mode) == stat.S_IMODE(plain.stat().st_mode)


def test_a_file_in_place_of_the_folder(plan: Plan, tmp_path: Path) -> None:
    """Where the folder's name is taken by a file, the error says so and the file stays."""
    taken = tmp_path / "out"
    taken.write_text("mine")
    with pytest.raises(WriteError, match=r"out: this is a file; a folder is wanted"):
        write_documents(plan, taken, ("json",))
    assert taken.read_text() == "mine"


def test_a_folder_in_place_of_the_file(plan: Plan, tmp_path: Path) -> None:
    """Where a folder has the document's name, nothing is left behind."""
    (tmp_path / "plan.json").mkdir()
    with pytest.raises(WriteError, match=r"plan\.json"):
        write_documents(plan, tmp_path, ("json",))
    assert names(tmp_path) == ["plan.json"]


def test_comparison(plan: Plan, tmp_path: Path) -> None:
    """The documents of a comparison have their own names; equal days give equal bytes."""
    part = plan.job.parts[0]
    variant = Variant(part.material, part.thickness, ("full",), True, plan)
    pdf = compared_pdf([variant], plan.job, day=DAY)
    assert pdf.startswith(b"%PDF")
    assert pdf == compared_pdf([variant], plan.job, day=DAY)
    paths = write_compared(tmp_path / "new", {"json": b"{}\n", "pdf": pdf})
    assert paths == (tmp_path / "new" / "compare.json", tmp_path / "new" / "compare.pdf")
    assert [path.read_bytes() for path in paths] == [b"{}\n", pdf]


def test_dates_are_fixed_by_the_caller(plan: Plan, tmp_path: Path) -> None:
    """Without a day today's is printed; another day gives other bytes."""
    write_documents(plan, tmp_path / "one", ("pdf",), day=DAY)
    write_documents(plan, tmp_path / "two", ("pdf",), day=date(2031, 1, 1))
    one, two = ((tmp_path / folder / "plan.pdf").read_bytes() for folder in ("one", "two"))
    assert one != two

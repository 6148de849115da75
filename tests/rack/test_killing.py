"""The rack is killed, filled up and beset, and keeps what it was given."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from cutlist.rack import history, read_rack, undo
from tests.rack.killing import Model
from tests.rack.racks import empty, names

HOME = Path(__file__).parents[2]
#: As many as a test run has time for; 1,000 and more by hand.
KILLS = int(os.environ.get("CUTLIST_RACK_KILLS", "40"))


def start(code: str, *words: str) -> subprocess.Popen[str]:
    """Start a Python process that runs ``code`` in the project's folder."""
    return subprocess.Popen(
        [sys.executable, "-c", code, *words], cwd=HOME, stdout=subprocess.PIPE, text=True
    )


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "fork"), reason="writers are forked")
def test_kills_lose_nothing(tmp_path: Path) -> None:
    """A writer killed at any moment leaves every change whole, or not made at all."""
    code = (
        "import sys; from pathlib import Path; from tests.rack.killing import run; "
        "print(*run(int(sys.argv[1]), 1, Path(sys.argv[2])))"
    )
    with start(code, str(KILLS), str(tmp_path)) as process:
        assert process.stdout is not None
        made, short, _ = map(int, process.stdout.read().split())
    assert process.returncode == 0
    # The kills came neither before all work nor after it.
    assert made > 0
    assert short > 0


def test_the_model_of_the_kills() -> None:
    """The model that the kills are held to undoes, makes again, and forgets as a rack does."""
    model = Model()
    for work in ("add a b", "remove a", "undo", "redo", "undo", "undo"):
        model = model.after(work)
    assert model.done == [()]
    assert model.after("redo").done[-1] == ("a", "b")
    assert model.after("add c").after("redo").done == [(), ("c",)]


@pytest.mark.slow
def test_eight_writers_lose_nothing(tmp_path: Path) -> None:
    """What eight commands put on the rack at the same time is all there, each under its name."""
    path = empty(tmp_path)
    code = (
        "import sys; from pathlib import Path; from cutlist.rack import add; "
        "from tests.rack.racks import DAY, piece\n"
        "for n in range(10):\n"
        "    add(Path(sys.argv[1]), [piece(), piece(f'{sys.argv[2]}-{n}')], day=DAY)"
    )
    writers = [start(code, str(path), str(number)) for number in range(8)]
    assert [writer.wait() for writer in writers] == [0] * 8
    for writer in writers:
        assert writer.stdout is not None
        writer.stdout.close()
    there = names(path)
    named = {f"{number}-{n}" for number in range(8) for n in range(10)}
    assert set(there) == named | {f"rack {n}" for n in range(1, 81)}
    assert len(there) == 160
    assert len(history(path)) == 80
    while undo(path) is not None:
        pass
    assert names(path) == []


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="limits of a process are set")
def test_a_full_disk_loses_nothing(tmp_path: Path) -> None:
    """Where the file can grow no further the change is refused, and the rack is as it was."""
    path = empty(tmp_path)
    code = """
import resource, sys
from pathlib import Path
from cutlist.errors import RackError
from cutlist.rack import add
from tests.rack.racks import DAY, piece
limit = int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
for number in range(10_000):
    try:
        add(Path(sys.argv[1]), [piece(f"{limit}-{number}")], day=DAY)
    except RackError as error:
        assert "the rack is as it was" in str(error), error
        print(number)
        break
"""
    total = 0
    size = path.stat().st_size
    # The journal or the database itself stops growing, in the middle of a page or at its end.
    for limit in (300, 600, size + 1, size + 6000, size + 8192, size + 20_000):
        with start(code, str(path), str(limit)) as process:
            assert process.stdout is not None
            total += int(process.stdout.read())
        assert process.returncode == 0
        assert len(read_rack(path).offcuts) == total
    assert total > 0

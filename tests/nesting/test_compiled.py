"""Filling the cache of compiled kernels, and telling whether it is filled."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import numba
import pytest

from cutlist.compiling import kernel_cache
from cutlist.nesting.kernel_cache import CACHE
from cutlist.nesting.search.compiled import is_compiled, prepare_kernels


def cached_in(folder: Path) -> list[Path]:
    """Touch an index file for each module of kernels, named as Numba does, and return them."""
    files = []
    for source in CACHE.sources:
        place = folder / f"{source.parent.name}_{'0' * 40}"
        place.mkdir(exist_ok=True)
        files.append(place / f"{source.stem}.f-1.py311.nbi")
        files[-1].touch()
    return files


def test_warming_up_fills_the_cache() -> None:
    """Afterwards the cache says so."""
    prepare_kernels()
    assert is_compiled()


def test_an_empty_cache_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the cache is elsewhere, only what lies there counts."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert not is_compiled()


def test_older_kernels_do_not_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Kernels compiled before any of their sources was changed are compiled anew."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    cached = [
        path
        for path in cached_in(tmp_path)
        if path.stem.split(".")[0] in {"fewer_sheets", "fewer_settings", "sub_rectangles"}
    ]
    assert len(cached) == 3
    assert is_compiled()
    for path in cached:
        os.utime(path, (0, 0))
        assert not is_compiled(), path.name
        path.touch()


def test_old_kernels_are_thrown_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is older than a source goes, of these modules alone; what is newer stays."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    files = cached_in(tmp_path)
    other = tmp_path / "elsewhere_1" / "fewer_sheets.f-1.py311.nbi"
    other.parent.mkdir()
    other.touch()
    for path in (other, *files[::2]):
        os.utime(path, (CACHE.changed() - 1, CACHE.changed() - 1))
    CACHE.discard_old()
    assert [path for path in files if path.exists()] == files[1::2]
    assert other.exists()


@pytest.mark.slow
def test_kernels_of_another_version_are_no_hindrance(tmp_path: Path) -> None:
    """An index of before a source was changed is not read: here it holds what cannot be read."""
    env = {**os.environ, "NUMBA_CACHE_DIR": str(tmp_path)}
    root = Path(kernel_cache.__file__).parents[2]
    code = (
        "import numpy as np\n"
        "from cutlist.nesting.kernels.filling import draw\n"
        "draw(np.array([1], np.uint64), 2)\n"
    )

    def run() -> None:
        command = [sys.executable, "-c", code]
        done = subprocess.run(
            command, env=env, cwd=root, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr

    run()
    indexes = list(tmp_path.glob("kernels_*/filling.draw*.nbi"))
    assert indexes, f"Numba {numba.__version__} keeps its index elsewhere"
    for index in indexes:
        index.write_bytes(index.read_bytes()[:-1])
        os.utime(index, (0, 0))
    run()

"""Filling the cache of compiled kernels, and telling whether it is filled."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.nesting.search.compiled import _KERNELS, is_compiled, warm_up

if TYPE_CHECKING:
    import pytest


def test_warming_up_fills_the_cache() -> None:
    """Afterwards the cache says so."""
    warm_up()
    assert is_compiled()


def test_an_empty_cache_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the cache is elsewhere, only what lies there counts."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert not is_compiled()


def test_older_kernels_do_not_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Kernels compiled before their source was changed are compiled anew."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    cached = [tmp_path / f"{Path(name).stem}.f-1.py311.nbi" for name in _KERNELS]
    assert cached
    for path in cached:
        path.touch()
    assert is_compiled()
    for path in cached:
        os.utime(path, (0, 0))
        assert not is_compiled(), path.name
        path.touch()

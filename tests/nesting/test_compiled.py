"""Filling the cache of compiled kernels, and telling whether it is filled."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from cutlist.nesting.search.compiled import is_compiled, warm_up

if TYPE_CHECKING:
    from pathlib import Path

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
    for stem in ("kernel", "regroup", "blocks"):
        (tmp_path / f"{stem}.f-1.py311.nbi").touch()
    assert is_compiled()
    os.utime(tmp_path / "regroup.f-1.py311.nbi", (0, 0))
    assert not is_compiled()

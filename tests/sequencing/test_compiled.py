"""Filling the cache of the compiled order search, and telling whether it is filled."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from cutlist.planning.kernels import is_compiled as all_compiled
from cutlist.planning.kernels import prepare_kernels as prepare_all
from cutlist.sequencing.compiled import is_compiled, prepare_kernels
from cutlist.sequencing.kernel_cache import CACHE


def test_preparing_fills_the_cache() -> None:
    """Afterwards the cache says so, for this room and for all that planning uses."""
    prepare_kernels()
    assert is_compiled()
    prepare_all()
    assert all_compiled()


def test_older_kernels_do_not_count(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Kernels compiled before any of their sources was changed are thrown away."""
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    assert not is_compiled()
    folder = tmp_path / "order_kernels_0"
    folder.mkdir()
    index = folder / "side_by_side.search-1.py311.nbi"
    index.touch()
    assert is_compiled()
    os.utime(index, (0, 0))
    assert not is_compiled()
    CACHE.discard_old()
    assert not index.exists()


def test_each_kernel_is_compiled_once() -> None:
    """Whatever the forest and the width, there is one set of argument types for each kernel."""
    from cutlist.sequencing.beam import Beam
    from cutlist.sequencing.forest import Forest
    from cutlist.sequencing.order_kernels import nodes, side_by_side, states
    from tests.sequencing.forests import add_task, chain

    for width in (1, 3):
        forest = Forest()
        start = [add_task(forest, chain(text)) for text in ("ABCA", "BCAB", "CABD")]
        Beam(forest, start, width=width).run(lambda: False)
    # Of those that are called from here; the others are found in their callers' cache.
    kernels = (nodes.put, states.shift, states.unclaimed, side_by_side.search)
    assert [len(kernel.signatures) for kernel in kernels] == [1] * len(kernels)

"""Whether the compiled search is in the cache, told without loading the compiler; filling it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from cutlist.nesting.kernel_cache import SOURCES, changed, indexes_of

#: The modules whose kernels take longest; the others are compiled with one of them.
_SLOWEST = ("fewer_sheets", "fewer_settings", "sub_rectangles")


def prepare_kernels() -> None:
    """Compile the searches, or load them from the cache, so that no search budget pays for it.

    What is not in the cache is compiled by two processes side by side.
    """
    helper = None if is_compiled() else _helper()
    _load_sheet_search()
    if helper is not None:
        helper.wait()
    _load_settings_search()


def _helper() -> subprocess.Popen[bytes] | None:
    """Let another process fill the cache; None where none can be started."""
    code = f"from {__name__} import _load_settings_search; _load_settings_search()"
    root = str(Path(__file__).parents[3])
    path = os.pathsep.join(filter(None, (root, os.environ.get("PYTHONPATH"))))
    quiet = subprocess.DEVNULL
    try:
        return subprocess.Popen(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONPATH": path},
            stdin=quiet,
            stdout=quiet,
            stderr=quiet,
        )
    except OSError:
        return None


def _load_sheet_search() -> None:
    """Load the search for fewer sheets and the filling of single ones."""
    import numpy as np

    from cutlist.nesting.columns.sheet_filling import SheetFiller
    from cutlist.nesting.kernels.tables import Tables
    from cutlist.nesting.problem import Bin, Item, Problem
    from cutlist.nesting.search.solve import nest
    from cutlist.nesting.stopping import AfterSteps

    items = (Item(3, 2, 2, True), Item(2, 1, 1, False))
    problem = Problem(items, (Bin(5, 5, 2, None), Bin(4, 3, 1, 1)), 1)
    nest(problem, seed=0, stop=AfterSteps(1))
    tables = Tables.of(problem)
    SheetFiller(tables, 0).fill(np.ones(2), tables.demand, 1)


def _load_settings_search() -> None:
    """Load the search for fewer settings."""
    from cutlist.model.layout import Axis, Cell, Layout, Strip
    from cutlist.nesting.problem import Bin, Item, Problem
    from cutlist.nesting.search.settings_search import SettingsSearch, cut_forest

    problem = Problem((Item(3, 5, 2, True),), (Bin(7, 5, 2, None),), kerf=1)
    strip = Strip(Axis.X, 7, 5, (Cell(0, 3, 5), Cell(0, 3, 5)))
    layouts = (Layout(0, strip),)
    SettingsSearch(problem, layouts, seed=0, keep=(1, 1)).search(
        cut_forest([(problem, layouts)]), 1, lambda: False
    )


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind."""
    since = changed()
    return all(
        any(index.stat().st_mtime >= since for index in indexes_of(source))
        for source in SOURCES
        if source.stem in _SLOWEST
    )

"""Whether the compiled search is in the cache, told without loading the compiler; filling it."""

from __future__ import annotations

from cutlist.compiling.helper import compile_beside
from cutlist.nesting.kernel_cache import CACHE

#: The modules whose kernels take longest; the others are compiled with one of them.
_SLOWEST = ("fewer_sheets", "fewer_settings", "sub_rectangles")


def prepare_kernels() -> None:
    """Compile the searches, or load them from the cache, so that no search budget pays for it.

    What is not in the cache is compiled by two processes side by side.
    """
    helper = (
        None
        if is_compiled()
        else compile_beside(
            f"from {__name__} import _load_settings_search; _load_settings_search()"
        )
    )
    _load_sheet_search()
    if helper is not None:
        helper.wait()
    _load_settings_search()


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
    import numpy as np

    from cutlist.model.layout import Axis, Cell, Layout, Strip
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.problem import Bin, Item, Problem
    from cutlist.nesting.search.settings_search import SettingsSearch, Shop, cut_forest

    problem = Problem((Item(3, 5, 2, True),), (Bin(7, 5, 2, None),), kerf=1)
    strip = Strip(Axis.X, 7, 5, (Cell(0, 3, 5), Cell(0, 3, 5)))
    layouts = (Layout(0, strip),)
    bench = Bench(
        np.array([[0, 1, 9, 1, 1, 0, 9, 0, 0, 1, 1]], np.int64), np.zeros((0, 3), np.int64), 1, 0
    )
    shop = Shop(bench, 1)
    SettingsSearch(problem, layouts, shop, seed=0, keep=(1, 1)).search(
        cut_forest([(problem, layouts)], shop), 1, lambda: False
    )


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind."""
    return CACHE.holds(_SLOWEST)

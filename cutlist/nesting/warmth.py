"""Whether the compiled search is in the cache, told without loading the compiler; filling it."""

from __future__ import annotations

import os
from pathlib import Path


def warm_up() -> None:
    """Compile the searches, or load them from the cache, so that no search budget pays for it."""
    from cutlist.nesting.problem import Bin, Item, Problem
    from cutlist.nesting.sharing import SharingSearch, Work
    from cutlist.nesting.solve import nest
    from cutlist.nesting.stopping import AfterSteps

    items = (Item(3, 2, 2, True), Item(2, 1, 1, False))
    problem = Problem(items, (Bin(5, 5, 2, None), Bin(4, 3, 1, 1)), kerf=1)
    layouts = nest(problem, seed=0, stop=AfterSteps(1)).layouts
    others = Work.of([(problem, layouts)])
    SharingSearch(problem, layouts, seed=0, keep=(1, 1)).search(others, 1, lambda: False)


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind.

    Numba keeps an index file for each cached function beside the source, or below
    ``NUMBA_CACHE_DIR``; where neither can be written it compiles anew each time.
    """
    folder = os.environ.get("NUMBA_CACHE_DIR")
    for name in ("kernel.py", "regroup.py"):
        source = Path(__file__).with_name(name)
        places = Path(folder).glob(f"**/{source.stem}.*.nbi") if folder else ()
        beside = source.with_name("__pycache__").glob(f"{source.stem}.*.nbi")
        newest = max((path.stat().st_mtime for path in (*places, *beside)), default=0.0)
        if newest < source.stat().st_mtime:
            return False
    return True

"""Whether the compiled search is already in the cache, told without loading the compiler."""

from __future__ import annotations

import os
from pathlib import Path


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind.

    Numba keeps an index file for each cached function beside the source, or below
    ``NUMBA_CACHE_DIR``; where neither can be written it compiles anew each time.
    """
    source = Path(__file__).with_name("kernel.py")
    folder = os.environ.get("NUMBA_CACHE_DIR")
    places = Path(folder).glob(f"**/{source.stem}.*.nbi") if folder else ()
    beside = source.with_name("__pycache__").glob(f"{source.stem}.*.nbi")
    newest = max((path.stat().st_mtime for path in (*places, *beside)), default=0.0)
    return newest >= source.stat().st_mtime

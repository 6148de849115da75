"""The cached kernels of this room."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from cutlist.compiling.kernel_cache import KernelCache

_ROOM = Path(__file__).parent
#: Those of the searches for layouts.
CACHE: Final = KernelCache(
    (*sorted((_ROOM / "kernels").glob("*.py")), _ROOM / "columns" / "sub_rectangles.py")
)

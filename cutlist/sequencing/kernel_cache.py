"""The cached kernels of this room."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from cutlist.compiling.kernel_cache import KernelCache

#: Kernels of the search for an order.
CACHE: Final = KernelCache(tuple(sorted((Path(__file__).parent / "order_kernels").glob("*.py"))))

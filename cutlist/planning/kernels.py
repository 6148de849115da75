"""All compiled searches that planning uses: whether they are in the cache, and filling it."""

from __future__ import annotations

from cutlist.compiling.helper import compile_beside
from cutlist.nesting.search import compiled as layouts
from cutlist.sequencing import compiled as orders


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind."""
    return layouts.is_compiled() and orders.is_compiled()


def prepare_kernels() -> None:
    """Compile the searches, or load them from the cache, so that no search budget pays for it.

    What is not in the cache is compiled by several processes side by side.
    """
    code = f"from {orders.__name__} import prepare_kernels; prepare_kernels()"
    helper = None if orders.is_compiled() else compile_beside(code)
    layouts.prepare_kernels()
    if helper is not None:
        helper.wait()
    orders.prepare_kernels()

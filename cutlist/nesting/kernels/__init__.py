"""The compiled search: node tables, and what fills, ruins and counts in them.

What an earlier version left in the cache of compiled kernels is thrown away on import.
"""

from cutlist.nesting.kernel_cache import CACHE

CACHE.discard_old()

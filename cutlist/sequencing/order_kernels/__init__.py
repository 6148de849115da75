"""The compiled search for an order of settings.

What an earlier version left in the cache of compiled kernels is thrown away on import.
"""

from cutlist.sequencing.kernel_cache import CACHE

CACHE.discard_old()

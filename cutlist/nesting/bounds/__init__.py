"""Lower bounds: what any guillotine layout of a problem must cost, however clever."""

from __future__ import annotations

from cutlist.nesting.bounds.bound import Bound, lower_bound
from cutlist.nesting.bounds.improve import improved_bound

__all__ = ["Bound", "improved_bound", "lower_bound"]

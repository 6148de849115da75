"""Lower bounds: what any guillotine layout of a problem must cost, however clever."""

from __future__ import annotations

from cutlist.nesting.bounds.bound import Bound, lower_bound

__all__ = ["Bound", "lower_bound"]

"""The old name of an allowance."""

from __future__ import annotations

from cutlist.nesting.allowance import Allowance
from cutlist.planning.terms.parameters import SEARCHES as WORKERS
from cutlist.planning.terms.terms import DEFAULT_SECONDS

__all__ = ["DEFAULT_SECONDS", "WORKERS", "Budget"]


class Budget(Allowance):
    """An allowance that is some seconds where nothing is said."""

    def __init__(self, seconds: float | None = DEFAULT_SECONDS, steps: int | None = None) -> None:
        super().__init__(seconds, steps)

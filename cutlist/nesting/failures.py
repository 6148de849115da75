"""Why a problem has no answer, in terms of item indices; the caller knows their names."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.errors import CannotCutError, Reason

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence


class ItemFitsNowhereError(CannotCutError):
    """Some items fit no bin in any permitted turn; ``items`` are their indices."""

    def __init__(self, items: Sequence[int]) -> None:
        self.items = tuple(items)
        super().__init__([Reason((f"item {i}",)) for i in self.items])


class StockTooSmallError(CannotCutError):
    """The limited stock does not hold all panels, as far as the search could see.

    ``short`` gives, for the best attempt, how many panels of which item are left over; ``proven``
    says whether a bound rules every attempt out, ``steps`` what the attempts took.
    """

    def __init__(self, short: Mapping[int, int], *, proven: bool, steps: int = 0) -> None:
        self.short = dict(short)
        self.proven = proven
        self.steps = steps
        super().__init__([Reason((f"item {i}",)) for i in self.short])

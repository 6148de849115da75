"""What the store charges for its cuts: each trip to it has free ones of its own."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from cutlist.model.plan import Place

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger


@dataclass(frozen=True, slots=True)
class Charge:
    """The store's cuts, and what is to pay for them.

    Parameters
    ----------
    trips
        For each trip the letters of the sheets that are cut on it, in the plan's order, and the
        number of their cuts. One trip where nothing tells more.
    paid
        Cuts beyond the free ones, of all trips.
    amount
        What these cost.
    """

    trips: tuple[tuple[tuple[str, ...], int], ...]
    paid: int
    amount: Decimal


def store_charge(ledger: Ledger) -> Charge:
    """Count the store's cuts by trips.

    A sheet is cut on the first trip that takes one of its blanks; all its cuts are made then.
    """
    plan, whole = ledger.plan, ledger.stock_of
    cuts: dict[str, int] = {}
    for setting in plan.settings:
        for cut in setting.cuts if setting.place is Place.STORE else ():
            letter = whole[cut.piece].piece
            cuts[letter] = cuts.get(letter, 0) + 1
    first: dict[str, int] = {}
    for number, trip in enumerate(plan.trips):
        for piece in trip.pieces:
            first.setdefault(whole[piece].piece, number)
    sheets: list[list[str]] = [[] for _ in plan.trips or (None,)]
    for workpiece in plan.workpieces:
        if workpiece.piece in cuts:
            sheets[first.get(workpiece.piece, 0)].append(workpiece.piece)
    trips = tuple((tuple(letters), sum(cuts[one] for one in letters)) for letters in sheets)
    store = plan.job.store
    if store is None:
        return Charge(trips, 0, Decimal(0))
    paid = sum(max(0, count - store.free_cuts) for _, count in trips)
    return Charge(trips, paid, paid * store.cut_price)

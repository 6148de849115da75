"""What the store charges for its cuts, by trips, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.ledger.charges import store_charge
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from cutlist.model.weights import Trip
from tests.audit.plans import SOUND
from tests.drawing.trips import alike


def on_trips(*pieces: tuple[str, ...]) -> Plan:
    """Return a plan of boards A and B, two cuts each, and C whole, on these trips.

    The store makes two cuts for nothing on each trip, and asks 1.50 for each further one.
    """
    return replace(alike(), trips=tuple(Trip(names, Fraction(1)) for names in pieces))


def test_one_trip_where_nothing_is_told() -> None:
    """Four cuts, two of them free: 3.00."""
    charge = store_charge(read_ledger(on_trips()))
    assert charge.trips == ((("A", "B"), 4),)
    assert (charge.paid, charge.amount) == (2, Decimal("3.00"))


def test_each_trip_has_its_own_free_cuts() -> None:
    """With a board on each trip all cuts are free; the board that goes whole has none."""
    charge = store_charge(read_ledger(on_trips(("A1", "A2", "A3"), ("B1", "B2", "B3", "C"))))
    assert charge.trips == ((("A",), 2), (("B",), 2))
    assert (charge.paid, charge.amount) == (0, Decimal(0))


def test_a_board_is_cut_on_the_first_trip_that_takes_a_piece_of_it() -> None:
    """One piece of B on the first trip brings all of its cuts there."""
    charge = store_charge(read_ledger(on_trips(("C",), ("A1", "A2", "B3"), ("A3", "B1", "B2"))))
    assert charge.trips == (((), 0), (("A", "B"), 4), ((), 0))
    assert (charge.paid, charge.amount) == (2, Decimal("3.00"))


def test_without_a_store_nothing_is_charged() -> None:
    """Nothing is cut there, and nothing is to pay."""
    charge = store_charge(read_ledger(SOUND["plain"]()))
    assert charge.trips == (((), 0),)
    assert (charge.paid, charge.amount) == (0, Decimal(0))

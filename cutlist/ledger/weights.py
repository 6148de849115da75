"""What has to be taken home, and what it takes to lift it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.weights import ONE_PERSON_KG, TWO_PEOPLE_KG, Lift

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.ledger.ledger import Ledger


def lift_of(kg: Fraction) -> Lift:
    """Say what it takes to lift a weight."""
    if kg <= ONE_PERSON_KG:
        return Lift.ONE
    return Lift.TWO if kg <= TWO_PEOPLE_KG else Lift.MORE


def loads(ledger: Ledger) -> Iterator[tuple[str, Fraction | None]]:
    """Give what has to be taken home: each bought piece with its weight in kg, None if unknown.

    A sheet that the store cuts goes as the pieces that it is cut into.
    """
    known = {weight.piece: weight.kg for weight in ledger.plan.weights}
    for piece in ledger.home:
        if ledger.stock_of[piece.name].bought:
            yield piece.name, known.get(piece.name)

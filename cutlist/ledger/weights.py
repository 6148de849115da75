"""What has to be taken home, and what it takes to lift it."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.plan import Piece, Place
from cutlist.model.weights import ONE_PERSON_KG, TWO_PEOPLE_KG, Lift

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.model.plan import Plan, Workpiece


def lift_of(kg: Fraction) -> Lift:
    """Say what it takes to lift a weight."""
    if kg <= ONE_PERSON_KG:
        return Lift.ONE
    return Lift.TWO if kg <= TWO_PEOPLE_KG else Lift.MORE


def lineage(plan: Plan) -> tuple[dict[str, Workpiece], tuple[Piece, ...]]:
    """Say of each piece which workpiece it comes from, and what there is after the store's cuts.

    Without cuts at the store the second is the workpieces themselves. A cut of a piece that is not
    there is passed over.
    """
    start = Fraction(0)
    whole = {one.piece: one for one in plan.workpieces}
    home = {
        one.piece: Piece(one.piece, start, start, one.length, one.width) for one in plan.workpieces
    }
    for setting in plan.settings:
        for cut in setting.cuts:
            if cut.piece not in whole:
                continue
            made = [cut.kept] if cut.rest is None else [cut.kept, cut.rest]
            whole |= {piece.name: whole[cut.piece] for piece in made}
            if setting.place is Place.STORE:
                home.pop(cut.piece, None)
                home |= {piece.name: piece for piece in made}
    return whole, tuple(home.values())


def loads(plan: Plan) -> Iterator[tuple[str, Fraction | None]]:
    """Give what has to be taken home: each bought piece with its weight in kg, None if unknown.

    A sheet that the store cuts goes as the pieces that it is cut into.
    """
    whole, home = lineage(plan)
    known = {weight.piece: weight.kg for weight in plan.weights}
    for piece in home:
        if whole[piece.name].bought:
            yield piece.name, known.get(piece.name)

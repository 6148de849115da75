"""What is taken home from the store, by size, and which pieces are like one another."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.ledger.entries import followed_back
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Collection, Hashable, Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Job, Vehicle
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["Taken", "is_like", "is_tight", "mixed_up", "needs_second_opening", "taken_home"]

#: Two pieces whose sides differ by no more than this are mixed up in a pile (common practice).
NEAR: Final = {Units.INCH: Fraction(3, 2), Units.MM: Fraction(40)}


@dataclass(frozen=True, slots=True)
class Taken:
    """Pieces of one stock and size with the same edges: it does not matter which gets which name.

    Parameters
    ----------
    names
        The names to be written on them.
    piece
        The first of them.
    material, thickness
        Of its stock.
    units
        The unit of its size.
    kg
        Weight of each; None where it is not known.
    trips
        The trips they go on, by number; empty where the plan has none.
    cut_edges
        Where the store's saw cut.
    is_whole
        Whether it is a whole sheet that the store does not cut.
    is_spare
        Whether no panel is cut from any of them.
    workpiece
        The sheet of the first of them.
    """

    names: tuple[str, ...]
    piece: Piece
    material: str
    thickness: Fraction
    units: Units
    kg: Fraction | None
    trips: tuple[int, ...]
    cut_edges: tuple[str, ...]
    is_whole: bool
    is_spare: bool
    workpiece: Workpiece

    @property
    def kind(self) -> tuple[str, Fraction]:
        """Material and thickness."""
        return self.material, self.thickness


def taken_home(ledger: Ledger) -> tuple[Taken, ...]:
    """List what is taken home: by material, then the longest first, the wider first."""
    plan = ledger.plan
    whole, home = ledger.stock_of, ledger.home
    alike: dict[Hashable, list[Piece]] = {}
    for piece in home:
        work = whole[piece.name]
        if work.bought:
            size = (piece.length, piece.width, _cut_edges(work, piece), piece.name == work.piece)
            alike.setdefault((work.stock, size), []).append(piece)
    weights = {weight.piece: weight.kg for weight in plan.weights}
    trip_of = {name: number for number, trip in enumerate(plan.trips, 1) for name in trip.pieces}
    used = _ancestors(ledger)
    found = []
    for pieces in alike.values():
        first = pieces[0]
        work = whole[first.name]
        found.append(
            Taken(
                tuple(piece.name for piece in pieces),
                first,
                work.material,
                work.thickness,
                plan.job.units,
                weights.get(first.name),
                tuple(sorted({trip_of[one.name] for one in pieces if one.name in trip_of})),
                _cut_edges(work, first),
                first.name == work.piece,
                not any(piece.name in used for piece in pieces),
                work,
            )
        )
    kinds = list(dict.fromkeys(one.kind for one in found))
    found.sort(key=lambda one: (kinds.index(one.kind), *(-side for side in _sides(one))))
    return tuple(found)


def _cut_edges(work: Workpiece, piece: Piece) -> tuple[str, ...]:
    """Name the edges that are not the sheet's own, as the piece lies in the sketch."""
    own = {
        "left": piece.x == 0,
        "right": piece.x + piece.length == work.length,
        "lower": piece.y == 0,
        "upper": piece.y + piece.width == work.width,
    }
    return tuple(edge for edge, is_own in own.items() if not is_own)


def _ancestors(ledger: Ledger) -> frozenset[str]:
    """Name every piece that a panel comes from."""
    panels = [panel.piece.name for panel in ledger.plan.panels]
    return frozenset(
        one.piece.name for one in followed_back(ledger.entries, panels, lambda _: True)
    )


def _sides(one: Taken) -> tuple[Fraction, Fraction]:
    """Give the longer side and the shorter."""
    first, second = one.piece.length, one.piece.width
    return max(first, second), min(first, second)


def mixed_up(names: Collection[str], taken: Sequence[Taken]) -> tuple[tuple[Taken, ...], ...]:
    """Group pieces that are easily taken for one another, where one of ``names`` is among them."""
    groups: list[list[Taken]] = []
    for one in taken:
        near = [group for group in groups if any(is_like(one, other) for other in group)]
        rest = [group for group in groups if not any(group is found for found in near)]
        groups = [*rest, [*(member for group in near for member in group), one]]
    return tuple(
        tuple(group)
        for group in groups
        if len(group) > 1 and any(name in names for one in group for name in one.names)
    )


def is_tight(one: Taken, job: Job) -> bool:
    """Tell whether a piece goes into the vehicle, but not if the store's saw is off by what it may.

    Only a side that ends where the store cut may come out larger.
    """
    store, vehicle = job.store, job.vehicle
    if store is None or vehicle is None:
        return False
    cut = {*one.cut_edges}
    length, width = one.piece.length, one.piece.width
    longer = length + (store.accuracy if cut & {"left", "right"} else 0)
    wider = width + (store.accuracy if cut & {"lower", "upper"} else 0)
    return _goes_in(vehicle, length, width) and not _goes_in(vehicle, longer, wider)


def needs_second_opening(one: Taken, vehicle: Vehicle | None) -> bool:
    """Tell whether a piece goes into the vehicle, but not into its bed."""
    if vehicle is None or vehicle.second_opening is None:
        return False
    bed = sorted((vehicle.bed_length, vehicle.bed_width))
    sides = sorted((one.piece.length, one.piece.width))
    return any(side > most for side, most in zip(sides, bed, strict=True))


def _goes_in(vehicle: Vehicle, length: Fraction, width: Fraction) -> bool:
    """Tell whether a piece goes in one way or the other."""
    sides = sorted((length, width))
    return any(
        all(side <= most for side, most in zip(sides, sorted(opening), strict=True))
        for opening in vehicle.openings
    )


def is_like(one: Taken, other: Taken) -> bool:
    """Tell whether one piece could be taken for the other, either way round."""
    return one.kind == other.kind and all(
        abs(mine - its) <= NEAR[one.units]
        for mine, its in zip(_sides(one), _sides(other), strict=True)
    )

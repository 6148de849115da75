"""How often the saw stands at each distance, and why it came back to one.

``dimensions(ledger)`` takes a plan's ledger and gives one :class:`Dimension` for
each distance; its visits beyond the first tell which pieces they waited for, and which cuts made
those.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.ledger.entries import followed_back
from cutlist.model.plan import Direction, Place, SizeOrigin

if TYPE_CHECKING:
    from cutlist.ledger.entries import Entry
    from cutlist.ledger.ledger import Ledger


@dataclass(frozen=True, slots=True)
class Wait:
    """A piece cut at a visit that did not exist yet when the saw last stood there.

    Parameters
    ----------
    piece
        Its name.
    cuts
        Numbers of the operations since that last visit which led to it, in order; the last one made
        it. Never empty.
    is_own
        Whether the first of them takes a piece that was cut to size at that last visit itself.
        Taken apart in this way, the sheet asks for the distance twice with others in between, in
        any order. Otherwise the visit waits for the sake of other pieces.
    """

    piece: str
    cuts: tuple[int, ...]
    is_own: bool


@dataclass(frozen=True, slots=True)
class Visit:
    """One setting at a distance: its number, its place and tool, and the numbers of its cuts.

    ``waits`` is empty for the first visit of a place and tool. For a later one it names what the
    visit waited for; other cuts of the visit could have been made before.
    """

    setting: int
    place: Place
    tool: str
    cuts: tuple[int, ...]
    waits: tuple[Wait, ...]


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance with its visits, in order."""

    distance: Fraction
    visits: tuple[Visit, ...]

    @property
    def is_revisited(self) -> bool:
        """Whether the saw stands at the distance more than once."""
        return len(self.visits) > 1


def dimensions(ledger: Ledger, place: Place | None = None) -> tuple[Dimension, ...]:
    """Return each distance with its visits, by their first visit.

    Parameters
    ----------
    ledger
        Of the plan.
    place
        Of the set-ups that count; None for all.
    """
    visits: dict[Fraction, list[Visit]] = {}
    latest: dict[tuple[Place, str, Fraction], int] = {}
    for setting in ledger.plan.settings:
        if place is not None and setting.place is not place:
            continue
        key = (setting.place, setting.tool, setting.distance)
        before = latest.get(key)
        waits: list[Wait] = []
        for name in dict.fromkeys(cut.piece for cut in setting.cuts):
            made = ledger.made_at(name)
            # Pieces made during this visit wait for nothing but the visit.
            if before is not None and made is not None and before < made < setting.number:
                waits.append(_wait(name, ledger, before))
        numbers = tuple(cut.number for cut in setting.cuts)
        visit = Visit(setting.number, setting.place, setting.tool, numbers, tuple(waits))
        visits.setdefault(setting.distance, []).append(visit)
        latest[key] = setting.number
    return tuple(Dimension(distance, tuple(these)) for distance, these in visits.items())


def _wait(name: str, ledger: Ledger, before: int) -> Wait:
    """Follow a piece back to what the set-up numbered ``before`` made of it."""
    numbers: set[int] = set()
    is_own = False
    for entry in followed_back(ledger.entries, [name], lambda one: _is_since(one, before)):
        if entry.maker is None or not _is_since(entry, before):
            continue
        setup, operation = entry.maker
        if setup.number > before:
            numbers.add(operation.number)
        else:
            is_own = is_own or any(entry.size_origin(way) is SizeOrigin.SET for way in Direction)
    return Wait(name, tuple(sorted(numbers)), is_own)


def _is_since(entry: Entry, before: int) -> bool:
    """Tell whether a piece was made by the set-up numbered ``before`` or by a later one."""
    return entry.maker is not None and entry.maker[0].number >= before

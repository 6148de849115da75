"""How often the saw stands at each distance, and why it came back to one.

``dimensions(settings)`` takes a plan's settings, in order, and gives one :class:`Dimension` for
each distance; its visits beyond the first tell which pieces they waited for, and which cuts made
those. Everything follows from the settings alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from cutlist.model.plan import Place, Setting


@dataclass(frozen=True, slots=True)
class Wait:
    """A piece cut at a visit that did not exist yet when the saw last stood there.

    Parameters
    ----------
    piece
        Its name.
    cuts
        Numbers of the cuts since that last visit which led to it, in order; the last one made it.
        Never empty.
    is_own
        Whether the first of them divides a piece that was cut to size at that last visit itself.
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


@dataclass(frozen=True, slots=True)
class _Made:
    """Where a piece comes from: its setting, its cut, and the piece that was divided."""

    setting: int
    cut: int
    divided: str
    is_kept: bool


def dimensions(settings: Iterable[Setting]) -> tuple[Dimension, ...]:
    """Return each distance with its visits, by their first visit.

    Parameters
    ----------
    settings
        Settings of a plan in the order in which they are worked.
    """
    made: dict[str, _Made] = {}
    visits: dict[Fraction, list[Visit]] = {}
    latest: dict[tuple[Place, str, Fraction], int] = {}
    for setting in settings:
        key = (setting.place, setting.tool, setting.distance)
        before = latest.get(key)
        waits: list[Wait] = []
        # Pieces made during this visit are not known yet: they wait for nothing but the visit.
        for name in dict.fromkeys(cut.piece for cut in setting.cuts):
            if before is not None and name in made and made[name].setting > before:
                waits.append(_wait(name, made, before))
        for cut in setting.cuts:
            made[cut.kept.name] = _Made(setting.number, cut.number, cut.piece, is_kept=True)
            if cut.rest is not None:
                made[cut.rest.name] = _Made(setting.number, cut.number, cut.piece, is_kept=False)
        numbers = tuple(cut.number for cut in setting.cuts)
        visit = Visit(setting.number, setting.place, setting.tool, numbers, tuple(waits))
        visits.setdefault(setting.distance, []).append(visit)
        latest[key] = setting.number
    return tuple(Dimension(distance, tuple(these)) for distance, these in visits.items())


def _wait(name: str, made: dict[str, _Made], before: int) -> Wait:
    cuts: list[int] = []
    piece = name
    while piece in made and made[piece].setting > before:
        cuts.append(made[piece].cut)
        piece = made[piece].divided
    is_own = False
    while piece in made and made[piece].setting == before:
        is_own = is_own or made[piece].is_kept
        piece = made[piece].divided
    return Wait(name, tuple(reversed(cuts)), is_own)

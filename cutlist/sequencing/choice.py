"""Which saw makes which cut.

A cut goes to a saw that makes it safely whatever else of its strip is cut off before it; if there
is none, to the one that is least at fault. Among safe saws those are taken that serve all cuts at
a distance together, so that the distance is set on as few of them as possible.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from cutlist.model.sawing import Hazard
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.tools import Tool


class Chooser:
    """Picks the saw of each cut, and remembers what was asked for.

    Parameters
    ----------
    fence
        The shop.
    wanted
        What an earlier chooser of the same shop was asked for: the cuts at a distance are shared
        out with all of them in view.
    """

    def __init__(self, fence: Fence, wanted: Chooser | None = None) -> None:
        self._fence = fence
        self._tools = fence.bench
        self._asked: dict[int, set[frozenset[int]]] = defaultdict(set)
        #: Cuts that no saw makes safely: distance, length, and size of the piece across.
        self.unsafe: set[tuple[int, int, int]] = set()
        self._team = {} if wanted is None else wanted._teams()

    def tool(self, number: int) -> Tool:
        """Return a saw by its number."""
        return self._tools[number]

    def within(self, distance: int, along: int) -> bool:
        """Whether some saw can be set to the distance for a cut so long.

        The saw that reaches farthest on the longest cuts is always one, safe or not.
        """
        if self._fence.reaches(distance):
            return True
        return any(tool.reaches(distance) and tool.cuts_along(along) for tool in self._tools)

    def farthest(self, along: int) -> int | None:
        """Return the largest distance for a cut so long; None for no limit."""
        reaches = [tool.reach for tool in self._tools if tool.cuts_along(along)]
        reaches.append(self._fence.reach)
        known = [reach for reach in reaches if reach is not None]
        return max(known) if len(known) == len(reaches) else None

    def pick(self, distance: int, along: int, across: int, least: int | None = None) -> int:
        """Return the number of the saw for a cut.

        Parameters
        ----------
        distance
            Within reach, or the saw with the farthest reach is returned.
        along, across
            Size of the piece along the cut, and its largest size across it: other cuts may make
            it smaller before.
        least
            Its smallest size across the cut; None for no more than is kept and cut away.
        """
        number, fault, best = self._look(distance, along, across, least)
        if any(fault):
            self.unsafe.add((distance, along, across))
        self._asked[distance].add(best)
        return number

    def would_pick(self, distance: int, along: int, across: int) -> int:
        """Return the number of the saw for a cut that may not come to be made."""
        return self._look(distance, along, across, None)[0]

    def _look(
        self, distance: int, along: int, across: int, least: int | None
    ) -> tuple[int, tuple[bool, bool, int], frozenset[int]]:
        """Return the saw, how much it is at fault, and all that are no more so."""
        able = [n for n, tool in enumerate(self._tools) if tool.reaches(distance)]
        if not able or not self._fence.tools:
            number = max(range(len(self._tools)), key=lambda n: self._tools[n].reach or 0)
            return number, (False, False, 0), frozenset((number,))
        sizes = (across, distance + 1 if least is None else min(least, across))
        faults = {n: _fault(self._tools[n], distance, along, sizes) for n in able}
        smallest = min(faults.values())
        best = frozenset(n for n in able if faults[n] == smallest)
        team = best.intersection(self._team.get(distance, ())) or best
        return min(team, key=self._rank), smallest, best

    def _rank(self, number: int) -> tuple[Fraction, int, int]:
        tool = self._tools[number]
        return tool.minutes, tool.order, number

    def _teams(self) -> dict[int, frozenset[int]]:
        """Return for each distance the fewest saws that make all its cuts."""
        return {distance: self._fewest(asked) for distance, asked in self._asked.items()}

    def _fewest(self, asked: set[frozenset[int]]) -> frozenset[int]:
        able = sorted(frozenset[int]().union(*asked), key=self._rank)
        return next(team for team in self._teams_of(able) if all(team & some for some in asked))

    def _teams_of(self, able: list[int]) -> Iterator[frozenset[int]]:
        for size in range(1, len(able) + 1):
            teams = [frozenset(team) for team in combinations(able, size)]
            yield from sorted(teams, key=self._weight)

    def _weight(self, team: frozenset[int]) -> tuple[Fraction, list[tuple[Fraction, int, int]]]:
        ranks = sorted(self._rank(number) for number in team)
        return sum((rank[0] for rank in ranks), Fraction(0)), ranks


def _fault(tool: Tool, distance: int, along: int, sizes: tuple[int, int]) -> tuple[bool, bool, int]:
    """Rank what may be unsafe: a cut the saw cannot make at all, a piece that turns, others."""
    found = {hazard for across in sizes for hazard in tool.hazards(along, across, distance)}
    return (Hazard.TOO_LONG in found, Hazard.UNSTEADY in found, len(found))

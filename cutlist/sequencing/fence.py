"""What the sequencer knows of the shop, in grid units."""

from __future__ import annotations

from dataclasses import dataclass
from math import lcm

from cutlist.sequencing.tools import Tool


@dataclass(frozen=True, slots=True)
class Together:
    """Panels of these parts, by index, shall get their sides of this size at one setting."""

    distance: int
    parts: frozenset[int]


@dataclass(frozen=True, slots=True)
class Fence:
    """The table saw's fence, or the saw that stands for all of a list.

    Parameters
    ----------
    kerf
        Width of the blade's cut; of several saws that of the widest.
    reach
        Largest distance fence to blade; None for no limit. Of several saws that of the one that
        reaches farthest on the longest cut.
    mark
        Finest mark of the fence; 1 where it shows any distance.
    tools
        The saws where they are listed; empty for the table saw alone.
    keeps_remainders
        Whether a panel may be what is left of a strip, without a cut of its own.
    together
        Panels that shall get a size at one setting.
    sliver
        Narrowest piece that is taken off an edge by itself: less than that nobody sets.
    """

    kerf: int
    reach: int | None = None
    mark: int = 1
    tools: tuple[Tool, ...] = ()
    keeps_remainders: bool = True
    together: tuple[Together, ...] = ()
    sliver: int = 1

    @property
    def least_off(self) -> int:
        """Least that goes off an edge where it is taken off as a piece of its own."""
        return self.kerf + self.sliver

    @property
    def bench(self) -> tuple[Tool, ...]:
        """The saws; without a list the one table saw."""
        return self.tools or (Tool(self.kerf, self.reach, self.mark),)

    @property
    def common_mark(self) -> int:
        """Distance between two marks that every saw has."""
        return lcm(*(tool.mark for tool in self.bench))

    @property
    def has_one_kerf(self) -> bool:
        """Whether all blades are as wide."""
        return all(tool.kerf == self.kerf for tool in self.tools)

    @property
    def layout_reach(self) -> int | None:
        """Largest distance that layouts may count on.

        Beside a piece beyond reach thinner blades leave more than was reckoned, and a strip is cut
        oversize by that much.
        """
        if self.reach is None or self.has_one_kerf:
            return self.reach
        return max(1, self.reach - 2 * self.kerf)

    def reaches(self, distance: int) -> bool:
        """Whether the fence can stand at ``distance``."""
        return distance > 0 and (self.reach is None or distance <= self.reach)

    def farthest(self) -> int | None:
        """Return the largest distance of any saw; None for no limit."""
        reaches = [tool.reach for tool in self.bench]
        known = [reach for reach in reaches if reach is not None]
        return max(known) if len(known) == len(reaches) else None

"""What the sequencer knows of the shop, in grid units."""

from __future__ import annotations

from dataclasses import dataclass
from math import lcm

import numpy as np

from cutlist.model.sawing import Device
from cutlist.nesting.kernels import bench as kernel
from cutlist.nesting.kernels.bench import Bench
from cutlist.nesting.search.settings_search import Shop
from cutlist.sequencing.tools import Tool

_KINDS = {Device.FENCE: kernel.FENCE, Device.STOP: kernel.STOP, Device.GUIDE: kernel.GUIDE}


@dataclass(frozen=True, slots=True)
class Together:
    """Panels of these parts, by index, shall get their sides of this size at one setting."""

    distance: int
    parts: frozenset[int]


@dataclass(frozen=True, slots=True)
class Fence:
    """The shop: its saws, and what goes for all of them.

    Parameters
    ----------
    kerf
        Width of the blade's cut; of several saws that of the widest.
    reach
        Largest distance that layouts may count on; None for no limit, or where a guide helps.
    mark
        Finest mark of the fence; 1 where it shows any distance.
    tools
        The saws; empty for one that nothing limits but ``reach``.
    keeps_remainders
        Whether a panel may be what is left of a strip, without a cut of its own.
    together
        Panels that shall get a size at one setting.
    sliver
        Narrowest piece that is taken off an edge by itself: less than that nobody sets.
    least_waste
        Narrowest piece of waste that is taken off an edge between fence and blade.
    minute
        What a minute weighs in the weights of the tools.
    """

    kerf: int
    reach: int | None = None
    mark: int = 1
    tools: tuple[Tool, ...] = ()
    keeps_remainders: bool = True
    together: tuple[Together, ...] = ()
    sliver: int = 1
    least_waste: int = 1
    minute: int = 1

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
    def has_guide(self) -> bool:
        """Whether there is a guide that is laid anew for every cut."""
        return any(tool.serves_one_cut for tool in self.bench)

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
        """Whether layouts may count on ``distance``."""
        return distance > 0 and (self.reach is None or distance <= self.reach)

    def farthest(self) -> int | None:
        """Return the largest distance of any saw; None for no limit."""
        reaches = [tool.reach for tool in self.bench]
        known = [reach for reach in reaches if reach is not None]
        return max(known) if len(known) == len(reaches) else None

    def shop(self) -> Shop:
        """Return the same as the compiled search knows it."""
        rows = [self._row(tool) for tool in self.bench]
        pieces = [
            (number, across, along)
            for number, tool in enumerate(self.bench)
            for across, along in tool.largest_pieces
        ]
        bench = Bench(
            np.array(rows, np.int64),
            np.array(pieces, np.int64).reshape(-1, 3),
            self.kerf,
            self.kerf - min(tool.kerf for tool in self.bench),
        )
        return Shop(bench, self.minute, self.keeps_remainders)

    def _row(self, tool: Tool) -> tuple[int, ...]:
        def most(limit: int | None) -> int:
            return kernel.FAR if limit is None else limit

        is_fence = tool.device is Device.FENCE
        return (
            _KINDS[tool.device],
            max(1, tool.thinnest_strip if is_fence else 1),
            most(tool.reach),
            tool.mark,
            tool.weight,
            int(tool.serves_one_cut),
            most(tool.longest_cut),
            tool.smallest_piece,
            most(tool.steady_edge),
            max(self.sliver, self.least_waste if is_fence else 1),
            tool.kerf,
        )

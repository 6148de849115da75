"""The job's saws in grid units."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor
from typing import TYPE_CHECKING

from cutlist.model.job import USUAL_MINUTES, Remainders
from cutlist.sequencing.fence import Fence, Together
from cutlist.sequencing.tools import Tool
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.model.job import Job, Saw
    from cutlist.units.grid import Grid


#: Narrowest piece taken off an edge by itself (common practice: what a rule shows and a saw holds).
SLIVER = {Units.INCH: Fraction(1, 32), Units.MM: Fraction(1)}


def fence_of(job: Job, grid: Grid) -> Fence:
    """Return the shop: the table saw alone, or the saws listed and what stands for them all.

    Sheets are laid out for the widest kerf, and for the reach of the saw that reaches farthest
    among those that make the longest cut there is in the stock, or the longest of any saw.
    """
    keeps = job.remainders is Remainders.KEEP
    together = _together(job, grid)
    sliver = ceil(SLIVER[job.units] / grid.unit)
    if not job.saws:
        saw = job.saw
        reach = None if saw.max_rip is None else grid.to_int(saw.max_rip)
        mark = 1 if saw.scale is None else grid.to_int(saw.scale)
        return Fence(
            grid.to_int(saw.kerf),
            reach,
            mark,
            keeps_remainders=keeps,
            together=together,
            sliver=sliver,
        )
    minutes = USUAL_MINUTES if job.minutes_per_setup is None else job.minutes_per_setup
    tools = tuple(_tool(saw, grid, minutes) for saw in job.saws)
    longest = max((max(piece.length, piece.width) for piece in job.stock), default=Fraction(0))
    span = max(_span(tool, grid.to_int(longest)) for tool in tools)
    reaches = [tool.reach for tool in tools if _span(tool, span) == span]
    known = [reach for reach in reaches if reach is not None]
    return Fence(
        kerf=max(tool.kerf for tool in tools),
        reach=max(known) if len(known) == len(reaches) else None,
        tools=tools,
        keeps_remainders=keeps,
        together=together,
        sliver=sliver,
    )


def _together(job: Job, grid: Grid) -> tuple[Together, ...]:
    """Return what has to match of the parts that are there, and can be set on some saw."""
    number = {part.name: index for index, part in enumerate(job.parts)}
    wanted = []
    for match in job.matches:
        # A comparison leaves parts out, and with them whole groups.
        parts = frozenset(number[name] for name in match.parts if name in number)
        is_set = any(saw.max_rip is None or match.distance <= saw.max_rip for saw in job.tools)
        if parts and is_set:
            wanted.append(Together(grid.to_int(match.distance), parts))
    return tuple(wanted)


def _span(tool: Tool, most: int) -> int:
    return most if tool.longest_cut is None else min(most, tool.longest_cut)


def _tool(saw: Saw, grid: Grid, minutes: Fraction) -> Tool:
    """Return a saw whose limits are rounded so that they say the same of whole grid units.

    ``minutes`` is what a set-up takes where the saw does not say.
    """

    def most(length: Fraction | None) -> int | None:
        return None if length is None else floor(length / grid.unit)

    return Tool(
        kerf=grid.to_int(saw.kerf),
        reach=most(saw.max_rip),
        mark=1 if saw.scale is None else grid.to_int(saw.scale),
        kind=saw.kind,
        longest_cut=most(saw.longest_cut),
        smallest_piece=ceil(saw.smallest_piece / grid.unit),
        thinnest_strip=ceil(saw.thinnest_strip / grid.unit),
        minutes=minutes if saw.minutes_per_setup is None else saw.minutes_per_setup,
    )

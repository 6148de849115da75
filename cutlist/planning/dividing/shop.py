"""The job's saws in grid units."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, lcm
from typing import TYPE_CHECKING

from cutlist.model.job import Remainders
from cutlist.sequencing.fence import Fence, Together
from cutlist.sequencing.tools import Tool
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.model.job import Job, Saw
    from cutlist.units.grid import Grid


#: Narrowest piece taken off an edge by itself (common practice: what a rule shows and a saw holds).
SLIVER = {Units.INCH: Fraction(1, 32), Units.MM: Fraction(1)}
#: Narrowest waste that is taken off between fence and blade (common practice): a push block holds
#: it to the last; less is thrown, and goes on the far side of the blade.
LEAST_WASTE = {Units.INCH: Fraction(2), Units.MM: Fraction(50)}


def fence_of(job: Job, grid: Grid) -> Fence:
    """Return the shop: its saws, and what stands for them all.

    Sheets are laid out for the widest kerf, and for the reach of the saw that reaches farthest
    among those that make the longest cut there is in the stock, or the longest of any saw.
    """
    minute = lcm(*(job.minutes_of(saw).denominator for saw in job.tools))
    tools = tuple(_tool(saw, grid, int(job.minutes_of(saw) * minute)) for saw in job.tools)
    longest = max((max(piece.length, piece.width) for piece in job.stock), default=Fraction(0))
    span = max(_span(tool, floor(longest / grid.unit)) for tool in tools)
    reaches = [tool.reach for tool in tools if _span(tool, span) == span]
    known = [reach for reach in reaches if reach is not None]
    return Fence(
        kerf=max(tool.kerf for tool in tools),
        reach=max(known) if len(known) == len(reaches) else None,
        mark=lcm(*(tool.mark for tool in tools)),
        tools=tools,
        keeps_remainders=job.remainders is Remainders.KEEP,
        together=_together(job, grid),
        sliver=ceil(SLIVER[job.units] / grid.unit),
        least_waste=ceil(LEAST_WASTE[job.units] / grid.unit),
        minute=minute,
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


def _tool(saw: Saw, grid: Grid, weight: int) -> Tool:
    """Return a saw whose limits are rounded so that they say the same of whole grid units."""

    def most(length: Fraction | None) -> int | None:
        return None if length is None else floor(length / grid.unit)

    return Tool(
        kerf=grid.to_int(saw.kerf),
        reach=most(saw.max_rip),
        mark=1 if saw.scale is None else grid.to_int(saw.scale),
        device=saw.device,
        longest_cut=most(saw.longest_cut),
        largest_pieces=tuple(
            (floor(across / grid.unit), floor(along / grid.unit))
            for across, along in saw.largest_pieces
        ),
        smallest_piece=ceil(saw.smallest_piece / grid.unit),
        steady_edge=None if saw.steady_edge is None else ceil(saw.steady_edge / grid.unit),
        thinnest_strip=ceil(saw.thinnest_strip / grid.unit),
        serves_one_cut=saw.serves_one_cut,
        weight=weight,
    )

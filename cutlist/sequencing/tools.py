"""The saws as the sequencer knows them, in grid units, and what each of them may do.

Sources of the rules. Common practice: a piece longer across the fence than along it turns off the
fence unless the edge along it is long; a sled carries so much; what is too large for both is cut by
a saw guided along the piece itself, which is laid anew for every cut. The warnings common to
table-saw manuals: work shorter than 300 mm (12 in) along the fence is short; the fence is never the
stop of a cut with the mitre gauge, so a stop is a set-up of its own. The lengths come from the job;
the manual of the saw decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cutlist.model.sawing import Device, Hazard

#: Settings of one saw lie below this, as every length on the grid does.
_SPAN: Final = 2**31


def setting_of(tool: int, distance: int) -> int:
    """Return the number of a setting: ``distance`` itself with the first tool."""
    return tool * _SPAN + distance


def tool_and_distance(setting: int) -> tuple[int, int]:
    """Return the tool and the distance that a setting stands for."""
    return divmod(setting, _SPAN)


@dataclass(frozen=True, slots=True)
class Tool:
    """A saw in grid units; left out, nothing limits it.

    Parameters
    ----------
    kerf
        Width of the blade's cut.
    reach
        Largest distance; None for no limit.
    mark
        Finest mark; 1 where any distance can be set.
    device
        What its distance is measured to: fence, stop or guide.
    longest_cut, largest_pieces, smallest_piece, steady_edge, thinnest_strip
        As of the :class:`~cutlist.model.job.Saw`.
    serves_one_cut
        Whether it is set anew for every cut.
    weight
        What a set-up counts: its minutes in the shop's smallest common part of one.
    """

    kerf: int
    reach: int | None = None
    mark: int = 1
    device: Device = Device.FENCE
    longest_cut: int | None = None
    largest_pieces: tuple[tuple[int, int], ...] = ()
    smallest_piece: int = 0
    steady_edge: int | None = 0
    thinnest_strip: int = 0
    serves_one_cut: bool = False
    weight: int = 1

    def reaches(self, distance: int) -> bool:
        """Whether it can be set to ``distance``."""
        return distance > 0 and (self.reach is None or distance <= self.reach)

    def down(self, distance: int) -> int:
        """Return the last mark at or below ``distance``."""
        return distance // self.mark * self.mark

    def hazards(self, along: int, across: int, distance: int) -> tuple[Hazard, ...]:
        """Return what is unsafe about a cut.

        Parameters
        ----------
        along, across
            The piece's size along the cut and across it.
        distance
            Size of the side kept at the fence, at the stop, or under the guide.
        """
        found = []
        if self.longest_cut is not None and along > self.longest_cut:
            found.append(Hazard.TOO_LONG)
        held = {Device.FENCE: along, Device.STOP: across}.get(self.device, min(along, across))
        is_fence = self.device is Device.FENCE
        if is_fence and across > along and (self.steady_edge is None or along < self.steady_edge):
            found.append(Hazard.UNSTEADY)
        if self.largest_pieces and not any(
            across <= most_across and along <= most_along
            for most_across, most_along in self.largest_pieces
        ):
            found.append(Hazard.TOO_LARGE)
        if held < self.smallest_piece:
            found.append(Hazard.TOO_SMALL)
        if is_fence and distance < self.thinnest_strip:
            found.append(Hazard.TOO_THIN)
        return tuple(found)

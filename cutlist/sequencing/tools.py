"""The saws as the sequencer knows them, in grid units, and the rules of safe work with each.

Sources of the rules. Common practice: a piece longer across the fence than along it turns off the
fence, so a narrow strip is crosscut with a sled or mitre gauge and never along the fence; what is
too large for both is cut by a saw guided along the piece itself. The warnings common to table-saw
manuals: the workpiece must be long enough to reach the riving knife, and work shorter than 300 mm
(12 in) along the fence is short; the fence is never the stop of a cut with the mitre gauge, so a
stop is a set-up of its own. The lengths come from the job; the manual of the saw decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from cutlist.model.job import SawKind
from cutlist.model.sawing import Hazard

#: Settings of one saw lie below this, as every length on the grid does.
_SPAN: Final = 2**31

#: Where several saws make a cut safely, the one that stands first: a fence is set fastest and
#: truest, a guide has to be measured at both ends (common practice).
_ORDER: Final = (
    SawKind.TABLE_SAW,
    SawKind.SLED,
    SawKind.MITRE_GAUGE,
    SawKind.TRACK_SAW,
    SawKind.CIRCULAR_SAW,
)


def setting_of(tool: int, distance: int) -> int:
    """Return the number of a setting: ``distance`` itself with the first tool."""
    return tool * _SPAN + distance


def tool_and_distance(setting: int) -> tuple[int, int]:
    """Return the tool and the distance that a setting stands for."""
    return divmod(setting, _SPAN)


@dataclass(frozen=True, slots=True)
class Tool:
    """A saw in grid units.

    Parameters
    ----------
    kerf
        Width of the blade's cut.
    reach
        Largest distance; None for no limit.
    mark
        Finest mark; 1 where any distance can be set.
    kind
        Which rules hold for it.
    longest_cut, smallest_piece, thinnest_strip, minutes
        As of the :class:`~cutlist.model.job.Saw`.
    """

    kerf: int
    reach: int | None = None
    mark: int = 1
    kind: SawKind = SawKind.TABLE_SAW
    longest_cut: int | None = None
    smallest_piece: int = 0
    thinnest_strip: int = 0
    minutes: Fraction = Fraction(0)

    @property
    def order(self) -> int:
        """Place of its kind where several saws would do."""
        return _ORDER.index(self.kind)

    def reaches(self, distance: int) -> bool:
        """Whether it can be set to ``distance``."""
        return distance > 0 and (self.reach is None or distance <= self.reach)

    def cuts_along(self, along: int) -> bool:
        """Whether it makes a cut so long."""
        return self.longest_cut is None or along <= self.longest_cut

    def up(self, distance: int) -> int:
        """Return the first mark at or above ``distance``."""
        return -(-distance // self.mark) * self.mark

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
        if not self.cuts_along(along):
            found.append(Hazard.TOO_LONG)
        if self.kind is SawKind.TABLE_SAW:
            guided = along
            if across > along:
                found.append(Hazard.UNSTEADY)
        elif self.kind in (SawKind.SLED, SawKind.MITRE_GAUGE):
            guided = across
        else:
            guided = min(along, across)
        if guided < self.smallest_piece:
            found.append(Hazard.TOO_SMALL)
        if self.kind is SawKind.TABLE_SAW and distance < self.thinnest_strip:
            found.append(Hazard.TOO_THIN)
        return tuple(found)

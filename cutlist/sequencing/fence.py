"""What the sequencer knows of the saw, in grid units."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fence:
    """The table saw's fence.

    Parameters
    ----------
    kerf
        Width of the blade's cut.
    reach
        Largest distance fence to blade; None for no limit.
    mark
        Finest mark of the fence; 1 where it shows any distance.
    """

    kerf: int
    reach: int | None = None
    mark: int = 1

    def reaches(self, distance: int) -> bool:
        """Whether the fence can stand at ``distance``."""
        return distance > 0 and (self.reach is None or distance <= self.reach)

    def up(self, distance: int) -> int:
        """Return the first mark at or above ``distance``."""
        return -(-distance // self.mark) * self.mark

    def down(self, distance: int) -> int:
        """Return the last mark at or below ``distance``."""
        return distance // self.mark * self.mark

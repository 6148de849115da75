"""Where the blade runs."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from cutlist.model.plan import Cut, Piece, SawSetup


@dataclass(frozen=True, slots=True)
class CutLine:
    """The blade's way across a workpiece, in the workpiece's frame.

    Parameters
    ----------
    setting, cut
        What is cut, and where.
    piece
        What it is cut from.
    depth
        How many operations before it made that piece.
    """

    setting: SawSetup
    cut: Cut
    piece: Piece
    depth: int

    @property
    def direction(self) -> Direction:
        """A rip runs along x, a crosscut along y."""
        return self.cut.direction

    @property
    def middle(self) -> Fraction:
        """The centre of the kerf, across the cut: beside ``kept``, inside the piece."""
        piece, kept = self.piece, self.cut.kept
        if self.direction is Direction.RIP:
            near, size, kept_near, kept_size = piece.y, piece.width, kept.y, kept.width
        else:
            near, size, kept_near, kept_size = piece.x, piece.length, kept.x, kept.length
        if kept_near > near:
            return max(kept_near - self.setting.kerf / 2, near)
        return min(kept_near + kept_size + self.setting.kerf / 2, near + size)

    @property
    def start(self) -> Fraction:
        """Where it begins, along the cut."""
        return self.piece.x if self.direction is Direction.RIP else self.piece.y

    @property
    def end(self) -> Fraction:
        """Where it ends."""
        is_rip = self.direction is Direction.RIP
        return self.start + (self.piece.length if is_rip else self.piece.width)

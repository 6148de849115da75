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

    ``start`` and ``end`` run along the cut, ``middle`` is the centre of the kerf across it;
    ``depth`` counts the operations before it that made its piece.
    """

    setting: SawSetup
    cut: Cut
    middle: Fraction
    start: Fraction
    end: Fraction
    depth: int

    @property
    def direction(self) -> Direction:
        """A rip runs along x, a crosscut along y."""
        return self.cut.direction


def cut_line(setting: SawSetup, cut: Cut, piece: Piece, depth: int) -> CutLine:
    """Place the blade: beside ``kept``, on the side away from the fence, inside ``piece``."""
    if cut.direction is Direction.RIP:
        near, far = piece.y, piece.y + piece.width
        kept_near, kept_far = cut.kept.y, cut.kept.y + cut.kept.width
        start, end = piece.x, piece.x + piece.length
    else:
        near, far = piece.x, piece.x + piece.length
        kept_near, kept_far = cut.kept.x, cut.kept.x + cut.kept.length
        start, end = piece.y, piece.y + piece.width
    if kept_near > near:
        middle = max(kept_near - setting.kerf / 2, near)
    else:
        middle = min(kept_far + setting.kerf / 2, far)
    return CutLine(setting, cut, middle, start, end, depth)

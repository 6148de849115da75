"""Paper sizes, in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cutlist.units.system import Units

__all__ = ["A4", "LETTER", "PAPERS", "PT_MM", "Paper", "usual_paper"]

#: One PostScript point, 1/72 in, in millimetres.
PT_MM: Final = 25.4 / 72


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper format; ``short_mm`` and ``long_mm`` are its two sides."""

    name: str
    short_mm: float
    long_mm: float

    def size_mm(self, *, landscape: bool) -> tuple[float, float]:
        """Give width and height of a page."""
        if landscape:
            return self.long_mm, self.short_mm
        return self.short_mm, self.long_mm


#: ISO 216: 210 mm × 297 mm.
A4: Final = Paper("A4", 210.0, 297.0)
#: ASME Y14.1 size A: 8.5 in × 11 in.
LETTER: Final = Paper("Letter", 215.9, 279.4)
#: All that can be asked for, by the word that asks.
PAPERS: Final = {paper.name.lower(): paper for paper in (A4, LETTER)}


def usual_paper(units: Units) -> Paper:
    """Give the paper found where the unit is in use: Letter with inches, A4 with millimetres."""
    return LETTER if units is Units.INCH else A4

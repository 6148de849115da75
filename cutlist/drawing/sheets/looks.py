"""How sketches look: line widths and lettering by how far away they are read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from cutlist.drawing import theme
from cutlist.drawing.primitives import Fill
from cutlist.drawing.sheets.lettering import LARGE, PLAIN, Fit
from cutlist.drawing.sheets.tags import BALL, TAG, TagLook

__all__ = ["CLOSE_BY", "FAR_OFF", "SMALL", "Look"]


@dataclass(frozen=True, slots=True)
class Look:
    """Line widths in millimetres, and lettering.

    Parameters
    ----------
    panel, panel_fill
        Outline of a panel, 0 for none, and what fills it.
    hatch, hatch_spacing
        Lines of waste.
    kept, kept_inset, kept_dash
        The second outline of an offcut to keep, and how far inside it lies at most.
    edge, edge_inset
        The line along an edge to clean, and how far inside it lies at least, to be seen.
    over
        How far a cut reaches beyond what is cut.
    labels, numbers
        Lettering of pieces, and the numbers on cut lines.
    has_numbers_first
        Whether numbers are placed before the lettering of pieces, which then keeps clear of them.
    below, left
        Where the dimensions stand beside the sheet, mm.
    """

    outline: float = theme.HEAVY
    panel: float = 0.0
    panel_fill: Fill = Fill.WHITE
    hatch: float = theme.THIN
    hatch_spacing: float = theme.HATCH_SPACING
    kept: float = theme.MEDIUM
    kept_inset: float = 1.9
    kept_dash: tuple[float, ...] = theme.DASHED
    edge: float = theme.MEDIUM
    edge_inset: float = 0.95
    over: float = 0.0
    labels: Fit = PLAIN
    numbers: TagLook = TAG
    has_numbers_first: bool = False
    below: float = 5.4
    left: float = 3.4


#: Read close by, such as at the bench.
CLOSE_BY: Final = Look()
#: Read from some steps away, such as at the store's saw.
FAR_OFF: Final = Look(labels=LARGE, numbers=BALL, has_numbers_first=True, below=10.0, left=9.0)
#: Seen at a glance, and without lettering on the pieces.
SMALL: Final = Look(
    outline=theme.MEDIUM,
    panel=theme.THIN,
    panel_fill=Fill.TINT,
    hatch=theme.HAIR,
    hatch_spacing=1.2,
    kept=theme.FINE,
    kept_inset=0.7,
    kept_dash=(1.2, 0.7),
)

"""What the page of a layout shows of its sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.sheets.looks import CLOSE_BY
from cutlist.drawing.sheets.sketch import CutMark, Label, Named, Shape, Sketch, Use
from cutlist.ledger.alike import differ_in_letter, lines_alike, names_alike
from cutlist.model.job import Grain
from cutlist.model.plan import Direction, Place
from cutlist.telling.layouts import tag_forms
from cutlist.telling.wording import piece_size, size_words
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Part
    from cutlist.model.plan import Piece

__all__ = ["LayoutSketch", "sketch_layout"]

#: Line width by how many cuts went before; the first cuts are the widest.
_DEPTH_WIDTHS: Final = (theme.HEAVY, theme.WIDE, theme.MEDIUM, theme.FINE)


@dataclass(frozen=True, slots=True)
class LayoutSketch:
    """The sketch of the sheets of a layout, and what its shapes and cuts stand for.

    Parameters
    ----------
    names
        For each shape the names of its piece, one for each sheet where they differ in more than
        the letter of the sheet.
    lines
        For each cut of the sketch the cuts of all sheets.
    are_alike
        Whether names differ in the letter alone.
    """

    sketch: Sketch
    names: tuple[tuple[str, ...], ...]
    lines: tuple[tuple[CutLine, ...], ...]
    are_alike: bool


def sketch_layout(ledger: Ledger, group: SheetGroup) -> LayoutSketch:
    """Describe the first sheet of a group for all of them."""
    first, units = group.first, ledger.plan.job.units
    parts = {part.name: part for part in ledger.plan.job.parts}
    names, are_alike = names_alike(ledger, group), differ_in_letter(ledger, group)
    shown = tuple(found[:1] for found in names) if are_alike else names
    pieces = ledger.staying(first.piece)
    lines = lines_alike(ledger, group)
    sketch = Sketch(
        first.length,
        first.width,
        CLOSE_BY,
        shapes=tuple(
            _shape(ledger, group, parts, piece, found, of_all)
            for piece, found, of_all in zip(pieces, shown, names, strict=True)
        ),
        cuts=tuple(_mark(alike) for alike in lines),
        names=tuple(Named(blank, blank.name) for blank in ledger.blanks(first.piece)),
        edges=tuple(first.trims.unclean.items()),
        sides=(format_length(first.length, units), format_length(first.width, units)),
    )
    return LayoutSketch(sketch, shown, lines, are_alike)


def _mark(lines: Sequence[CutLine]) -> CutMark:
    first = lines[0]
    return CutMark(
        first.direction is Direction.RIP,
        first.middle,
        first.start,
        first.end,
        _DEPTH_WIDTHS[min(first.depth, len(_DEPTH_WIDTHS) - 1)],
        theme.DASHED if first.setting.place is Place.STORE else (),
        tag_forms(lines),
    )


def _shape(
    ledger: Ledger,
    group: SheetGroup,
    parts: dict[str, Part],
    piece: Piece,
    shown: tuple[str, ...],
    names: tuple[str, ...],
) -> Shape:
    job = ledger.plan.job
    size, said = piece_size(piece, job), ", ".join(shown)
    panel = ledger.panel_of.get(piece.name)
    if panel is not None:
        qty, part = ledger.qty_of[panel.part], parts[panel.part]
        if len(names) == 1 and qty > 1:
            said = f"{said}  ({panel.copy} of {qty})"
        subject = f"{panel.part}, {size_words(part.length, part.width, job)}"
        has_arrow = part.grain is not Grain.ANY and group.first.has_grain
        label = Label(panel.part, (size, said), subject, beside=names[0])
        return Shape(piece, Use.PANEL, label, has_arrow)
    if ledger.is_kept_offcut(piece.name):
        subject = f"offcut to keep {said}, {size}"
        return Shape(piece, Use.KEPT, Label("keep", (size, said), subject, beside=said))
    words = f"waste {said}" if len(shown) == 1 else "waste"
    return Shape(piece, Use.WASTE, Label(words, is_bold=False))

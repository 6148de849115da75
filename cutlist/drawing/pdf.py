"""The PDF backend."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, BinaryIO, Final, assert_never

from reportlab.pdfgen.canvas import Canvas

from cutlist.drawing import theme
from cutlist.drawing.hatching import arrow_head, hatch_lines
from cutlist.drawing.metrics import font_name, runs, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Fill, Hatch, Line, Rect, Text

if TYPE_CHECKING:
    from collections.abc import Iterable

    from cutlist.drawing.primitives import Item, Page

__all__ = ["write_pages"]

_GREY: Final = {Fill.WHITE: 1.0, Fill.TINT: theme.TINT_GREY, Fill.BLACK: 0.0}


def write_pages(pages: Iterable[Page], target: BinaryIO, *, title: str) -> None:
    """Write pages as a PDF."""
    canvas = Canvas(target, pageCompression=1, invariant=1, initialFontName=font_name(bold=False))
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setCreator("cutlist")
    canvas.setSubject("Cutting plan")
    for page in pages:
        canvas.setPageSize((page.width_mm / PT_MM, page.height_mm / PT_MM))
        # From here on one unit is a millimetre; y still runs up, so it is turned item by item.
        canvas.scale(1 / PT_MM, 1 / PT_MM)
        canvas.setLineCap(0)
        canvas.setLineJoin(0)
        pen = _Pen(canvas, page.height_mm)
        for item in page.items:
            pen.draw(item)
        canvas.showPage()
    canvas.save()


class _Pen:
    """Draws the items of one page and remembers the line style in force."""

    def __init__(self, canvas: Any, height_mm: float) -> None:
        self._canvas = canvas
        self._height = height_mm
        self._style: tuple[float, tuple[float, ...]] | None = None

    def draw(self, item: Item) -> None:
        if isinstance(item, Line):
            self._line(item)
        elif isinstance(item, Rect):
            self._rect(item)
        elif isinstance(item, Hatch):
            self._hatch(item)
        elif isinstance(item, Text):
            self._text(item)
        else:
            assert_never(item)

    def _set_style(self, width_mm: float, dash_mm: tuple[float, ...]) -> None:
        if self._style == (width_mm, dash_mm):
            return
        self._style = (width_mm, dash_mm)
        self._canvas.setLineWidth(width_mm)
        self._canvas.setDash(list(dash_mm))

    def _line(self, line: Line) -> None:
        self._set_style(line.width_mm, line.dash_mm)
        height = self._height
        self._canvas.line(line.x1, height - line.y1, line.x2, height - line.y2)
        if line.arrow_start:
            self._head(line.x1, line.y1, line.x2, line.y2, line.width_mm)
        if line.arrow_end:
            self._head(line.x2, line.y2, line.x1, line.y1, line.width_mm)

    def _head(self, x: float, y: float, from_x: float, from_y: float, width_mm: float) -> None:
        path = self._canvas.beginPath()
        tip, left, right = arrow_head(x, y, from_x, from_y, width_mm)
        path.moveTo(tip[0], self._height - tip[1])
        path.lineTo(left[0], self._height - left[1])
        path.lineTo(right[0], self._height - right[1])
        path.close()
        self._canvas.setFillGray(0.0)
        self._canvas.drawPath(path, stroke=0, fill=1)

    def _rect(self, rect: Rect) -> None:
        box = rect.box
        if rect.width_mm > 0:
            self._set_style(rect.width_mm, rect.dash_mm)
        filled = rect.fill is not Fill.NONE
        if filled:
            self._canvas.setFillGray(_GREY[rect.fill])
        self._canvas.rect(
            box.x,
            self._height - box.bottom,
            box.width,
            box.height,
            stroke=int(rect.width_mm > 0),
            fill=int(filled),
        )

    def _hatch(self, hatch: Hatch) -> None:
        self._set_style(hatch.width_mm, ())
        height = self._height
        lines = [(x1, height - y1, x2, height - y2) for x1, y1, x2, y2 in hatch_lines(hatch)]
        if lines:
            self._canvas.lines(lines)

    def _text(self, text: Text) -> None:
        canvas = self._canvas
        canvas.setFillGray(0.0)
        width = text_width(text.content, text.size_pt, text.bold)
        shift = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
        lettering = canvas.beginText()
        x, y = text.x, self._height - text.y
        if text.upwards:
            lettering.setTextTransform(0, PT_MM, -PT_MM, 0, x, y - shift)
        else:
            lettering.setTextTransform(PT_MM, 0, 0, PT_MM, x - shift, y)
        for run in runs(text.content, text.size_pt):
            lettering.setFont(font_name(text.bold), run.size_pt)
            lettering.setRise(run.rise_pt)
            lettering.textOut(run.content)
        canvas.drawText(lettering)

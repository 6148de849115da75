"""The PDF backend.

Pages are written as the operators of ISO 32000-1, clauses 8.5 and 9.4, straight away: a plan of ten
thousand panels has some thousand pages, and most of what stands on them stands there often.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import groupby
from operator import itemgetter
from typing import TYPE_CHECKING, Any, BinaryIO, Final, assert_never

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
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

_GREY: Final = {Fill.WHITE: "1 g", Fill.TINT: f"{theme.TINT_GREY:.3f} g", Fill.BLACK: "0 g"}
#: From points to millimetres, and a quarter turn with it.
_UPRIGHT: Final = f"{PT_MM:.6f} 0 0 {PT_MM:.6f}"
_TURNED: Final = f"0 {PT_MM:.6f} {-PT_MM:.6f} 0"


def write_pages(pages: Iterable[Page], target: BinaryIO, *, title: str) -> None:
    """Write pages as a PDF."""
    canvas = Canvas(target, pageCompression=1, invariant=1, initialFontName=font_name(bold=False))
    canvas.setTitle(title)
    canvas.setAuthor("")
    canvas.setCreator("cutlist")
    canvas.setSubject("Cutting plan")
    lettering = _Lettering(canvas)
    with _bytes_as_they_are():
        for page in pages:
            canvas.setPageSize((page.width_mm / PT_MM, page.height_mm / PT_MM))
            # From here on one unit is a millimetre; y still runs up, so it is turned item by item.
            canvas.scale(1 / PT_MM, 1 / PT_MM)
            canvas.setLineCap(0)
            canvas.setLineJoin(0)
            pen = _Pen(lettering, page.height_mm)
            for item in page.items:
                pen.draw(item)
            canvas.addLiteral("\n".join(pen.code))
            canvas.showPage()
        canvas.save()


@contextmanager
def _bytes_as_they_are() -> Iterator[None]:
    """Keep the library from writing compressed pages as letters: larger, and slow."""
    before = rl_config.useA85
    rl_config.useA85 = 0
    try:
        yield
    finally:
        rl_config.useA85 = before


class _Lettering:
    """Operators that show words, each kept for as often as the words stand in the document."""

    def __init__(self, canvas: Any) -> None:
        self._glyphs = {bold: _Glyphs(canvas._doc, bold) for bold in (False, True)}
        self._shown: dict[tuple[str, float, bool], str] = {}

    def show(self, words: str, size_pt: float, bold: bool) -> str:
        """Return the operators that show words, their fractions stacked."""
        key = (words, size_pt, bold)
        known = self._shown.get(key)
        if known is None:
            known = self._shown[key] = " ".join(self._operators(words, size_pt, bold))
        return known

    def _operators(self, words: str, size_pt: float, bold: bool) -> Iterator[str]:
        glyphs = self._glyphs[bold]
        raised = 0.0
        for run in runs(words, size_pt):
            if run.rise_pt != raised:
                raised = run.rise_pt
                yield f"{raised:.4g} Ts"
            coded = map(glyphs.__getitem__, run.content)
            for name, group in groupby(coded, key=itemgetter(0)):
                codes = "".join([code for _, code in group])
                yield f"{name} {run.size_pt:.4g} Tf <{codes}> Tj"
        if raised:
            yield "0 Ts"


class _Glyphs(dict[str, tuple[str, str]]):
    """For each character the name of the font's subset that has it, and its code there."""

    def __init__(self, document: Any, bold: bool) -> None:
        self._document = document
        self._font = pdfmetrics.getFont(font_name(bold))

    def __missing__(self, char: str) -> tuple[str, str]:
        ((subset, code),) = self._font.splitString(char, self._document)
        name = self._font.getSubsetInternalName(subset, self._document)
        self[char] = found = (name, code.hex())
        return found


class _Pen:
    """Draws the items of one page and remembers the line style in force."""

    def __init__(self, lettering: _Lettering, height_mm: float) -> None:
        self._lettering = lettering
        self._height = height_mm
        self._style: tuple[float, tuple[float, ...]] | None = None
        self.code: list[str] = []

    def draw(self, item: Item) -> None:
        if isinstance(item, Text):
            self._text(item)
        elif isinstance(item, Line):
            self._line(item)
        elif isinstance(item, Rect):
            self._rect(item)
        elif isinstance(item, Hatch):
            self._hatch(item)
        else:
            assert_never(item)

    def _set_style(self, width_mm: float, dash_mm: tuple[float, ...]) -> None:
        if self._style == (width_mm, dash_mm):
            return
        self._style = (width_mm, dash_mm)
        dashes = " ".join(f"{dash:.3f}" for dash in dash_mm)
        self.code.append(f"{width_mm:.3f} w [{dashes}] 0 d")

    def _line(self, line: Line) -> None:
        self._set_style(line.width_mm, line.dash_mm)
        top = self._height
        self.code.append(
            f"{line.x1:.3f} {top - line.y1:.3f} m {line.x2:.3f} {top - line.y2:.3f} l S"
        )
        if line.arrow_start:
            self._head(line.x1, line.y1, line.x2, line.y2, line.width_mm)
        if line.arrow_end:
            self._head(line.x2, line.y2, line.x1, line.y1, line.width_mm)

    def _head(self, x: float, y: float, from_x: float, from_y: float, width_mm: float) -> None:
        corners = arrow_head(x, y, from_x, from_y, width_mm)
        tip, left, right = (f"{x:.3f} {self._height - y:.3f}" for x, y in corners)
        self.code.append(f"0 g {tip} m {left} l {right} l h f")

    def _rect(self, rect: Rect) -> None:
        box = rect.box
        is_drawn = rect.width_mm > 0
        if is_drawn:
            self._set_style(rect.width_mm, rect.dash_mm)
        is_filled = rect.fill is not Fill.NONE
        if is_filled:
            self.code.append(_GREY[rect.fill])
        end = ("B" if is_drawn else "f") if is_filled else ("S" if is_drawn else "n")
        low = self._height - box.bottom
        self.code.append(f"{box.x:.3f} {low:.3f} {box.width:.3f} {box.height:.3f} re {end}")

    def _hatch(self, hatch: Hatch) -> None:
        self._set_style(hatch.width_mm, ())
        top = self._height
        lines = [
            f"{x1:.3f} {top - y1:.3f} m {x2:.3f} {top - y2:.3f} l"
            for x1, y1, x2, y2 in hatch_lines(hatch)
        ]
        if lines:
            self.code.append(" ".join(lines) + " S")

    def _text(self, text: Text) -> None:
        x, y = text.x, self._height - text.y
        shift = 0.0
        if text.anchor is not Anchor.START:
            shift = text_width(text.content, text.size_pt, text.bold)
            if text.anchor is Anchor.MIDDLE:
                shift /= 2
        shown = self._lettering.show(text.content, text.size_pt, text.bold)
        if text.upwards:
            place = f"{_TURNED} {x:.3f} {y - shift:.3f}"
        else:
            place = f"{_UPRIGHT} {x - shift:.3f} {y:.3f}"
        self.code.append(f"0 g BT {place} Tm {shown} ET")

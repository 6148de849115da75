"""How wide lettering is, and how a fraction is set.

The typeface is Bitstream Vera Sans, which ships with the PDF library under a free licence and is
embedded in the PDF, so that a page looks the same everywhere. It has ``×`` and ``≈`` but no small
figures for eighths or sixteenths: a fraction is set from ordinary figures, made smaller, raised
and lowered, wherever they stay legible; in small lettering it stays on the line as ``5/8``.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

import reportlab
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Text

__all__ = ["TextRun", "cap_height", "font_name", "legible", "runs", "text_box", "text_width"]

_FILES: Final = {False: ("CutlistSans", "Vera.ttf"), True: ("CutlistSans-Bold", "VeraBd.ttf")}
#: Height of a capital and of a figure, and depth of a descender, as shares of the size.
_CAP: Final = 0.73
_DESCENT: Final = 0.22
#: From this size up a fraction is set small and slanted; below, its figures would be too small.
FRACTION_FROM_PT: Final = 11.5
_FRACTION: Final = re.compile(r"( ?)(?<![\d/.])(\d+)/(\d+)(?![\d/])")
_SMALL: Final = 0.62
_RAISE: Final = 0.30


@dataclass(frozen=True, slots=True)
class TextRun:
    """A stretch of lettering of one size; ``rise_pt`` lifts it off the baseline."""

    content: str
    size_pt: float
    rise_pt: float = 0.0


@cache
def font_name(bold: bool) -> str:
    """Make the face known to the PDF library and give the name it has there."""
    name, file = _FILES[bold]
    folder = Path(reportlab.__file__).parent / "fonts"
    pdfmetrics.registerFont(TTFont(name, str(folder / file)))
    return name


@cache
def _glyphs() -> frozenset[int]:
    """Code points that the face can draw."""
    face = pdfmetrics.getFont(font_name(False)).face
    return frozenset(face.charToGlyph)


@lru_cache(maxsize=20_000)
def legible(content: str) -> str:
    """Replace what the face cannot draw: by its base letter where it has one, else by ``?``."""
    glyphs = _glyphs()
    if all(ord(char) in glyphs for char in content):
        return content
    plain = []
    for char in content:
        if ord(char) in glyphs:
            plain.append(char)
            continue
        bare = [c for c in unicodedata.normalize("NFKD", char) if ord(c) in glyphs]
        plain.append("".join(bare) if bare else "" if unicodedata.combining(char) else "?")
    return "".join(plain)


def runs(content: str, size_pt: float) -> tuple[TextRun, ...]:
    """Cut a line of text into runs, with its fractions set as such where the size allows."""
    if size_pt < FRACTION_FROM_PT or "/" not in content:
        return (TextRun(content, size_pt),)
    small = size_pt * _SMALL
    out: list[TextRun] = []
    end = 0
    for match in _FRACTION.finditer(content):
        if match.start() > end:
            out.append(TextRun(content[end : match.start()], size_pt))
        if match[1]:
            out.append(TextRun(" ", size_pt / 2))
        out.append(TextRun(match[2], small, size_pt * _RAISE))
        out.append(TextRun("/", size_pt))
        out.append(TextRun(match[3], small))
        end = match.end()
    if end < len(content):
        out.append(TextRun(content[end:], size_pt))
    return tuple(out)


class _Widths(dict[str, float]):
    """The width of each character in a size of 1 pt, asked of the face once."""

    def __init__(self, bold: bool) -> None:
        self._font = font_name(bold)

    def __missing__(self, char: str) -> float:
        self[char] = width = float(pdfmetrics.stringWidth(char, self._font, 1000))
        return width


@cache
def _widths(bold: bool) -> _Widths:
    return _Widths(bold)


@lru_cache(maxsize=50_000)
def _width_at_1pt(content: str, bold: bool) -> float:
    return sum(map(_widths(bold).__getitem__, content)) / 1000


def text_width(content: str, size_pt: float, bold: bool = False) -> float:
    """Width of a line of text in millimetres."""
    if size_pt < FRACTION_FROM_PT or "/" not in content:
        return _width_at_1pt(content, bold) * size_pt * PT_MM
    total = sum(_width_at_1pt(run.content, bold) * run.size_pt for run in runs(content, size_pt))
    return total * PT_MM


def cap_height(size_pt: float) -> float:
    """Height of capitals and figures in millimetres."""
    return _CAP * size_pt * PT_MM


def descent(size_pt: float) -> float:
    """Give how far the lowest letters hang below their baseline, mm."""
    return _DESCENT * size_pt * PT_MM


def text_box(text: Text) -> Box:
    """Give the box that the lettering fills, descenders counted in, in millimetres."""
    width = text_width(text.content, text.size_pt, text.bold)
    shift = {Anchor.START: 0.0, Anchor.MIDDLE: width / 2, Anchor.END: width}[text.anchor]
    rise = cap_height(text.size_pt)
    depth = descent(text.size_pt)
    if text.upwards:
        return Box(text.x - rise, text.y + shift - width, rise + depth, width)
    return Box(text.x - shift, text.y - rise, width, rise + depth)

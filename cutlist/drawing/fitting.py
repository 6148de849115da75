"""Making text fit: wrapping, shortening and choosing a size. Pure functions of numbers."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, legible, text_width
from cutlist.drawing.paper import PT_MM

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["block_height", "shorten", "wrap"]

#: Spaces where a line may end: not inside a size or ``(1 of 4)``, nor between a figure and its
#: fraction or unit.
_BREAK: Final = re.compile(r"(?<![×≈]) +(?!×|\d+/\d|mm\b|lb\b|kg\b|of \d+\)|\d+\))")


def wrap(content: str, width_mm: float, size_pt: float, bold: bool = False) -> tuple[str, ...]:
    """Break text into lines no wider than ``width_mm``.

    A size such as ``23 5/8" × 14"`` stays in one piece if it fits on a line; a word too long for a
    line is broken. Every character is kept except the spaces at the breaks; at least one line is
    given.
    """
    lines: list[str] = []
    line = ""
    for word in _words(legible(content), width_mm, size_pt, bold):
        longer = f"{line} {word}" if line else word
        if text_width(longer, size_pt, bold) <= width_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while text_width(line, size_pt, bold) > width_mm and len(line) > 1:
            taken = _longest_start(line, width_mm, size_pt, bold)
            lines.append(line[:taken])
            line = line[taken:]
    lines.append(line)
    return tuple(lines)


def _words(content: str, width_mm: float, size_pt: float, bold: bool) -> Iterator[str]:
    """Give what is not to be parted, as long as it fits on a line by itself."""
    for group in _BREAK.split(content.strip()):
        if text_width(group, size_pt, bold) <= width_mm:
            yield group
        else:
            yield from group.split()


def _longest_start(word: str, width_mm: float, size_pt: float, bold: bool) -> int:
    """How many characters of ``word`` fit into the width; never less than one."""
    low, high = 1, len(word)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(word[:middle], size_pt, bold) <= width_mm:
            low = middle
        else:
            high = middle - 1
    return low


def shorten(content: str, width_mm: float, size_pt: float, bold: bool = False) -> str:
    """Give the text, or as much of its start as fits with ``…`` after it."""
    plain = legible(content)
    if text_width(plain, size_pt, bold) <= width_mm:
        return plain
    room = width_mm - text_width("…", size_pt, bold)
    return plain[: _longest_start(plain, room, size_pt, bold)].rstrip() + "…"


def block_height(lines: int, size_pt: float) -> float:
    """Height of so many lines from the top of the first capital to the last baseline, mm."""
    return cap_height(size_pt) + (lines - 1) * theme.LEADING * size_pt * PT_MM

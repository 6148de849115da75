"""The key of a layout page: what the marks mean and what had no room in the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Fill, Hatch, Item, Line, Rect, Role, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["KeyEntry", "KeyMark", "flow_entries"]

_SIZE: Final = theme.SMALL
_SAMPLE: Final = 13.0
_COLUMN_LEAST: Final = 56.0
_GAP: Final = 5.0
_STEP: Final = theme.LEADING * _SIZE * PT_MM


class KeyMark(Enum):
    """The sample drawn before an entry."""

    NONE = auto()
    HATCH = auto()
    KEEP = auto()
    TAG = auto()
    GRAIN = auto()
    TRIM = auto()
    STORE = auto()


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """A line of the key: a drawn sample or a bold ``head``, then text; several lines if need be."""

    text: str
    head: str = ""
    mark: KeyMark = KeyMark.NONE


def flow_entries(entries: Sequence[KeyEntry], room: Box) -> tuple[list[Item], tuple[KeyEntry, ...]]:
    """Fill the room with entries in columns; give what was drawn and the entries left out."""
    columns = max(1, int((room.width + _GAP) // (_COLUMN_LEAST + _GAP)))
    width = (room.width - (columns - 1) * _GAP) / columns
    items: list[Item] = []
    column, y = 0, room.y
    for index, given in enumerate(entries):
        entry = _headed(given)
        lines = wrap(entry.text, width - _SAMPLE, _SIZE)
        height = len(lines) * _STEP + 0.9
        if y + height > room.bottom and y > room.y:
            column, y = column + 1, room.y
        if column >= columns or y + height > room.bottom:
            return items, tuple(entries[index:])
        x = room.x + column * (width + _GAP)
        items.extend(_draw(entry, lines, x, y))
        y += height
    return items, ()


def _headed(entry: KeyEntry) -> KeyEntry:
    """Move a head too wide for its column into the text."""
    if entry.mark is KeyMark.NONE and text_width(entry.head, _SIZE, True) > _SAMPLE - 0.8:
        return KeyEntry(f"{entry.head} {entry.text}")
    return entry


def _draw(entry: KeyEntry, lines: Sequence[str], x: float, y: float) -> list[Item]:
    baseline = y + cap_height(_SIZE)
    items: list[Item] = list(_sample(entry, x, y, baseline))
    items.extend(
        Text(x + _SAMPLE, baseline + number * _STEP, line, _SIZE, role=Role.KEY)
        for number, line in enumerate(lines)
    )
    return items


def _sample(entry: KeyEntry, x: float, y: float, baseline: float) -> tuple[Item, ...]:
    box = Box(x, y - 0.2, _SAMPLE - 2.5, 2.4)
    middle = box.y + box.height / 2
    if entry.mark is KeyMark.HATCH:
        return Hatch(box, theme.HATCH_SPACING, theme.THIN, Role.KEY), Rect(box, theme.FINE)
    if entry.mark is KeyMark.KEEP:
        return Rect(box, theme.FINE), Rect(box.inset(0.7), theme.FINE, dash_mm=theme.DASHED)
    if entry.mark is KeyMark.GRAIN:
        return (Line(x, middle, box.right, middle, theme.FINE, arrow_start=True, arrow_end=True),)
    if entry.mark is KeyMark.TRIM:
        return (Line(x, middle, box.right, middle, theme.FINE, theme.CHAIN),)
    if entry.mark is KeyMark.STORE:
        return (Line(x, middle, box.right, middle, theme.WIDE, theme.DASHED),)
    if entry.mark is KeyMark.TAG:
        middle_x, wide = x + box.width / 2, text_width(entry.head, theme.TINY, True) + 0.6
        return (
            Line(x, middle, box.right, middle, theme.WIDE),
            Rect(Box(middle_x - wide / 2, y - 0.3, wide, 2.6), 0, fill=Fill.WHITE),
            Text(middle_x, baseline, entry.head, theme.TINY, True, Anchor.MIDDLE, role=Role.KEY),
        )
    if entry.head:
        return (Text(x, baseline, entry.head, _SIZE, True, role=Role.KEY),)
    return ()

"""The numbers on cut lines: ``setting·cut``, placed along the line where nothing else stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.primitives import Anchor, Box, Fill, Line, Rect, Role, Text
from cutlist.ledger.alike import ranges

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.occupied import Occupied
    from cutlist.drawing.primitives import Item

__all__ = ["Tag", "place_tags", "tag_words"]

_PAD: Final = 0.45
#: Tried along the line, as shares of the free way, from the middle outwards.
_PLACES: Final = (0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85, 0.06, 0.94, 0.44, 0.56, 0.32, 0.68)
_SIZES: Final = (theme.SMALL, theme.TINY)
#: A tag of more characters than this is shortened and written out in the key.
_LONGEST: Final = 18


@dataclass(frozen=True, slots=True)
class Tag:
    """A cut line on paper and what its tag says, fullest form first.

    ``band`` is the room that the line itself takes; ``cuts`` are pairs of setting and cut number,
    one for each sheet that the drawing serves.
    """

    line: Line
    band: Box
    words: tuple[str, ...]
    cuts: tuple[tuple[int, int], ...]


def tag_words(setting: int, numbers: Sequence[int]) -> tuple[str, ...]:
    """Give the forms of a tag: ``3·12``, then ``12`` alone; of a shared line ``3·12–14``."""
    full = f"{setting}·{ranges(numbers)}"
    if len(full) > _LONGEST:
        return (f"{setting}·{min(numbers)}…",)
    if len(numbers) == 1:
        return (full, str(numbers[0]))
    return (full, f"{setting}·{min(numbers)}…")


def place_tags(tags: Sequence[Tag], occupied: Occupied) -> tuple[list[Item], list[Tag], list[Tag]]:
    """Place each tag on its line.

    Returns
    -------
    tuple
        The items drawn, the tags that were shortened to ``…``, and those that found no room.
    """
    items: list[Item] = []
    shortened: list[Tag] = []
    homeless: list[Tag] = []
    for tag in sorted(tags, key=_length):
        placed = _place(tag, occupied)
        if placed is None:
            homeless.append(tag)
            continue
        box, text = placed
        occupied.add(box)
        items.append(Rect(box, 0, Fill.WHITE))
        items.append(text)
        if text.content.endswith("…"):
            shortened.append(tag)
    order = {id(tag): index for index, tag in enumerate(tags)}
    return (
        items,
        sorted(shortened, key=lambda tag: order[id(tag)]),
        sorted(homeless, key=lambda tag: order[id(tag)]),
    )


def _length(tag: Tag) -> float:
    return abs(tag.line.x2 - tag.line.x1) + abs(tag.line.y2 - tag.line.y1)


def _place(tag: Tag, occupied: Occupied) -> tuple[Box, Text] | None:
    line = tag.line
    level = line.y1 == line.y2
    low = min(line.x1, line.x2) if level else min(line.y1, line.y2)
    for words in tag.words:
        for size in _SIZES:
            long = text_width(words, size, True) + 2 * _PAD
            high = cap_height(size) + 2 * _PAD
            free = _length(tag) - long - 1.0
            if free < 0:
                continue
            for share in _PLACES:
                start = low + 0.5 + share * free
                if level:
                    box = Box(start, line.y1 - high / 2, long, high)
                else:
                    box = Box(line.x1 - high / 2, start, high, long)
                if not occupied.is_free(box, ignoring=tag.band):
                    continue
                text = _lettering(words, size, box, level)
                if occupied.is_free(text_box(text), ignoring=tag.band):
                    return box, text
    return None


def _lettering(words: str, size: float, box: Box, level: bool) -> Text:
    x, y = box.x + box.width / 2, box.y + box.height / 2
    half = cap_height(size) / 2
    if level:
        return Text(x, y + half, words, size, True, Anchor.MIDDLE, role=Role.CUT_TAG)
    return Text(x + half, y, words, size, True, Anchor.MIDDLE, upwards=True, role=Role.CUT_TAG)

"""The lettering of a blank in a sketch for the store: its name, large, and its size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.primitives import Anchor, Box, Role, Text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlist.drawing.occupied import Occupied

__all__ = ["Lettered", "letter_blank"]

#: Lettering of names, largest first, and of sizes, pt.
_NAMES: Final = (26.0, 20.0, 15.0, 12.0, 9.5, 8.0)
_SIZE: Final = 9.5
#: Clear space within a blank's edges, mm.
_CLEAR: Final = 0.8


@dataclass(frozen=True, slots=True)
class Lettered:
    """Lettering placed in a blank; whether it has the size, and whether it lies upon an arrow."""

    texts: tuple[Text, ...]
    has_size: bool
    on_arrow: bool = False


def letter_blank(
    box: Box, name: str, size: str, *, taken: Occupied, fixed: Occupied
) -> Lettered | None:
    """Place name and size as large as there is room for; the name alone if need be.

    Parameters
    ----------
    taken
        Where something stands already.
    fixed
        The part of it that nothing may cover, even on a white patch: all but arrows.

    Returns
    -------
    Lettered or None
        None where not even the name has room.
    """
    inner = box.inset(_CLEAR)

    def fits(texts: Sequence[Text], clear_of: Occupied) -> bool:
        boxes = [text_box(text) for text in texts]
        return all(inner.holds(one) and clear_of.is_free(one) for one in boxes)

    for rows in _forms(name, size):
        for texts in _placed(box, rows):
            if fits(texts, taken):
                return Lettered(texts, has_size=True)
    for points in _NAMES:
        for texts in _placed(box, (((name, points, True),),)):
            if fits(texts, taken):
                return Lettered(texts, has_size=False)
    for points in _NAMES:
        line = ((name, points, True), (size, _SIZE, False))
        for form in ((line,), (line[:1],)):
            for texts in _placed(box, form):
                if fits(texts, fixed):
                    return Lettered(texts, has_size=len(texts) > 1, on_arrow=True)
    return None


_Row = tuple[tuple[str, float, bool], ...]


def _forms(name: str, size: str) -> Iterator[tuple[_Row, ...]]:
    """Yield ways to set name and size in rows, the largest name first."""
    first, cross, second = size.partition("× ")
    for points in _NAMES:
        title = (name, points, True)
        yield (title,), ((size, _SIZE, False),)
        if cross:
            yield (title,), ((f"{first}×", _SIZE, False),), ((second, _SIZE, False),)
        yield ((title, (size, _SIZE, False)),)


def _placed(box: Box, rows: Sequence[_Row]) -> Iterator[tuple[Text, ...]]:
    """Yield the places of rows in a box: in its middle first, upright first."""
    for upwards in (False, True):
        for part in _parts(box):
            yield _set(part, rows, upwards=upwards)


def _set(box: Box, rows: Sequence[_Row], *, upwards: bool) -> tuple[Text, ...]:
    """Set rows in the middle of a box."""
    heights = [max(cap_height(points) for _, points, _ in row) for row in rows]
    gap = cap_height(_SIZE)
    low = -(sum(heights) + gap * (len(rows) - 1)) / 2
    middle_x, middle_y = box.x + box.width / 2, box.y + box.height / 2
    out = []
    for row, height in zip(rows, heights, strict=True):
        widths = [text_width(words, points, bold) for words, points, bold in row]
        at = -(sum(widths) + height * (len(row) - 1)) / 2
        low += height
        for (words, points, bold), wide in zip(row, widths, strict=True):
            along = at + wide / 2
            here = (middle_x + low, middle_y - along) if upwards else (
                middle_x + along, middle_y + low
            )  # fmt: skip
            role = Role.PANEL_TEXT
            out.append(Text(*here, words, points, bold, Anchor.MIDDLE, upwards, role))
            at += wide + height
        low += gap
    return tuple(out)


def _parts(box: Box) -> Sequence[Box]:
    """Give the middle of a box, and then places below, beside and above it, and its ends."""
    third_x, third_y = box.width / 3, box.height / 3
    return (
        box,
        Box(box.x, box.y + third_y, box.width, 2 * third_y),
        Box(box.x + third_x, box.y, 2 * third_x, box.height),
        Box(box.x + third_x, box.y + third_y, 2 * third_x, 2 * third_y),
        Box(box.x, box.y, box.width, 2 * third_y),
        Box(box.x + 2 * third_x, box.y, third_x, box.height),
        Box(box.x, box.y, third_x, box.height),
        Box(box.x, box.y + 2 * third_y, box.width, third_y),
        Box(box.x, box.y, box.width, third_y),
    )

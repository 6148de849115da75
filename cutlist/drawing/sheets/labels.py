"""The lettering inside a panel: as large as it fits, never below the least size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import Row, block_height, place_lines, wrap
from cutlist.drawing.metrics import cap_height, descent, legible, text_width
from cutlist.drawing.primitives import Box, Line, Role

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.primitives import Text

__all__ = ["Label", "grain_arrow", "label_panel", "number_panel"]

#: Clear space between a label and the edges of its panel, mm; tags of cut lines reach into it.
_CLEAR: Final = 1.5
_CLEAR_WIDE: Final = 2.0
_CLEAR_LEAST: Final = 0.35
#: What turned lettering, a form of fewer rows and a broken name count for, in points.
_TURNING_COST: Final = 1.5
_FORM_COST: Final = 1.0
_BREAK_COST: Final = 3.0
#: What it counts for that no tag of a cut line has room beside the lettering, in points, and the
#: side up to which a panel is lettered that close to its edges, mm.
_CLOSE_COST: Final = 2.0
_NARROW: Final = 7.0
_ARROW_ROOM: Final = 2.4
_ARROW_LEAST: Final = 5.0
_ARROW_MOST: Final = 14.0


@dataclass(frozen=True, slots=True)
class Label:
    """Lettering placed in a panel, and its size."""

    texts: tuple[Text, ...]
    size_pt: float


def label_panel(box: Box, name: str, size: str, piece: str, *, role: Role) -> Label | None:
    """Letter a panel with name, size and piece; None if that cannot be done legibly.

    Tried are three rows, two and one, upright and turned; the name may run over several lines but
    its words are not broken.
    """
    forms = (
        ((name, True), (size, False), (piece, False)),
        ((name, True), (f"{size}  {piece}", False)),
        ((f"{name}  {size}  {piece}", False),),
    )
    return _best(box, forms, role)


def number_panel(box: Box, number: str, piece: str, *, role: Role) -> Label | None:
    """Letter a panel with its number in the key, and with its piece name if there is room."""
    with_piece = (((number, True), (piece, False)), ((f"{number}  {piece}", False),))
    return _best(box, with_piece, role) or _best(box, (((number, True),),), role)


def _inner(box: Box, *, close: bool) -> Box:
    """Give the room for lettering: clear of the tags of cut lines or, ``close``, up to the edge."""
    clear_x, clear_y = (
        _CLEAR_LEAST if close and side < _NARROW else _CLEAR_WIDE if side > 16 else _CLEAR
        for side in (box.width, box.height)
    )
    return Box(box.x + clear_x, box.y + clear_y, box.width - 2 * clear_x, box.height - 2 * clear_y)


def _best(box: Box, forms: Sequence[Sequence[tuple[str, bool]]], role: Role) -> Label | None:
    """Choose form, direction and size: large, few broken lines, upright, with room for tags."""
    best: tuple[float, float, tuple[Row, ...], bool, Box] | None = None
    for close in (False, True):
        inner = _inner(box, close=close)
        for number, form in enumerate(forms):
            for upwards in (False, True):
                width, height = inner.width, inner.height
                if upwards:
                    width, height = height, width
                cost = number * _FORM_COST
                cost += (_TURNING_COST if upwards else 0.0) + (_CLOSE_COST if close else 0.0)
                clear = (box.width - inner.width if upwards else box.height - inner.height) / 2
                found = _fit(form, width, height, clear, cost, best[0] if best else -1e9)
                if found is not None:
                    best = (*found, upwards, inner)
    if best is None:
        return None
    _, size, rows, upwards, inner = best
    return Label(place_lines(rows, inner, size, upwards=upwards, role=role), size)


def _fit(
    form: Sequence[tuple[str, bool]],
    width: float,
    height: float,
    clear: float,
    cost: float,
    beat: float,
) -> tuple[float, float, tuple[Row, ...]] | None:
    """Find the best worth above ``beat`` at which a form fits: worth, size and rows.

    The lowest letters may hang into the ``clear`` space below, but not out of the panel.

    The worth is the size in points less ``cost`` and a cost for each line that a name is broken
    into beyond the first.
    """
    if width <= 0 or height < cap_height(theme.TINY):
        return None
    found: tuple[float, float, tuple[Row, ...]] | None = None
    for half in range(round(theme.LABEL_MAX * 2), round(theme.TINY * 2) - 1, -1):
        size = half / 2
        if size - cost <= beat:
            break
        if block_height(len(form), size) > height:
            continue
        rows = _rows(form, width, size)
        if rows is None:
            continue
        below = (height - block_height(len(rows), size)) / 2
        if below < 0 or below + clear < descent(size):
            continue
        worth = size - cost - _BREAK_COST * (len(rows) - len(form))
        if worth > beat:
            beat = worth
            found = (worth, size, rows)
    return found


def _rows(form: Sequence[tuple[str, bool]], width: float, size: float) -> tuple[Row, ...] | None:
    """Set a form in rows no wider than ``width``; only bold text may run over several."""
    rows: list[Row] = []
    for content, bold in form:
        plain = legible(content)
        if text_width(plain, size, bold) <= width:
            rows.append(Row(plain, bold))
            continue
        if not bold or any(text_width(word, size, bold) > width for word in plain.split()):
            return None
        rows.extend(Row(line, bold) for line in wrap(plain, width, size, bold))
    return tuple(rows)


def grain_arrow(box: Box) -> tuple[Line, Box] | None:
    """Give the arrow along the grain for a panel, and the room left for its lettering.

    The arrow lies low in a tall panel and at the left end of a low, long one; None in a panel too
    small for both.
    """
    if box.height >= 9 and box.width >= _ARROW_LEAST + 2 * _CLEAR:
        length = min(_ARROW_MOST, box.width - 2 * _CLEAR - 1)
        y = box.bottom - _CLEAR - _ARROW_ROOM / 2
        middle = box.x + box.width / 2
        room = Box(box.x, box.y, box.width, y - 0.3 - box.y)
        return _arrow(middle - length / 2, middle + length / 2, y), room
    if box.height >= 2.4 and box.width >= 30:
        start = box.x + _CLEAR
        middle_y = box.y + box.height / 2
        taken = _ARROW_LEAST + 2 + _CLEAR
        room = Box(box.x + taken, box.y, box.width - taken, box.height)
        return _arrow(start, start + _ARROW_LEAST + 1, middle_y), room
    return None


def _arrow(x1: float, x2: float, y: float) -> Line:
    return Line(x1, y, x2, y, theme.FINE, arrow_start=True, arrow_end=True)

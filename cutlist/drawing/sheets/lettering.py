"""Lettering placed in a box: as large as it fits, never below the least size.

What is to be said comes in several *forms*, such as three rows, two or one. Each is tried at each
size, upright and turned, at each place in the box; what fits with the greatest worth is taken. The
worth is the size in points less what the form, the turn, the place and broken lines count for.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.metrics import cap_height, descent, legible, text_box, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Role, Text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlist.drawing.occupied import Occupied

__all__ = [
    "LARGE",
    "PLAIN",
    "SHORT",
    "WASTE",
    "Fit",
    "Form",
    "Lettered",
    "Span",
    "letter",
    "set_rows",
]

#: What a form counts for that leaves something out, in points: more than any size.
SHORT: Final = 100.0
#: Space between the lowest letters of a row and the capitals of the next, by the latter's size.
_SPACE: Final = (theme.LEADING - 0.73 - 0.22) * PT_MM
#: Rounding that still counts as fitting, mm.
_HAIR: Final = 1e-9
_WHOLE: Final = ((0.0, 0.0, 1.0, 1.0),)
_THIRD: Final = 1 / 3
#: The middle of a box, then places below, beside and above it, and its ends.
_THIRDS: Final = (
    (0.0, 0.0, 1.0, 1.0),
    (0.0, _THIRD, 1.0, 1.0),
    (_THIRD, 0.0, 1.0, 1.0),
    (_THIRD, _THIRD, 1.0, 1.0),
    (0.0, 0.0, 1.0, 2 * _THIRD),
    (2 * _THIRD, 0.0, 1.0, 1.0),
    (0.0, 0.0, _THIRD, 1.0),
    (0.0, 2 * _THIRD, 1.0, 1.0),
    (0.0, 0.0, 1.0, _THIRD),
)


@dataclass(frozen=True, slots=True)
class Span:
    """Words of a row; ``wraps`` lets them run over several lines where they are alone in it.

    ``size_pt`` is a size of their own, else they have the size that is tried.
    """

    content: str
    bold: bool = False
    wraps: bool = False
    size_pt: float | None = None


@dataclass(frozen=True, slots=True)
class Form:
    """One way to say it: rows of words.

    Parameters
    ----------
    cost
        What the form counts for, in points.
    covers
        Whether it may lie on what is not ``fixed``, such as an arrow.
    """

    rows: tuple[tuple[Span, ...], ...]
    cost: float = 0.0
    covers: bool = False

    @property
    def is_short(self) -> bool:
        """Whether something is left out."""
        return self.cost >= SHORT


@dataclass(frozen=True, slots=True)
class Fit:
    """What is tried, and what counts for how much.

    Parameters
    ----------
    sizes
        In points, the largest first.
    clear, clear_wide, wide
        Clear space to the edges of the box, and that along a side longer than ``wide``, mm.
    close, narrow, close_cost
        A second try with less clear space along sides below ``narrow``, mm, and what it counts for;
        none where ``narrow`` is 0.
    places
        Parts of the box in whose middle it may stand, by shares of its sides, the best first.
    turning_cost, break_cost, place_cost
        What lettering that reads from the right counts for, each line that words are broken into
        beyond the first, and each further place.
    apart
        How far it keeps from what is taken, mm.
    """

    sizes: tuple[float, ...]
    clear: float
    clear_wide: float
    wide: float = 16.0
    close: float = 0.35
    narrow: float = 0.0
    close_cost: float = 2.0
    places: tuple[tuple[float, float, float, float], ...] = _WHOLE
    turning_cost: float = 1.5
    break_cost: float = 3.0
    place_cost: float = 0.001
    apart: float = 0.0

    def inner(self, box: Box, *, close: bool) -> Box:
        """Give the room for capitals; letters that hang lower reach into the clear space."""
        x, y = (
            self.close
            if close and side < self.narrow
            else self.clear_wide
            if side > self.wide
            else self.clear
            for side in (box.width, box.height)
        )
        return Box(box.x + x, box.y + y, box.width - 2 * x, box.height - 2 * y)


#: Lettering read close by. Tags of cut lines reach into the clear space; in a narrow box they have
#: no room beside the lettering.
PLAIN: Final = Fit(
    tuple(half / 2 for half in range(round(theme.LABEL_MAX * 2), round(theme.TINY * 2) - 1, -1)),
    clear=1.5,
    clear_wide=2.0,
    narrow=7.0,
)
#: Lettering read from some steps away, beside whatever else stands in the box.
LARGE: Final = Fit(
    (26.0, 20.0, 15.0, 12.0, 9.5, 8.0),
    clear=0.8,
    clear_wide=0.8,
    places=_THIRDS,
    turning_cost=0.02,
)
#: Small lettering upon a hatch.
WASTE: Final = Fit((theme.TINY,), clear=1.5, clear_wide=1.5, places=_THIRDS, apart=1.2)


@dataclass(frozen=True, slots=True)
class Lettered:
    """Lettering in its place, its size, and the form that it has."""

    texts: tuple[Text, ...]
    size_pt: float
    form: Form


def letter(
    box: Box,
    forms: Sequence[Form],
    fit: Fit,
    *,
    role: Role = Role.PLAIN,
    taken: Occupied | None = None,
    fixed: Occupied | None = None,
) -> Lettered | None:
    """Place one of the forms in a box.

    Parameters
    ----------
    taken
        Where something stands already; nothing if left out.
    fixed
        The part of it that not even a form that ``covers`` may lie on.

    Returns
    -------
    Lettered or None
        None where no form has room at the least size.
    """
    best: tuple[float, Lettered] | None = None
    inner = {close: fit.inner(box, close=close) for close in (False, True)}
    for worth, size, number, upwards, close, place in _tries(fit, tuple(one.cost for one in forms)):
        if best is not None and worth <= best[0]:
            break
        form, room = forms[number], inner[close]
        along = room.height if upwards else room.width
        rows = _rows(form, along, size)
        if rows is None:
            continue
        worth -= fit.break_cost * (len(rows) - len(form.rows))
        if best is not None and worth <= best[0]:
            continue
        middle = _middle(box, fit.places[place])
        if not _goes_in(rows, middle, room, box, upwards=upwards):
            continue
        texts = set_rows(rows, *middle, upwards=upwards, role=role)
        obstacles = fixed if form.covers else taken
        if obstacles is None or all(
            obstacles.is_free(text_box(text).inset(-fit.apart)) for text in texts
        ):
            best = worth, Lettered(texts, size, form)
    return None if best is None else best[1]


@lru_cache(maxsize=64)
def _tries(
    fit: Fit, costs: tuple[float, ...]
) -> tuple[tuple[float, float, int, bool, bool, int], ...]:
    """Give all tries by their greatest worth: worth, size, form, turn, closeness and place."""
    found = [
        (
            size
            - cost
            - upwards * fit.turning_cost
            - close * fit.close_cost
            - place * fit.place_cost,
            size,
            number,
            upwards,
            close,
            place,
        )
        for close in (False, True)[: 1 + (fit.narrow > 0)]
        for number, cost in enumerate(costs)
        for upwards in (False, True)
        for place in range(len(fit.places))
        for size in fit.sizes
    ]
    return tuple(sorted(found, key=lambda one: -one[0]))


_Set = tuple[tuple[str, float, bool], ...]


def _rows(form: Form, width: float, size: float) -> tuple[_Set, ...] | None:
    """Set a form in rows no wider than ``width``; None where one has no room."""
    rows: list[_Set] = []
    for spans in form.rows:
        row = tuple((legible(one.content), one.size_pt or size, one.bold) for one in spans)
        if _wide(row) <= width + _HAIR:
            rows.append(row)
            continue
        content, points, bold = row[0]
        words = content.split()
        if not (len(row) == 1 and spans[0].wraps) or any(
            text_width(word, points, bold) > width for word in words
        ):
            return None
        rows.extend(((line, points, bold),) for line in wrap(content, width, points, bold))
    return tuple(rows)


def _wide(row: _Set) -> float:
    """Width of a row, its words a capital's height apart."""
    gap = cap_height(max(points for _, points, _ in row))
    return sum(text_width(*one) for one in row) + gap * (len(row) - 1)


def _baselines(rows: Sequence[_Set]) -> list[float]:
    """Give the baselines below the top of the first capitals; the last is the whole height."""
    at, above = 0.0, 0.0
    out: list[float] = []
    for row in rows:
        largest = max(points for _, points, _ in row)
        if out:
            at += descent(above) + _SPACE * largest
        at += cap_height(largest)
        out.append(at)
        above = largest
    return out


def _middle(box: Box, part: tuple[float, float, float, float]) -> tuple[float, float]:
    x1, y1, x2, y2 = part
    return box.x + box.width * (x1 + x2) / 2, box.y + box.height * (y1 + y2) / 2


def _goes_in(
    rows: Sequence[_Set], middle: tuple[float, float], room: Box, box: Box, *, upwards: bool
) -> bool:
    """Tell whether rows go in: the capitals into the room, what hangs lower into the box."""
    if room.width <= 0 or room.height <= 0:
        return False
    high = _baselines(rows)[-1]
    wide = max(_wide(row) for row in rows)
    hang = descent(max(points for _, points, _ in rows[-1]))
    if upwards:
        block = Box(middle[0] - high / 2, middle[1] - wide / 2, high, wide)
        return room.holds(block, _HAIR) and block.right + hang <= box.right + _HAIR
    block = Box(middle[0] - wide / 2, middle[1] - high / 2, wide, high)
    return room.holds(block, _HAIR) and block.bottom + hang <= box.bottom + _HAIR


def set_rows(
    rows: Sequence[_Set], x: float, y: float, *, upwards: bool = False, role: Role = Role.PLAIN
) -> tuple[Text, ...]:
    """Set rows about a point, reading from below or, ``upwards``, from the right."""
    return tuple(_texts(rows, x, y, upwards=upwards, role=role))


def _texts(
    rows: Sequence[_Set], x: float, y: float, *, upwards: bool, role: Role
) -> Iterator[Text]:
    baselines = _baselines(rows)
    for row, low in zip(rows, baselines, strict=True):
        gap = cap_height(max(points for _, points, _ in row))
        at, down = -_wide(row) / 2, low - baselines[-1] / 2
        for content, points, bold in row:
            wide = text_width(content, points, bold)
            along = at + wide / 2
            here = (x + down, y - along) if upwards else (x + along, y + down)
            yield Text(*here, content, points, bold, Anchor.MIDDLE, upwards, role)
            at += wide + gap

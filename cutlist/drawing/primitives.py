"""What a page is made of.

Positions and line widths are millimetres on paper; the origin is the upper left corner of the page,
x runs to the right and y runs down. Only lettering is measured in points, as is usual.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

__all__ = ["Anchor", "Box", "Fill", "Hatch", "Item", "Line", "Page", "Rect", "Role", "Text"]


class Anchor(StrEnum):
    """Which point of a text its position names."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Fill(StrEnum):
    """What a rectangle is filled with."""

    NONE = "none"
    WHITE = "white"
    TINT = "tint"
    BLACK = "black"


class Role(StrEnum):
    """What an item stands for; it changes nothing in how the item is drawn."""

    PLAIN = ""
    SHEET = "sheet"
    CUT_LINE = "cut-line"
    CUT_TAG = "cut-tag"
    PANEL = "panel"
    PANEL_TEXT = "panel-text"
    CALLOUT = "callout"
    WASTE = "waste"
    KEPT_OFFCUT = "kept-offcut"
    DIMENSION = "dimension"
    SCALE = "scale"
    KEY = "key"
    TICK = "tick"
    CUT_NUMBER = "cut-number"
    DISTANCE = "distance"
    FLAG = "flag"
    FOOTER = "footer"


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle: its upper left corner and its size, in millimetres."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The x of the right side."""
        return self.x + self.width

    @property
    def bottom(self) -> float:
        """The y of the lower side."""
        return self.y + self.height

    def inset(self, by: float) -> Box:
        """Give the box with ``by`` taken off each side; an outset for a negative ``by``."""
        return Box(self.x + by, self.y + by, self.width - 2 * by, self.height - 2 * by)

    def overlaps(self, other: Box, slack: float = 0.0) -> bool:
        """Tell whether the two share more than ``slack`` in both directions."""
        return (
            min(self.right, other.right) - max(self.x, other.x) > slack
            and min(self.bottom, other.bottom) - max(self.y, other.y) > slack
        )

    def holds(self, other: Box, slack: float = 0.0) -> bool:
        """Tell whether ``other`` lies inside, up to ``slack``."""
        return (
            other.x >= self.x - slack
            and other.y >= self.y - slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line; ``dash_mm`` alternates drawn and blank lengths, empty for a whole line.

    ``arrow_start`` and ``arrow_end`` put a filled head at that end.
    """

    x1: float
    y1: float
    x2: float
    y2: float
    width_mm: float
    dash_mm: tuple[float, ...] = ()
    arrow_start: bool = False
    arrow_end: bool = False
    role: Role = Role.PLAIN


@dataclass(frozen=True, slots=True)
class Rect:
    """A rectangle; a ``width_mm`` of 0 draws no outline."""

    box: Box
    width_mm: float
    fill: Fill = Fill.NONE
    dash_mm: tuple[float, ...] = ()
    role: Role = Role.PLAIN


@dataclass(frozen=True, slots=True)
class Hatch:
    """Thin parallel lines at 45° across a box, in step with every other hatch of the page."""

    box: Box
    spacing_mm: float
    width_mm: float
    role: Role = Role.WASTE


@dataclass(frozen=True, slots=True)
class Text:
    """One line of lettering on a baseline through (x, y).

    ``upwards`` turns it so that it reads from the bottom of the page to the top, which is from
    the right-hand side. A fraction in it is set as one where the size allows.
    """

    x: float
    y: float
    content: str
    size_pt: float
    bold: bool = False
    anchor: Anchor = Anchor.START
    upwards: bool = False
    role: Role = Role.PLAIN


Item = Line | Rect | Hatch | Text

#: Length and half width of an arrow head, as multiples of its line's width, with a least size.
ARROW_LENGTH: Final = 8.0
ARROW_HALF_WIDTH: Final = 2.6
ARROW_LEAST_MM: Final = 1.6


@dataclass(frozen=True, slots=True)
class Page:
    """A page and what stands on it, in drawing order."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]

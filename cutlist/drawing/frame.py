"""Pages and their frame: the room inside the margins, the footer, the running of a tall flow."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.fitting import block_height, shorten, wrap
from cutlist.drawing.metrics import cap_height, legible, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Item, Line, Page, Role, Text

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from cutlist.drawing.paper import Paper
    from cutlist.model.job import Job
    from cutlist.units.system import Units

__all__ = ["Flow", "add_footers", "add_note", "content_box", "footed", "rule", "shifted"]


def content_box(width_mm: float, height_mm: float) -> Box:
    """Give the room for content: inside the margins and above the footer."""
    margin = theme.MARGIN
    return Box(margin, margin, width_mm - 2 * margin, height_mm - 2 * margin - theme.FOOTER)


def rule(x1: float, x2: float, y: float, width_mm: float = theme.THIN) -> Line:
    """Give a level line."""
    return Line(x1, y, x2, y, width_mm)


def shifted(item: Item, dx: float, dy: float) -> Item:
    """Give the same item elsewhere."""
    # By their constructors, which take a fifth of the time: all that is on paper goes through here.
    if isinstance(item, Text):
        return Text(
            item.x + dx,
            item.y + dy,
            item.content,
            item.size_pt,
            item.bold,
            item.anchor,
            item.upwards,
            item.role,
        )
    if isinstance(item, Line):
        return Line(
            item.x1 + dx,
            item.y1 + dy,
            item.x2 + dx,
            item.y2 + dy,
            item.width_mm,
            item.dash_mm,
            item.arrow_start,
            item.arrow_end,
            item.role,
        )
    box = item.box
    return replace(item, box=Box(box.x + dx, box.y + dy, box.width, box.height))


def add_footers(pages: Sequence[Page], job: Job, *, date: datetime.date) -> tuple[Page, ...]:
    """Put the footer on every page: job, page ``n of N``, date and units."""
    return footed(pages, job.name, job.units, date=date)


def footed(
    pages: Sequence[Page], title: str, units: Units, *, date: datetime.date
) -> tuple[Page, ...]:
    """Put a footer with any title on every page."""
    out = []
    unit = "all sizes in inches" if units.value == "in" else "all sizes in millimetres"
    for number, page in enumerate(pages, 1):
        left, right = theme.MARGIN, page.width_mm - theme.MARGIN
        y = page.height_mm - theme.MARGIN
        count = f"page {number} of {len(pages)}"
        tail = f"{unit}   ·   {date.isoformat()}   ·   {count}"
        room = right - left - text_width(tail, theme.SMALL) - 6
        name = shorten(title, room, theme.SMALL, bold=True)
        role = Role.FOOTER
        footer: tuple[Item, ...] = (
            rule(left, right, y - 4, theme.FINE),
            Text(left, y, name, theme.SMALL, True, role=role),
            Text(right, y, tail, theme.SMALL, anchor=Anchor.END, role=role),
        )
        out.append(replace(page, items=page.items + footer))
    return tuple(out)


@dataclass
class Flow:
    """Stacks blocks down portrait pages and begins a new page where a block does not fit.

    A block is a list of items drawn with its upper left corner at (0, 0) and its height. ``spread``
    stretches the gaps between blocks.
    """

    paper: Paper
    running_title: str
    spread: float = 1.0
    pages: list[Page] = field(default_factory=list)
    _items: list[Item] = field(default_factory=list)
    _y: float = -1.0

    @property
    def room(self) -> Box:
        """The room for content of each page."""
        return content_box(*self.paper.size_mm(landscape=False))

    @property
    def left_over(self) -> float:
        """Height still free on the page; of a whole page if none is begun."""
        return self.room.bottom - self._y if self._y >= 0 else self.full_height

    @property
    def full_height(self) -> float:
        """Height that a page offers below its title."""
        return self.room.height - self._title_height

    @property
    def _title_height(self) -> float:
        return 10.0

    @property
    def at_top(self) -> bool:
        """Whether nothing stands on the page yet."""
        return self._y < 0

    def add(self, items: Sequence[Item], height: float, *, gap: float = 0.0) -> None:
        """Put a block below the last one, ``gap`` apart, on the next page if need be."""
        gap *= self.spread
        if not self.at_top and gap + height > self.left_over + 1e-6:
            self.break_page()
        if self.at_top:
            self._begin()
            gap = 0.0
        top = self._y + gap
        left = self.room.x
        self._items.extend(shifted(item, left, top) for item in items)
        self._y = top + height

    def break_page(self) -> None:
        """End the page."""
        if self.at_top:
            return
        width, height = self.paper.size_mm(landscape=False)
        self.pages.append(Page(width, height, tuple(self._items)))
        self._items = []
        self._y = -1.0

    def finish(self) -> tuple[Page, ...]:
        """End the last page and give them all."""
        self.break_page()
        return tuple(self.pages)

    def _begin(self) -> None:
        room = self.room
        title = self.running_title if not self.pages else f"{self.running_title}, continued"
        self._items.append(Text(room.x, room.y + 5.2, legible(title), theme.TITLE, True))
        self._items.append(rule(room.x, room.right, room.y + 7.6, theme.HEAVY))
        self._y = room.y + self._title_height


def add_note(flow: Flow, words: str, size_pt: float, *, gap: float, bold: bool = False) -> None:
    """Add a paragraph across the page; nothing for no words."""
    if not words:
        return
    lines = wrap(words, flow.room.width, size_pt, bold)
    step = theme.LEADING * size_pt * PT_MM
    first = cap_height(size_pt)
    items: list[Item] = [
        Text(0, first + number * step, line, size_pt, bold) for number, line in enumerate(lines)
    ]
    flow.add(items, block_height(len(lines), size_pt) + 1.0, gap=gap)

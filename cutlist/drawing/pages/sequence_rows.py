"""One row of the cut sequence for each cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten, wrap
from cutlist.drawing.frame import rule
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Item, Rect, Role, Text
from cutlist.drawing.sheets.cut_sketch import sketch_cut
from cutlist.ledger.clean_ups import clean_up_of
from cutlist.model.plan import Direction, Purpose
from cutlist.telling.cut_cautions import caution_word
from cutlist.telling.devices import COMES_OFF, cut_word
from cutlist.telling.distances import kept_size
from cutlist.telling.edges import mark_words, riding_words, takes_words
from cutlist.telling.wording import panel_words, piece_size
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Cut, Piece, SawSetup
    from cutlist.model.sawing import Caution, Device

__all__ = ["Columns", "Progress", "cut_row", "flag_mark", "row_heads"]

_TICK: Final = 4.2
_LEAST_HEIGHT: Final = 9.6
_STEP: Final = theme.LEADING * theme.BODY * PT_MM
_FLAG_SIZE: Final = 7.5
_FLAG_STEP: Final = 3.7
#: What is too little, of a size that no fence sets.
_LESS: Final = {"width": "narrow", "length": "short"}


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the columns of the sequence begin, in millimetres; the two wide ones share alike."""

    number: float
    piece: float
    sketch: float
    kept: float
    rest: float
    flags: float
    end: float

    @classmethod
    def across(cls, width: float) -> Columns:
        """Share out a page's width."""
        kept, flags = 53.0, width - 36.0
        return cls(14.5, 17.0, 35.0, kept, (kept + flags) / 2 + 1.0, flags, width)

    @property
    def kept_width(self) -> float:
        """Width for what comes off."""
        return self.rest - self.kept - 2.5

    @property
    def rest_width(self) -> float:
        """Width for what is left."""
        return self.flags - self.rest - 2.0


class Progress:
    """Counts the panels finished so far, of each part and in all."""

    def __init__(self, ledger: Ledger) -> None:
        self.total = len(ledger.plan.panels)
        self._open = dict(ledger.qty_of)
        self.done = 0
        for workpiece in ledger.plan.workpieces:
            panel = ledger.panel_of.get(workpiece.piece)
            if panel is not None:
                self.finish(panel.part)

    @property
    def words(self) -> str:
        """Panels finished as a row has room for them: of a thousand the count alone."""
        return f"{self.done} of {self.total}" if self.total < 1000 else str(self.done)

    def finish(self, part: str) -> bool:
        """Count one more panel; tell whether it was the last of its part."""
        self.done += 1
        self._open[part] -= 1
        return self._open[part] == 0


def row_heads(columns: Columns, device: Device) -> list[Item]:
    """Give the heads of the columns, on a baseline at y = 0, in the words of the device."""
    size = theme.TINY
    return [
        Text(0, 0, "done", size),
        Text(columns.number, 0, "cut", size, anchor=Anchor.END),
        Text(columns.piece, 0, "take piece", size),
        Text(columns.kept, 0, COMES_OFF[device], size),
        Text(columns.rest, 0, "what is left", size),
        Text(columns.flags, 0, "mind", size),
        Text(columns.end, 0, "panels finished", size, anchor=Anchor.END),
    ]


def flag_mark(flag: Caution, x: float, y: float) -> tuple[list[Item], float]:
    """Draw a mark with its upper left corner at (x, y); give its width too."""
    width = text_width(caution_word(flag), _FLAG_SIZE, True) + 1.6
    height = cap_height(_FLAG_SIZE) + 1.5
    items: list[Item] = [
        Rect(Box(x, y, width, height), theme.FINE),
        Text(x + 0.8, y + height - 0.75, caution_word(flag), _FLAG_SIZE, True, role=Role.FLAG),
    ]
    return items, width


def cut_row(
    ledger: Ledger, setting: SawSetup, cut: Cut, progress: Progress, columns: Columns
) -> tuple[list[Item], float]:
    """Compose the row of one cut with its upper left corner at (0, 0); give its height too.

    ``progress`` is moved on by the panels that this cut finishes.
    """
    piece = ledger.pieces[cut.piece]
    top = 1.6
    kept = _fate(ledger, cut, cut.kept, progress, columns.kept_width)
    if cut.rest is None:
        rest = [("nothing", False)]
    else:
        rest = _fate(ledger, cut, cut.rest, progress, columns.rest_width)
    riding = "; ".join(
        words for words in (riding_words(ledger, setting, cut), takes_words(cut)) if words
    )
    if riding:
        kept += [(line, False) for line in wrap(riding, columns.kept_width, theme.BODY)]
    why = cut.hazards
    if why:
        words = f"not safe: {', '.join(why)}"
        kept += [(line, True) for line in wrap(words, columns.kept_width, theme.BODY, True)]
    flags = cut.cautions
    said = 2 * top + max(len(kept), len(rest)) * _STEP
    height = max(_LEAST_HEIGHT, said, top + len(flags) * _FLAG_STEP + 0.3)
    items: list[Item] = [
        Rect(Box(0.3, top, _TICK, _TICK), theme.MEDIUM, role=Role.TICK),
        Text(
            columns.number,
            top + cap_height(theme.STRONG) + 0.6,
            str(cut.number),
            theme.STRONG,
            anchor=Anchor.END,
            role=Role.CUT_NUMBER,
        ),
    ]
    room = columns.sketch - columns.piece - 1.0
    items.append(_piece_name(cut.piece, columns.piece, top, room))
    items.append(Text(columns.piece, top + 6.6, cut_word(setting, cut), theme.BODY))
    items.extend(
        sketch_cut(piece, cut, Box(columns.sketch, 0.5, columns.kept - columns.sketch - 2.5, 8.6))
    )
    items.extend(_lines(kept, columns.kept, top))
    items.extend(_lines(rest, columns.rest, top))
    y = top - 0.3
    for flag in flags:
        mark, _ = flag_mark(flag, columns.flags, y)
        items.extend(mark)
        y += _FLAG_STEP
    items.append(
        Text(
            columns.end,
            top + cap_height(theme.BODY) + 0.6,
            progress.words,
            theme.BODY,
            anchor=Anchor.END,
        )
    )
    items.append(rule(0, columns.end, height, theme.HAIR))
    return items, height


def _piece_name(name: str, x: float, top: float, room: float) -> Text:
    size = 11.0
    while size > theme.SMALL and text_width(name, size, True) > room:
        size -= 0.5
    return Text(x, top + 3.1, shorten(name, room, size, True), size, True)


def _fate(
    ledger: Ledger, cut: Cut, piece: Piece, progress: Progress, width: float
) -> list[tuple[str, bool]]:
    """Say what a piece is and where it goes, in lines of (text, bold)."""
    if piece is cut.kept:
        size = kept_size(ledger.divided_by[cut.piece][0], cut, ledger.plan.job)
    else:
        size = piece_size(piece, ledger.plan.job)
    named = f"{piece.name}  {size}"
    first = [(named, True)] if text_width(named, theme.BODY, True) <= width else [
        (piece.name, True), *((line, True) for line in wrap(size, width, theme.BODY, True))
    ]  # fmt: skip
    panel = ledger.panel_of.get(piece.name)
    if panel is not None:
        words = f"finished: {panel_words(panel, ledger.qty_of[panel.part])}"
        if progress.finish(panel.part) and ledger.qty_of[panel.part] > 1:
            words += ", all done"
    elif piece.name in ledger.divided_by:
        setting, following = ledger.divided_by[piece.name]
        words = (
            f"{_kind(ledger, cut, piece)}; next setting {setting.number}, cut {following.number}"
        )
    elif ledger.is_used(piece.name):
        setup, operation = ledger.consumer_of[piece.name]
        words = f"blank; next set-up {setup.number}, {setup.tool}, operation {operation.number}"
    elif ledger.is_kept_offcut(piece.name):
        words = "offcut to keep"
    else:
        words = f"waste{_clean_up(ledger, cut, piece)}"
    if piece is cut.rest and cut.check is not None:
        words += f"; {_size_check(ledger, cut)}"
    return [*first, *((line, False) for line in wrap(words, width, theme.BODY))]


def _size_check(ledger: Ledger, cut: Cut) -> str:
    """Say how a size that no fence sets is made sure of: it is asked for exactly, not by marks."""
    assert cut.check is not None
    size = format_length(cut.check.size, ledger.plan.job.units)
    side, most = ("width", "wide") if cut.direction is Direction.RIP else ("length", "long")
    return mark_words(ledger, cut, size) or (
        f"check its {side}, {size}: too {most}, trim it; too {_LESS[side]}, cut it anew"
    )


def _clean_up(ledger: Ledger, cut: Cut, strip: Piece) -> str:
    """Say how strip and kerf make up what a clean-up cut takes off; nothing of other pieces."""
    setting = ledger.divided_by[cut.piece][0]
    told = clean_up_of(ledger, setting, cut)
    if told is None or told.strip is not strip:
        return ""
    units = ledger.plan.job.units
    figures = [format_length(one, units, unit=False) for one in (told.width, setting.kerf)]
    off = format_length(told.off, units)
    return f"; clean-up cut: {figures[0]} + {figures[1]} kerf = {off}"


def _kind(ledger: Ledger, cut: Cut, piece: Piece) -> str:
    """Name a piece that is cut again."""
    if piece is cut.kept and cut.purpose is Purpose.ROUGH:
        return "oversize"
    if cut.purpose is Purpose.CLEAN_UP:
        is_strip = piece is cut.rest and (ledger.is_used(cut.kept.name))
        return "rest" if is_strip else "cleaned"
    if cut.purpose is Purpose.BREAK_DOWN:
        return "blank"
    return "strip" if piece is cut.kept else "rest"


def _lines(lines: Sequence[tuple[str, bool]], x: float, top: float) -> list[Item]:
    first = top + cap_height(theme.BODY) + 0.3
    return [
        Text(x, first + number * _STEP, words, theme.BODY, bold)
        for number, (words, bold) in enumerate(lines)
    ]

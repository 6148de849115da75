"""What is handed over the counter: how each sheet is broken down at the store.

One sketch for all sheets that are broken down alike, to scale, with every cut numbered in the order
in which it is made, its distance, and the blanks that come off; below it the same in words, with a
box to tick for each cut of each sheet.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.frame import Flow, add_note, rule
from cutlist.drawing.pages.store_sketch import AROUND, LEAST_HIGH, MOST_HIGH, sketch_store_cuts
from cutlist.drawing.pages.table import Column, add_table, table_height
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Item, Line, Text
from cutlist.ledger.store_sheets import cut_alike
from cutlist.ledger.taken_home import taken_home
from cutlist.telling.store import (
    about_sheets,
    arrow_words,
    cuts_words,
    how_words,
    note_words,
    sheets_named,
    sheets_title,
    step_words,
    steps_title,
)
from cutlist.telling.wording import piece_size

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.pages.store_sketch import Sketched
    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.store_sheets import CutAlike
    from cutlist.ledger.taken_home import Taken

__all__ = ["add_store_cuts"]

#: Lettering of the steps, which are read at arm's length, and of what is said beside them, pt.
_STEP: Final = 12.0
_NOTE: Final = 9.5
#: Room above a sheet that begins below other things, mm.
_GAP: Final = 6.0
#: A sketch begun on a page with other things is drawn at least so large as on a page of its own.
_LARGE_ENOUGH: Final = 0.8
_LINE: Final = theme.LEADING * theme.HEADING * PT_MM


def add_store_cuts(flow: Flow, ledger: Ledger) -> None:
    """Add what the store cuts; nothing where it cuts nothing."""
    taken = taken_home(ledger)
    for number, group in enumerate(cut_alike(ledger)):
        _add_group(flow, ledger, group, taken, is_first=number == 0)


def _add_group(
    flow: Flow, ledger: Ledger, group: CutAlike, taken: Sequence[Taken], *, is_first: bool
) -> None:
    """Add sketch and steps; they share a page where one holds them."""
    job, width = ledger.plan.job, flow.room.width
    rows = [step_words(ledger, group, number, line) for number, line in enumerate(group.lines, 1)]
    notes = note_words(ledger, group, taken)
    step = theme.LEADING * _NOTE * PT_MM
    columns = _columns(with_other=job.also_in is not None)
    below = 5.0 + table_height(columns, rows, width, size_pt=_STEP, head_pt=_NOTE)
    below += sum(len(wrap(words, width, _NOTE, True)) * step + 3.0 for words in notes)
    _, top = _head(ledger, group, width, is_first=is_first, is_ruled=True)

    def drawn(room: float) -> Sketched:
        """Draw into the height that head and steps leave of ``room``."""
        # What stands around a sheet is a little more than its sketch, and goes off the same room.
        high = min(MOST_HIGH, room - top - 2 * AROUND - 6.0 - below)
        return sketch_store_cuts(job, group, width, top + AROUND, max(LEAST_HIGH, high))

    here, alone = drawn(flow.left_over - _GAP), drawn(flow.full_height)
    fits = here.height + below + _GAP <= flow.left_over
    if not (fits and here.share >= _LARGE_ENOUGH * alone.share):
        flow.break_page()
        here = alone
    head, _ = _head(ledger, group, width, is_first=is_first, is_ruled=not flow.at_top)
    flow.add([*head, *here.items], here.height, gap=_GAP)
    add_table(flow, columns, rows, title=steps_title(group), size_pt=_STEP, head_pt=_NOTE, gap=1.0)
    unsized = [f"{sheets_named(group, one.name)} is {piece_size(one, job)}" for one in here.unsized]
    if unsized:
        add_note(flow, f"Sizes without room in the sketch: {'; '.join(unsized)}.", _NOTE, gap=2.0)
    for words in notes:
        add_note(flow, words, _NOTE, gap=2.0, bold=True)


def _columns(*, with_other: bool) -> tuple[Column, ...]:
    """Give the columns of the steps; a measure in two units may run over two lines."""
    return (
        Column("done", bold=True, ticks=True),
        Column("cut", right=True, bold=True),
        Column("take", flexible=True),
        Column("measure", right=True, bold=True, flexible=with_other),
        Column("from its"),
        Column("cut it"),
        Column("that gives", bold=True, flexible=True),
        Column("and the rest", bold=True, flexible=True),
    )


def _head(
    ledger: Ledger, group: CutAlike, width: float, *, is_first: bool, is_ruled: bool
) -> tuple[list[Item], float]:
    """Draw what stands above a sketch, below a rule or the page's title; give its height, too."""
    items: list[Item] = [rule(0, width, 0, theme.HEAVY)] if is_ruled else []
    y = 0.0
    if is_first:
        said = "; ".join(words for words in cuts_words(ledger) if words)
        y = 6.6 - _LINE
        for line in wrap(f"The store's saw: {said}", width, theme.HEADING, True):
            y += _LINE
            items.append(Text(0, y, line, theme.HEADING, True))
        y += 1.4
        for line in wrap(how_words(ledger), width, _NOTE):
            y += theme.LEADING * _NOTE * PT_MM
            items.append(Text(0, y, line, _NOTE))
        y += 2.5
        items.append(rule(0, width, y, theme.MEDIUM))
    items.append(Text(0, y + 7.5, sheets_title(group), theme.TITLE, True))
    y += 9.0
    for line in wrap(about_sheets(ledger, group), width, _STEP, True):
        y += theme.LEADING * _STEP * PT_MM
        items.append(Text(0, y, line, _STEP, True))
    y += 6.0
    items.append(Line(0, y - 1.2, 14, y - 1.2, theme.WIDE, arrow_end=True))
    items.append(Text(16, y, arrow_words(ledger, group), _NOTE))
    return items, y + 0.6

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
from cutlist.drawing.pages.blanks import is_tight, mixed_up, named, taken_home
from cutlist.drawing.pages.table import Column, add_table, table_height
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Item, Line, Text
from cutlist.drawing.sheets.store_sketch import (
    AROUND,
    LEAST_HIGH,
    MOST_HIGH,
    Alike,
    distance_words,
    sketch,
)
from cutlist.ledger.charges import store_charge
from cutlist.model.plan import Direction, Place
from cutlist.model.sawing import is_thin
from cutlist.telling.grain import has_grain
from cutlist.telling.wording import also_words, counted, money, paper_name, piece_size
from cutlist.units.lengths import format_length, format_size, format_thickness

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence

    from cutlist.drawing.pages.blanks import Taken
    from cutlist.drawing.sheets.store_sketch import Sketched
    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Job
    from cutlist.model.plan import Workpiece

__all__ = ["add_store_cuts", "cuts_words"]

#: Lettering of the steps, which are read at arm's length, and of what is said beside them, pt.
_STEP: Final = 12.0
_NOTE: Final = 9.5
#: Sheets whose letters are all written out, and that have a box to tick each.
_FEW: Final = 8
#: Room above a sheet that begins below other things, mm.
_GAP: Final = 6.0
#: A sketch begun on a page with other things is drawn at least so large as on a page of its own.
_LARGE_ENOUGH: Final = 0.8
_LINE: Final = theme.LEADING * theme.HEADING * PT_MM


def add_store_cuts(flow: Flow, story: Ledger) -> None:
    """Add what the store cuts; nothing where it cuts nothing."""
    taken = taken_home(story)
    for number, group in enumerate(_groups(story)):
        _add_group(flow, story, group, taken, is_first=number == 0)


def _groups(story: Ledger) -> list[Alike]:
    found: dict[Hashable, list[Workpiece]] = {}
    for workpiece in story.plan.workpieces:
        lines = story.store_lines(workpiece.piece)
        if lines:
            cuts = tuple(
                (line.direction.value, line.middle, line.start, line.cut.kept.x, line.cut.kept.y)
                for line in lines
            )
            found.setdefault((workpiece.stock, workpiece.bought, cuts), []).append(workpiece)
    return [
        Alike(tuple(alike), story.store_lines(alike[0].piece), story.blanks(alike[0].piece))
        for alike in found.values()
    ]


def cuts_words(story: Ledger) -> tuple[str, str]:
    """Say how many cuts the store makes in how many sheets, and what it charges for them."""
    store = story.plan.job.store
    assert store is not None
    charge = store_charge(story)
    cuts = sum(count for _, count in charge.trips)
    sheets = sum(len(letters) for letters, _ in charge.trips)
    words = f"{counted(cuts, 'cut')} in {counted(sheets, 'sheet')}"
    if not store.cut_price:
        return words, ""
    if not charge.paid:
        return words, "all free"
    free = f" beyond the {store.free_cuts} free" if store.free_cuts else ""
    each = " on each trip" if free and len(charge.trips) > 1 else ""
    return words, f"{money(charge.amount)} to pay for {counted(charge.paid, 'cut')}{free}{each}"


def _how_words(story: Ledger) -> str:
    """Say how to cut, to whoever has only this page."""
    job, store = story.plan.job, story.plan.job.store
    assert store is not None
    rough = ""
    if store.accuracy:
        off = format_length(store.accuracy, job.units)
        rough = f" It may be off by {off}: each edge that is cut here is cleaned up at home."
    kerf = format_length(store.kerf, job.units)
    return (
        "Make the cuts of a sheet in the order of their numbers, each straight through from edge "
        "to edge. The measure is what comes off at the end or edge that is named, as the piece "
        f"lies in the sketch; the width of the saw's cut, {kerf}, goes off the rest."
        f"{rough}{_largest_words(job)}{_between_words(story)} Pencil its name on each piece as it "
        "comes off, and an arrow that points to the right in the sketch."
    )


def _largest_words(job: Job) -> str:
    """Say how large a piece may be, for whoever cuts a little over."""
    if job.vehicle is None:
        return ""
    sizes = [format_size(*opening, job.units) for opening in job.vehicle.openings]
    return f" No piece may come out larger than {' or '.join(sizes)}."


def _between_words(story: Ledger) -> str:
    """Explain the name of a piece that is cut again at the store, by the first there is."""
    for setting in story.plan.settings:
        for cut in setting.cuts if setting.place is Place.STORE else ():
            for piece in (cut.kept, cut.rest):
                said = "" if piece is None else paper_name(piece.name)
                if piece is not None and said != piece.name:
                    *some, last = said.split("+")
                    of = f"{', '.join(some)} and {last}" if some else said.replace("…", " to ")
                    return f" {said} is the piece that {of} are still in."
    return ""


def _add_group(
    flow: Flow, story: Ledger, group: Alike, taken: Sequence[Taken], *, is_first: bool
) -> None:
    """Add sketch and steps; they share a page where one holds them."""
    width = flow.room.width
    rows = [_row(story, group, number, line) for number, line in enumerate(group.lines, 1)]
    notes = _notes(story, group, taken)
    step = theme.LEADING * _NOTE * PT_MM
    columns = _columns(with_other=story.plan.job.also_in is not None)
    below = 5.0 + table_height(columns, rows, width, size_pt=_STEP, head_pt=_NOTE)
    below += sum(len(wrap(words, width, _NOTE, True)) * step + 3.0 for words in notes)
    _, top = _head(story, group, width, is_first=is_first, is_ruled=True)

    def drawn(room: float) -> Sketched:
        """Draw into the height that head and steps leave of ``room``."""
        # What stands around a sheet is a little more than its sketch, and goes off the same room.
        high = min(MOST_HIGH, room - top - 2 * AROUND - 6.0 - below)
        return sketch(story, group, width, top + AROUND, max(LEAST_HIGH, high))

    here, alone = drawn(flow.left_over - _GAP), drawn(flow.full_height)
    fits = here.height + below + _GAP <= flow.left_over
    if not (fits and here.share >= _LARGE_ENOUGH * alone.share):
        flow.break_page()
        here = alone
    head, _ = _head(story, group, width, is_first=is_first, is_ruled=not flow.at_top)
    flow.add([*head, *here.items], here.height, gap=_GAP)
    add_table(flow, columns, rows, title=_title(group), size_pt=_STEP, head_pt=_NOTE, gap=1.0)
    job = story.plan.job
    unsized = [f"{group.named(one.name)} is {piece_size(one, job)}" for one in here.unsized]
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


def _title(group: Alike) -> str:
    if len(group.workpieces) == 1:
        return f"Sheet {group.first.piece}, cut by cut"
    return f"Each of the {len(group.workpieces)} sheets, cut by cut"


def _head(
    story: Ledger, group: Alike, width: float, *, is_first: bool, is_ruled: bool
) -> tuple[list[Item], float]:
    """Draw what stands above a sketch, below a rule or the page's title; give its height, too."""
    items: list[Item] = [rule(0, width, 0, theme.HEAVY)] if is_ruled else []
    y = 0.0
    if is_first:
        said = "; ".join(words for words in cuts_words(story) if words)
        y = 6.6 - _LINE
        for line in wrap(f"The store's saw: {said}", width, theme.HEADING, True):
            y += _LINE
            items.append(Text(0, y, line, theme.HEADING, True))
        y += 1.4
        for line in wrap(_how_words(story), width, _NOTE):
            y += theme.LEADING * _NOTE * PT_MM
            items.append(Text(0, y, line, _NOTE))
        y += 2.5
        items.append(rule(0, width, y, theme.MEDIUM))
    job, first = story.plan.job, group.first
    letters = [workpiece.piece for workpiece in group.workpieces]
    if len(letters) == 1:
        title = f"Sheet {letters[0]}"
    elif len(letters) <= _FEW:
        title = f"{len(letters)} sheets alike: {', '.join(letters)}"
    else:
        title = f"{len(letters)} sheets alike: {letters[0]} … {letters[-1]}"
    items.append(Text(0, y + 7.5, title, theme.TITLE, True))
    each = " each" if len(letters) > 1 else ""
    about = (
        f"{first.material} {format_thickness(first.thickness, job.units)},"
        f" {format_size(first.length, first.width, job.units)} ({first.stock}):"
        f" {counted(len(group.lines), 'cut')}, {counted(len(group.blanks), 'piece')}{each}"
    )
    if len(letters) > _FEW:
        about += f"; sheets {', '.join(letters)}"
    y += 9.0
    for line in wrap(about, width, _STEP, True):
        y += theme.LEADING * _STEP * PT_MM
        items.append(Text(0, y, line, _STEP, True))
    y += 6.0
    items.append(Line(0, y - 1.2, 14, y - 1.2, theme.WIDE, arrow_end=True))
    along = "; the grain runs along it" if has_grain(job, first) else ""
    items.append(Text(16, y, f"the arrow to pencil on each piece{along}", _NOTE))
    return items, y + 0.6


def _notes(story: Ledger, group: Alike, taken: Sequence[Taken]) -> list[str]:
    """Warn of thin stock, of what may not come out larger, and of what is mixed up in a pile."""
    job = story.plan.job
    notes = []
    if is_thin(group.first.thickness, job.units):
        notes.append(
            "Thin stock: it bends, and its corners break. Hold it up along its whole length, and "
            "carry it flat on a thicker board."
        )
    here = {blank.name for blank in group.blanks}
    tight = [
        group.named(next(name for name in one.names if name in here))
        for one in taken
        if here & {*one.names} and is_tight(one, job)
    ]
    if tight:
        notes.append(
            f"As large as goes into the vehicle, so rather under than over: {'; '.join(tight)}."
        )
    groups = [
        ", ".join(f"{named(one.names)} {piece_size(one.piece, job)}" for one in group)
        for group in mixed_up(here, taken)
    ]
    if groups:
        notes.append(f"Easily mixed up, so pencil their names on at once: {'; '.join(groups)}.")
    return notes


def _row(story: Ledger, group: Alike, number: int, line: CutLine) -> tuple[str, ...]:
    job, cut = story.plan.job, line.cut
    letters = [workpiece.piece for workpiece in group.workpieces]
    done = " ".join(letters) if len(letters) <= _FEW else f"{len(letters)}×"
    piece = "whole sheet" if cut.piece == group.first.piece else group.briefly(cut.piece)
    other = also_words(line.setting.distance, job)
    measure = distance_words(line.setting.distance, job) + (f" ({other})" if other else "")
    rest = "" if cut.rest is None else group.briefly(cut.rest.name)
    before = story.pieces[cut.piece]
    if line.direction is Direction.RIP:
        edge, way = "lower edge" if cut.kept.y == before.y else "upper edge", "along"
    else:
        edge, way = "left end" if cut.kept.x == before.x else "right end", "across"
    return done, str(number), piece, measure, edge, way, group.briefly(cut.kept.name), rest

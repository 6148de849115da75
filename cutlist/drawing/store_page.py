"""The page to hand over the counter: how each sheet is broken down at the store.

One sketch for all sheets that are broken down alike, to scale, with every cut numbered in the order
in which it is made, its distance, and the blanks that come off; below it the same in words.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import block_height, wrap
from cutlist.drawing.frame import Flow, rule
from cutlist.drawing.metrics import cap_height
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Item, Text
from cutlist.drawing.store_sketch import AROUND, Alike, distance_words, sketch
from cutlist.drawing.table import Column, add_table
from cutlist.drawing.wording import also_words, counted, money, stock_words
from cutlist.lengths import format_length
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from collections.abc import Hashable

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.drawing.story import CutLine, Story
    from cutlist.model.plan import Workpiece

__all__ = ["store_pages"]

#: Lettering of the steps, which are read at arm's length, and of what is said beside them, pt.
_STEP: Final = 12.0
_NOTE: Final = 9.5
#: Sheets whose letters are all written out.
_FEW: Final = 4


def store_pages(story: Story, paper: Paper) -> tuple[Page, ...]:
    """Compose the pages; none where the store cuts nothing."""
    groups = _groups(story)
    if not groups:
        return ()
    flow = Flow(paper, "At the store: break the sheets down")
    _add_notes(flow, story)
    for group in groups:
        _add_group(flow, story, group)
    return flow.finish()


def _groups(story: Story) -> list[Alike]:
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


def _add_notes(flow: Flow, story: Story) -> None:
    job, store = story.plan.job, story.plan.job.store
    assert store is not None
    cuts = sum(len(s.cuts) for s in story.plan.settings if s.place is Place.STORE)
    charged = max(0, cuts - store.free_cuts)
    price = ""
    if store.cut_price:
        price = f", {money(charged * store.cut_price)} to pay for {counted(charged, 'cut')}"
        if store.free_cuts:
            price += f" beyond the {store.free_cuts} free"
    rough = ""
    if store.accuracy:
        rough = (
            f" They may be off by {format_length(store.accuracy, job.units)}: the shop cleans every"
            " such edge up."
        )
    said = (
        f"{counted(cuts, 'cut')}{price}. Each goes straight through, from edge to edge, in the"
        " order of the numbers. A distance is what the piece measures after the cut, from its edge"
        f" to the blade; the kerf comes off the rest.{rough} Write its name on each piece as it"
        " comes off, as it lies in the sketch."
    )
    lines = wrap(said, flow.room.width, _NOTE)
    step = theme.LEADING * _NOTE * PT_MM
    items: list[Item] = [
        Text(0, cap_height(_NOTE) + number * step, line, _NOTE) for number, line in enumerate(lines)
    ]
    flow.add(items, block_height(len(lines), _NOTE) + 1.0)


def _add_group(flow: Flow, story: Story, group: Alike) -> None:
    """Add sketch and steps; they share a page where one holds them."""
    job = story.plan.job
    letters = [workpiece.piece for workpiece in group.workpieces]
    shown = ", ".join(letters) if len(letters) <= 2 * _FEW else f"{letters[0]} … {letters[-1]}"
    head = f"{counted(len(letters), 'sheet')}: {shown}"
    about = (
        f"{stock_words(group.first, job)}; {counted(len(group.lines), 'cut')} and"
        f" {counted(len(group.blanks), 'piece')} each"
    )
    wrapped = wrap(about, flow.room.width, _NOTE)
    step = theme.LEADING * _NOTE * PT_MM
    items: list[Item] = [
        rule(0, flow.room.width, 0, theme.MEDIUM),
        Text(0, 6.2, head, theme.HEADING, True),
    ]
    items += [Text(0, 11.0 + number * step, line, _NOTE) for number, line in enumerate(wrapped)]
    top = 11.0 + (len(wrapped) - 1) * step + 3.0 + AROUND
    drawn, height = sketch(story, group, flow.room.width, top)
    items += drawn
    rows = [_row(story, group, number, line) for number, line in enumerate(group.lines, 1)]
    table = 18.0 + len(rows) * theme.LEADING * _STEP * PT_MM * 1.5
    if height + table > flow.left_over and not flow.at_top and height + table < flow.full_height:
        flow.break_page()
    flow.add(items, height, gap=5.0)
    columns = (
        Column("cut", right=True, bold=True),
        Column("piece", flexible=True),
        Column("the cut runs"),
        Column("measure", right=True, bold=True),
        Column("measured piece", bold=True, flexible=True),
        Column("rest", bold=True, flexible=True),
    )
    add_table(flow, columns, rows, title="Steps", size_pt=_STEP, head_pt=_NOTE, gap=2.0)


def _row(story: Story, group: Alike, number: int, line: CutLine) -> tuple[str, ...]:
    job, cut = story.plan.job, line.cut
    piece = "whole sheet" if cut.piece == group.first.piece else group.named(cut.piece)
    way = "along the length" if cut.direction is Direction.RIP else "across the length"
    other = also_words(line.setting.distance, job)
    measure = distance_words(line.setting.distance, job) + (f" ({other})" if other else "")
    rest = "" if cut.rest is None else group.named(cut.rest.name)
    return str(number), piece, way, measure, group.named(cut.kept.name), rest

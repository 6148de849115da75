"""The cut sequence: a block for each setting, a row with a tick box for each cut."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.flags import Flag, cut_flags, legend
from cutlist.drawing.frame import Flow, rule, shifted
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Item, Role, Text
from cutlist.drawing.sequence_rows import Columns, Progress, cut_row, flag_mark, row_heads
from cutlist.drawing.wording import counted, kept_by_size, length_words, piece_size
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.drawing.story import Story
    from cutlist.model.plan import Setting

__all__ = ["sequence_pages"]

_HEAD: Final = 21.0
_DISTANCE_AT: Final = 22.0
_GAP: Final = 7.0
_UNDER_DISTANCE: Final = "fence (or stop) to blade"
#: A block too long for any page starts on a begun page only if so many of its rows fit there.
_LEAST_ROWS: Final = 4


def sequence_pages(story: Story, paper: Paper) -> tuple[Page, ...]:
    """Compose the sequence; no page at all for a plan without cuts."""
    if not story.plan.settings:
        return ()
    flow = Flow(paper, "Cut sequence")
    columns = Columns.across(flow.room.width)
    progress = Progress(story)
    _add_intro(flow, story)
    end, end_height = _end(story, flow.room.width)
    last = story.plan.settings[-1]
    for setting in story.plan.settings:
        after = _GAP + end_height if setting is last else 0.0
        _add_setting(flow, story, setting, progress, columns, after)
    flow.add(end, end_height, gap=_GAP)
    return flow.finish()


def _add_setting(
    flow: Flow, story: Story, setting: Setting, progress: Progress, columns: Columns, after: float
) -> None:
    """Add a block; ``after`` is the height of what has to stay on its last page with it."""
    rows = [cut_row(story, setting, cut, progress, columns) for cut in setting.cuts]
    heights = [height for _, height in rows]
    whole = _HEAD + sum(heights)
    gap = 0.0 if flow.at_top else _GAP
    if whole + after <= flow.full_height:
        whole += after
    least = whole if whole <= flow.full_height else _HEAD + sum(heights[:_LEAST_ROWS])
    if gap + least > flow.left_over:
        flow.break_page()
        gap = 0.0
    head = _block_head(story, setting, columns, continued=False, ruled=not flow.at_top)
    flow.add(head, _HEAD, gap=gap)
    for items, height in rows:
        if height > flow.left_over + 1e-6:
            flow.break_page()
            flow.add(_block_head(story, setting, columns, continued=True, ruled=False), _HEAD)
        flow.add(items, height)


def _block_head(
    story: Story, setting: Setting, columns: Columns, *, continued: bool, ruled: bool
) -> list[Item]:
    """Draw the head of a block: number, distance in large figures, tool.

    Under the title of a page it goes without a rule above.
    """
    job = story.plan.job
    number = str(setting.number)
    items: list[Item] = [
        *([rule(0, columns.end, 0, theme.HEAVY)] if ruled else []),
        Text(0, 4.2, "setting", theme.SMALL),
        Text(0, 12.2, number, theme.FIGURE - 4, True),
    ]
    distance = length_words(setting.distance, job)
    x = _DISTANCE_AT
    items.append(Text(x, 12.2, distance, theme.DISTANCE, True, role=Role.DISTANCE))
    at_store = setting.place is Place.STORE
    items.append(Text(x, 16.6, "to be cut" if at_store else _UNDER_DISTANCE, theme.SMALL))
    right = x + text_width(distance, theme.DISTANCE, True) + 8
    for index, (words, bold) in enumerate(_about(story, setting, continued=continued)):
        items.append(Text(right, 4.6 + index * 4.0, words, theme.STRONG, bold))
    items.extend(shifted(item, 0, _HEAD - 1.2) for item in row_heads(columns))
    items.append(rule(0, columns.end, _HEAD, theme.FINE))
    return items


def _about(story: Story, setting: Setting, *, continued: bool) -> tuple[tuple[str, bool], ...]:
    rips = sum(1 for cut in setting.cuts if cut.direction is Direction.RIP)
    kinds = []
    if rips:
        kinds.append(counted(rips, "rip"))
    if rips < len(setting.cuts):
        kinds.append(counted(len(setting.cuts) - rips, "crosscut"))
    place = "at the store" if setting.place is Place.STORE else setting.tool
    title = f"{place}, continued" if continued else place
    lines = [(title, True), (", ".join(kinds), False)]
    ways = _ways(story, setting)
    if ways:
        lines.append((ways, False))
    return tuple(lines)


def _ways(story: Story, setting: Setting) -> str:
    """Say how many cuts go along the fence and how many do not; nothing where all are alike."""
    units = story.plan.job.units
    count: Counter[str] = Counter()
    for cut in setting.cuts:
        flags = cut_flags(setting, cut, story.pieces[cut.piece], units)
        if Flag.GUIDED_SAW in flags:
            count["along a guide"] += 1
        elif Flag.SLED in flags:
            count["at the stop of the sled"] += 1
        else:
            count["along the fence"] += 1
    if len(count) < 2:
        return ""
    return ", ".join(f"{number} {way}" for way, number in count.items())


def _add_intro(flow: Flow, story: Story) -> None:
    """Explain how to work down the list, and the marks that occur."""
    width = flow.room.width
    step = theme.LEADING * theme.BODY * PT_MM
    items: list[Item] = []
    y = 0.0
    text = (
        "Set the fence once for each block, make all its cuts from top to bottom, tick each one, "
        "and pencil the new names on the pieces, the same way up as on the layout pages. In the "
        "sketches the grain runs from left to right as it does there; the bar is the fence or the "
        "stop, the tinted part comes off. Sizes give the length along the sheet's grain first."
    )
    if any("≈" in piece_size(piece, story.plan.job) for piece in story.pieces.values()):
        text += " ≈ marks a size rounded in print."
    if any(story.sizes_panels(cut) for setting in story.plan.settings for cut in setting.cuts):
        text += (
            " Where a row says so, check the size of what is left: no fence sets it, and the "
            "sheet's true size and the kerfs go into it."
        )
    for line in wrap(text, width, theme.BODY):
        y += step
        items.append(Text(0, y, line, theme.BODY))
    used = _flags_used(story)
    for flag, meaning in legend(story.plan.job.units):
        if flag not in used:
            continue
        y += 1.2
        mark, mark_width = flag_mark(flag, 0, y + step - cap_height(theme.BODY) - 0.7)
        items.extend(mark)
        indent = max(24.0, mark_width + 2)
        for line in wrap(meaning, width - indent, theme.BODY):
            y += step
            items.append(Text(indent, y, line, theme.BODY))
    flow.add(items, y + 2.5)


def _flags_used(story: Story) -> frozenset[Flag]:
    units = story.plan.job.units
    return frozenset(
        flag
        for setting in story.plan.settings
        for cut in setting.cuts
        for flag in cut_flags(setting, cut, story.pieces[cut.piece], units)
    )


def _end(story: Story, width: float) -> tuple[list[Item], float]:
    """Close the list, all panels and what goes back on the rack; return items and height."""
    words = f"All {counted(story.plan.totals.parts, 'panel')} finished."
    kept = kept_by_size(story.plan.leftovers)
    if kept:
        listed = "; ".join(
            f"{one.piece.name} {piece_size(one.piece, story.plan.job)}" for one in kept
        )
        words += f" Offcuts to keep: {listed}."
    step = theme.LEADING * theme.STRONG * PT_MM
    lines = wrap(words, width, theme.STRONG, True)
    items: list[Item] = [rule(0, width, 0, theme.HEAVY)]
    items.extend(
        Text(0, 2.0 + (number + 1) * step, line, theme.STRONG, True)
        for number, line in enumerate(lines)
    )
    return items, 4.0 + len(lines) * step

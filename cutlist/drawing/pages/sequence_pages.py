"""The cut sequence: a block for each setting, a row with a tick box for each cut."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from functools import singledispatch
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten, wrap
from cutlist.drawing.frame import Flow, rule, shifted
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.pages.sequence_rows import (
    Columns,
    Progress,
    cut_row,
    flag_mark,
    row_heads,
)
from cutlist.drawing.pages.store_table import add_store_table
from cutlist.drawing.pages.table import Column, add_table
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Item, Role, Text
from cutlist.model.plan import Place, Purpose, SawSetup
from cutlist.model.sawing import Caution, Device
from cutlist.telling.cut_cautions import legend
from cutlist.telling.devices import UNDER, cut_word, kerf_words, laid_anew
from cutlist.telling.distances import set_words
from cutlist.telling.edges import mark_words, riding_words, unclean_words
from cutlist.telling.grain import along_words
from cutlist.telling.reasons import match_notes, reason_words, return_words, visit_rows
from cutlist.telling.wording import also_words, counted, kept_by_size, piece_size

if TYPE_CHECKING:
    from collections.abc import Collection

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Piece, Setup

__all__ = ["Block", "add_setup", "sequence_pages"]

_HEAD: Final = 21.0
_DISTANCE_AT: Final = 22.0
#: What is said of a setting begins here, or a little beside a distance that reaches farther.
_ABOUT_AT: Final = 80.0
_ABOUT_SIZE: Final = 9.0
_ABOUT_STEP: Final = 4.0
_GAP: Final = 7.0
#: A block too long for any page starts on a begun page only if so many of its rows fit there.
_LEAST_ROWS: Final = 4
#: So many offcuts are listed again after the last block.
_MOST_OFFCUTS: Final = 8


def sequence_pages(ledger: Ledger, paper: Paper) -> tuple[Page, ...]:
    """Compose the sequence; no page at all for a plan without cuts."""
    if not ledger.plan.settings:
        return ()
    flow = Flow(paper, "Cut sequence")
    columns = Columns.across(flow.room.width)
    progress = Progress(ledger)
    _add_intro(flow, ledger)
    add_store_table(flow, ledger, progress)
    end, end_height = _end(ledger, flow.room.width)
    last = ledger.plan.setups[-1]
    back = return_words(ledger)
    for setup in ledger.plan.setups:
        if setup.place is Place.STORE:
            continue
        after = _GAP + end_height if setup is last else 0.0
        block = Block(ledger, progress, columns, back.get(setup.number, ""), after)
        add_setup(setup, flow, block)
    flow.add(end, end_height, gap=_GAP)
    _add_visits(flow, ledger)
    return flow.finish()


@dataclass(frozen=True, slots=True)
class Block:
    """What a block of the sequence is drawn from, beside its set-up.

    ``back`` says why the tool comes back to a distance; ``after`` is the height of what has to stay
    on the block's last page with it. ``progress`` is moved on by the panels that are finished.
    """

    ledger: Ledger
    progress: Progress
    columns: Columns
    back: str
    after: float


@singledispatch
def add_setup(setup: Setup, _flow: Flow, _block: Block) -> None:
    """Add the block of a set-up in the shop; one function for each kind.

    Raises
    ------
    TypeError
        For a kind that has none.
    """
    raise TypeError(f"no block of the sequence tells of a {type(setup).__name__}")


@add_setup.register(SawSetup)
def _add_saw_setup(setup: SawSetup, flow: Flow, block: Block) -> None:
    reasons = (block.back, reason_words(block.ledger, setup))
    head = _Head(block.ledger, setup, block.columns, reasons, block.progress.done)
    _add_setting(flow, head, block.progress, block.after)


def _add_setting(flow: Flow, head: _Head, progress: Progress, after: float) -> None:
    """Add a block; ``after`` is the height of what has to stay on its last page with it."""
    rows = [
        cut_row(head.ledger, head.setting, cut, progress, head.columns) for cut in head.setting.cuts
    ]
    heights = [height for _, height in rows]
    items, head_height = head.drawn(ruled=True)
    whole = head_height + sum(heights)
    gap = 0.0 if flow.at_top else _GAP
    if whole + after <= flow.full_height:
        whole += after
    least = whole if whole <= flow.full_height else head_height + sum(heights[:_LEAST_ROWS])
    if gap + least > flow.left_over:
        flow.break_page()
        gap = 0.0
    if flow.at_top:
        items, head_height = head.drawn(ruled=False)
    flow.add(items, head_height, gap=gap)
    for row, height in rows:
        if height > flow.left_over + 1e-6:
            flow.break_page()
            flow.add(*head.drawn(ruled=False, continued=True))
        flow.add(row, height)


@dataclass(frozen=True, slots=True)
class _Head:
    """The head of a block: number, distance in large figures, tool, and why it comes now.

    ``done`` counts the panels finished before it.
    """

    ledger: Ledger
    setting: SawSetup
    columns: Columns
    reasons: tuple[str, ...]
    done: int

    def drawn(self, *, ruled: bool, continued: bool = False) -> tuple[list[Item], float]:
        """Draw it, under the title of a page without a rule above; give its height too."""
        job, setting, end = self.ledger.plan.job, self.setting, self.columns.end
        distance = set_words(setting, job)
        under = UNDER[setting.device]
        x = _DISTANCE_AT
        items: list[Item] = [
            *([rule(0, end, 0, theme.HEAVY)] if ruled else []),
            Text(0, 4.2, "setting", theme.SMALL),
            Text(0, 12.2, str(setting.number), theme.FIGURE - 4, True),
            Text(x, 12.2, distance, theme.DISTANCE, True, role=Role.DISTANCE),
        ]
        other = also_words(setting.distance, job)
        if other:
            items.append(Text(x, 18.2, other, theme.HEADING, True))
            x += text_width(other, theme.HEADING, True) + 3
        items.append(Text(x, 18.2 if other else 16.4, under, theme.SMALL))
        right = max(
            _ABOUT_AT,
            _DISTANCE_AT + text_width(distance, theme.DISTANCE, True) + 6,
            x + text_width(under, theme.SMALL) + 6,
        )
        y = 4.6
        size = theme.HEADING if self.ledger.has_tools else theme.STRONG
        title = setting.tool
        if continued:
            title += ", continued"
        else:
            total = self.ledger.plan.totals.parts
            count = f"finished so far {self.done} of {total}"
            items.append(Text(end, y, count, theme.STRONG, anchor=Anchor.END))
            title = shorten(title, end - right - text_width(count, theme.STRONG) - 4, size, True)
        items.append(Text(right, y, title, size, True))
        for words, bold in () if continued else self._about():
            for line in wrap(words, end - right, _ABOUT_SIZE, bold):
                y += _ABOUT_STEP
                items.append(Text(right, y, line, _ABOUT_SIZE, bold))
        height = max(_HEAD + 2.4 if other else _HEAD, y + 5.2)
        heads = row_heads(self.columns, setting.device)
        items.extend(shifted(item, 0, height - 1.2) for item in heads)
        items.append(rule(0, end, height, theme.FINE))
        return items, height

    def _about(self) -> tuple[tuple[str, bool], ...]:
        cuts = self.setting.cuts
        kinds = Counter(cut_word(self.setting, cut) for cut in cuts)
        lead = "clean-up: " if all(cut.purpose is Purpose.CLEAN_UP for cut in cuts) else ""
        anew = self.setting.tool in laid_anew(self.ledger)
        tail = ", guide marked and clamped for it" if anew else ""
        words = ", ".join(counted(number, word) for word, number in kinds.items())
        said = [(lead + words + tail, False)]
        said += [(words, False) for words in self.reasons if words]
        said += [(words, True) for words in match_notes(self.ledger, self.setting)]
        return tuple(said)


def _add_intro(flow: Flow, ledger: Ledger) -> None:
    """Explain how to work down the list, and the marks that occur."""
    width = flow.room.width
    step = theme.LEADING * theme.BODY * PT_MM
    items: list[Item] = []
    y = 0.0
    settings = ledger.plan.settings
    used = {setting.device for setting in settings}
    what = "saw named" if ledger.has_tools else "fence"
    along = along_words(ledger.plan)
    guide = ", or the edge that a guide is measured from" if Device.GUIDE in used else ""
    text = (
        f"Set the {what} once for each block, make all its cuts from top to bottom, tick each one, "
        "and pencil the new names on the pieces, the same way up as on the layout pages. In the "
        f"sketches the {along} runs from left to right as it does there; the bar is the fence or "
        f"the stop{guide}; the tinted part comes off. Sizes give the length along it first. "
        f"{_cuts_explained(used)}"
    )
    if laid_anew(ledger) & {setting.tool for setting in settings}:
        text += (
            " A guide is marked and clamped for every cut, so panels cut along it match only as "
            "well as it was laid."
        )
    if any(riding_words(ledger, setting, cut) for setting in settings for cut in setting.cuts):
        text += (
            " Where it matters which edge the fence, the stop or the measure begins at, the row "
            "says so, as the piece lies on the layout page."
        )
    if any("≈" in piece_size(piece, ledger.plan.job) for piece in ledger.pieces.values()):
        text += " ≈ marks a size rounded in print."
    if any(cut.check for setting in ledger.plan.settings for cut in setting.cuts):
        text += (
            " Where a row says so, check the size of what is left: no fence sets it, and the "
            "sheet's true size and the kerfs go into it. What is too large is trimmed with the "
            "fence set to the size; what is too small is cut anew from an offcut."
        )
    if any(mark_words(ledger, cut, "") for setting in settings for cut in setting.cuts):
        text += (
            " Where a row asks for a mark, the piece's edge or size is not true enough to measure "
            "from: the distance of the setting is only about right there."
        )
    for line in wrap(text, width, theme.BODY):
        y += step
        items.append(Text(0, y, line, theme.BODY))
    for line in wrap(kerf_words(ledger), width, theme.BODY, True):
        y += step
        items.append(Text(0, y, line, theme.BODY, True))
    marked = _flags_used(ledger)
    for flag, meaning in legend(ledger.plan.job.units):
        if flag not in marked:
            continue
        y += 1.2
        mark, mark_width = flag_mark(flag, 0, y + step - cap_height(theme.BODY) - 0.7)
        items.extend(mark)
        indent = max(24.0, mark_width + 2)
        for line in wrap(meaning, width - indent, theme.BODY):
            y += step
            items.append(Text(indent, y, line, theme.BODY))
    flow.add(items, y + 2.5)


def _cuts_explained(used: Collection[Device]) -> str:
    """Say how cuts are called, for the devices that there are."""
    ways = {
        Device.FENCE: "a rip is made along the fence",
        Device.STOP: "a crosscut at the stop",
        Device.GUIDE: "a guided cut along the guide",
    }
    said = [words for device, words in ways.items() if device in used]
    if not said:
        return ""
    return f"Here {', '.join(said)}, however the grain runs."


def _flags_used(ledger: Ledger) -> frozenset[Caution]:
    return frozenset(
        flag for setting in ledger.plan.settings for cut in setting.cuts for flag in cut.cautions
    )


def _end(ledger: Ledger, width: float) -> tuple[list[Item], float]:
    """Close the list, all panels and what goes back on the rack; return items and height.

    Distances that are set once are listed as well; a table of the others follows.
    """
    panels = ledger.plan.totals.parts
    words = f"All {panels} panels finished." if panels != 1 else "The panel is finished."
    kept = kept_by_size(ledger.plan.leftovers)
    if len(kept) > _MOST_OFFCUTS:
        words += f" {len(kept)} offcuts to keep: see the list on the first pages."
    elif kept:
        # A piece and its size stay on one line.
        listed = "; ".join(_kept_words(ledger, one.piece) for one in kept)
        words += f" Offcuts to keep: {listed}."
    step = theme.LEADING * theme.STRONG * PT_MM
    lines = [(line, True) for line in wrap(words, width, theme.STRONG, True)]
    once = [row[1] for row in visit_rows(ledger) if row[0] == "1"]
    if once:
        lead = "Each distance is set once" if not _revisits(ledger) else "Set once each"
        lines += [(line, False) for line in wrap(f"{lead}: {once[0]}.", width, theme.STRONG)]
    items: list[Item] = [rule(0, width, 0, theme.HEAVY)]
    items.extend(
        Text(0, 2.0 + (number + 1) * step, line, theme.STRONG, bold)
        for number, (line, bold) in enumerate(lines)
    )
    return items, 4.0 + len(lines) * step


def _kept_words(ledger: Ledger, piece: Piece) -> str:
    """Name an offcut to keep with its size and the edges that are not clean."""
    edges = unclean_words(ledger, piece)
    words = f"{piece.name}\u00a0{piece_size(piece, ledger.plan.job)}"
    return f"{words} (edges to clean: {edges})" if edges else words


def _revisits(ledger: Ledger) -> list[tuple[str, str, str, str]]:
    """Give the rows of the distances that are set more than once."""
    return [row for row in visit_rows(ledger) if row[0] != "1"]


def _add_visits(flow: Flow, ledger: Ledger) -> None:
    """List the distances that are set more than once, and why the saw comes back to them."""
    rows = _revisits(ledger)
    if not rows:
        return
    columns = (
        Column("visits", right=True, bold=True),
        Column("distance", bold=True),
        Column("settings", flexible=True),
        Column("why the saw comes back", flexible=True),
    )
    add_table(flow, columns, rows, title="Distances set more than once", gap=_GAP)

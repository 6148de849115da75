"""What is said beside the drawing of a sheet: which it is, its cuts, and what the marks mean."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.alike import MOST_LISTED, ranges
from cutlist.model.weights import Lift
from cutlist.telling.edges import trim_words
from cutlist.telling.grain import has_grain
from cutlist.telling.weights import weight_words
from cutlist.telling.wording import counted, stock_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger

__all__ = [
    "about_words",
    "cut_words",
    "direction_words",
    "edges_off_words",
    "missing_words",
    "named_after_words",
    "numbered_words",
    "tag_forms",
    "written_out",
]

#: What the title says of lifting; the shopping list says it at length.
_HEAVY: Final = {Lift.ONE: "", Lift.TWO: " (two to lift)", Lift.MORE: " (too heavy for two)"}
#: A tag of more characters than this is shortened and written out in the key.
_LONGEST_TAG: Final = 18
#: So many names go into one line of the key, that the rest can run on to the next column.
_NAMES_A_LINE: Final = 24


def about_words(ledger: Ledger, group: SheetGroup, groups: int) -> str:
    """Say what stock this is, and which sheets where the title does not."""
    job = ledger.plan.job
    text = f"Layout {group.number} of {groups}: {stock_words(group.first, job)}"
    if group.first.edges is not None:
        text += f", clean off at least {trim_words(group.first, job)}"
    elif group.first.trim:
        text += f", factory edges trimmed by {trim_words(group.first, job)} or more"
    weight = next((w for w in ledger.plan.weights if w.piece == group.first.piece), None)
    if weight is not None:
        text += f", {weight_words(weight.kg, job.units)}"
        text += _HEAVY[weight.lift]
    if len(group.names) > MOST_LISTED:
        text += f"; sheets {', '.join(group.names)}"
    return text


def tag_forms(lines: Sequence[CutLine]) -> tuple[str, ...]:
    """Give what stands on a cut line, fullest form first: ``3·12``, then ``12`` alone.

    A line shared by several sheets has ``3·12–14``, or what there is room for with ``…`` after it.
    """
    setting = lines[0].setting.number
    if any(line.setting.number != setting for line in lines):
        return (f"{setting}·{lines[0].cut.number}…",)
    numbers = [line.cut.number for line in lines]
    full, short = f"{setting}·{ranges(numbers)}", f"{setting}·{min(numbers)}…"
    if len(full) > _LONGEST_TAG:
        return (short,)
    return (full, str(numbers[0]) if len(numbers) == 1 else short)


def written_out(lines: Sequence[CutLine]) -> str:
    """Write out what a shortened tag stands for: ``setting 3, cuts 12, 14; setting 4, cut 17``."""
    return "; ".join(
        f"setting {setting}, cut{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"
        for setting, numbers in _by_setting(lines).items()
    )


def missing_words(lines: Sequence[CutLine]) -> list[str]:
    """List the cuts whose lines have no room for a number."""
    words = [
        f"{setting}·{ranges(numbers)}" for setting, numbers in sorted(_by_setting(lines).items())
    ]
    return _in_lines("lines without room for a number, by setting·cut: ", words, "; ")


def numbered_words(subject: str, pieces: Sequence[str]) -> list[str]:
    """Say what a number in the drawing stands for: its size, and the pieces."""
    lead = f"{subject} — {counted(len(pieces), 'piece')}: "
    return _in_lines(lead, pieces, ", ")


def _in_lines(lead: str, words: Sequence[str], between: str) -> list[str]:
    parts = [words[at : at + _NAMES_A_LINE] for at in range(0, len(words), _NAMES_A_LINE)]
    return [(lead if number == 0 else "") + between.join(p) for number, p in enumerate(parts)]


def _by_setting(lines: Sequence[CutLine]) -> dict[int, list[int]]:
    found: dict[int, list[int]] = {}
    for line in lines:
        found.setdefault(line.setting.number, []).append(line.cut.number)
    return found


def cut_words(line: CutLine) -> str:
    """Explain the number on a cut line."""
    setting, cut = line.setting.number, line.cut.number
    return f"cut line: setting {setting}, cut {cut}; where room is short, the cut alone"


def edges_off_words(ledger: Ledger, group: SheetGroup) -> str:
    """Say what comes off the edges of a sheet; empty where nothing does."""
    trim = trim_words(group.first, ledger.plan.job)
    if not trim:
        return ""
    if group.first.edges is not None:
        return f"edge to clean off, at least {trim}"
    return f"factory edge: at least {trim} comes off"


def named_after_words(ledger: Ledger, group: SheetGroup) -> tuple[str, str]:
    """Explain by one piece how those of other sheets are named; give that piece too."""
    first, *others = group.names
    stays = [piece.name for piece in ledger.staying(first)]
    example = next((name for name in stays if name in ledger.panel_of), stays[0])
    ending = example.removeprefix(first)
    there = f"{example} there is {others[0]}{ending} on {others[0]}"
    return example, f"pieces are named as on {first}: {there}"


def direction_words(ledger: Ledger, group: SheetGroup) -> str:
    """Say which way the grain runs in the drawing."""
    if has_grain(ledger.plan.job, group.first):
        return "grain of the sheet: left to right; sizes along it come first"
    return "the material has no grain; sizes from left to right come first"

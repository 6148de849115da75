"""Which workpieces are divided alike, so that one drawing serves them all."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from collections.abc import Hashable, Sequence
    from fractions import Fraction

    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Piece, Workpiece

__all__ = [
    "MOST_LISTED",
    "SheetGroup",
    "differ_in_letter",
    "group_sheets",
    "lines_alike",
    "listed",
    "names_alike",
    "ranges",
]

#: So many names go into a title.
MOST_LISTED: Final = 8


@dataclass(frozen=True, slots=True)
class SheetGroup:
    """Workpieces of the same stock with the same cuts and the same parts in the same places.

    ``number`` counts the groups from 1.
    """

    number: int
    workpieces: tuple[Workpiece, ...]

    @property
    def first(self) -> Workpiece:
        """The one that is drawn."""
        return self.workpieces[0]

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the workpieces."""
        return tuple(workpiece.piece for workpiece in self.workpieces)


def group_sheets(ledger: Ledger) -> tuple[SheetGroup, ...]:
    """Group the workpieces of a plan, in the plan's order."""
    groups: dict[Hashable, list[Workpiece]] = {}
    for workpiece in ledger.plan.workpieces:
        groups.setdefault(_likeness(ledger, workpiece), []).append(workpiece)
    return tuple(
        SheetGroup(number, tuple(members)) for number, members in enumerate(groups.values(), 1)
    )


def _likeness(ledger: Ledger, workpiece: Workpiece) -> Hashable:
    """Everything that two workpieces must share to be drawn as one."""
    stays = []
    for piece in ledger.staying(workpiece.piece):
        panel = ledger.panel_of.get(piece.name)
        use = panel.part if panel else None
        keep = ledger.is_kept_offcut(piece.name)
        stays.append((piece.x, piece.y, piece.length, piece.width, use is None, use or "", keep))
    lines = [
        (line.direction is Direction.RIP, line.middle, line.start, line.end)
        for line in ledger.lines[workpiece.piece]
    ]
    return (
        (workpiece.stock, workpiece.bought, workpiece.material, workpiece.thickness),
        (workpiece.length, workpiece.width, workpiece.trims.each),
        tuple(sorted(stays)),
        tuple(sorted(lines)),
    )


def names_alike(ledger: Ledger, group: SheetGroup) -> tuple[tuple[str, ...], ...]:
    """Give for each piece that stays of the first sheet its names, one for each sheet."""
    names: dict[tuple[Fraction, ...], list[str]] = {}
    for workpiece in group.workpieces:
        for piece in ledger.staying(workpiece.piece):
            names.setdefault(_place(piece), []).append(piece.name)
    return tuple(tuple(names[_place(piece)]) for piece in ledger.staying(group.first.piece))


def differ_in_letter(ledger: Ledger, group: SheetGroup) -> bool:
    """Tell whether the names of pieces differ in nothing but the letter of their sheet."""
    endings: dict[tuple[Fraction, ...], set[str]] = {}
    for workpiece in group.workpieces:
        for piece in ledger.staying(workpiece.piece):
            ending = piece.name.removeprefix(workpiece.piece)
            endings.setdefault(_place(piece), set()).add(ending)
    return all(len(found) == 1 for found in endings.values())


def _place(piece: Piece) -> tuple[Fraction, ...]:
    return piece.x, piece.y, piece.length, piece.width


def lines_alike(ledger: Ledger, group: SheetGroup) -> tuple[tuple[CutLine, ...], ...]:
    """Give the cut lines that lie on one another when the sheets are drawn as one."""
    by_place: dict[Hashable, list[CutLine]] = {}
    for name in group.names:
        for line in ledger.lines[name]:
            place = (line.direction, line.middle, line.start, line.end)
            by_place.setdefault(place, []).append(line)
    return tuple(tuple(alike) for alike in by_place.values())


def listed(group: SheetGroup) -> str:
    """Name the sheets of a group: ``Sheet A``, ``Sheets A, B, C``, ``12 offcuts, D … O``."""
    names = group.names
    noun = "sheet" if group.first.bought else "offcut"
    if len(names) == 1:
        return f"{noun.capitalize()} {names[0]}"
    if len(names) <= MOST_LISTED:
        return f"{noun.capitalize()}s {', '.join(names)}"
    return f"{len(names)} {noun}s, {names[0]} … {names[-1]}"


def ranges(numbers: Sequence[int]) -> str:
    """Shorten a list of numbers: ``3``, ``3, 7``, ``3–6, 9``; in even steps ``1, 4 … 34``."""
    out: list[str] = []
    ordered = sorted(set(numbers))
    steps = {later - number for number, later in pairwise(ordered)}
    if len(ordered) > 3 and len(steps) == 1 and steps != {1}:
        return f"{ordered[0]}, {ordered[1]} … {ordered[-1]}"
    start = 0
    for index, number in enumerate(ordered):
        if index + 1 < len(ordered) and ordered[index + 1] == number + 1:
            continue
        first = ordered[start]
        if number == first:
            out.append(str(number))
        else:
            out.append(f"{first}{', ' if number == first + 1 else '–'}{number}")
        start = index + 1
    return ", ".join(out)

"""What the shop begins with: sheets and offcuts with their letters, blanks with their names.

Sheets are lettered as layouts come to them. The blanks of sheet A are A1, A2 … in the order in
which each is measured before its rest; a piece on the way that becomes A2 and A3 is A2-3.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import count

from cutlist.breakdown.blanks import BlankPlace, BrokenSheet
from cutlist.breakdown.patterns import Blank, Pattern, StoreCut, StoreLimits, cuts_of
from cutlist.model.job import Stock
from cutlist.model.plan import Purpose
from cutlist.planning.dividing.groups import Group
from cutlist.planning.ordering.joint_search import Solution
from cutlist.sequencing.cutting import CutStep, PlacedBox, SettingStep, Start
from cutlist.sequencing.forest import Branch, Forest
from cutlist.sequencing.names import sheet_letter
from cutlist.sequencing.order import Order, order_settings


@dataclass(frozen=True, slots=True)
class Supply:
    """Stock by name, and how the store breaks it down.

    Parameters
    ----------
    starts, stock
        For each piece that the layouts are cut from, through their copies: its name and place, and
        the sheet or offcut it is of.
    workpieces
        Letter and kind of every sheet and offcut.
    store
        Settings of the store's saw, in order.
    idle
        Blanks that nothing is cut from, each with its sheet.
    store_bound
        Settings at the store that any order of its cuts takes.
    """

    starts: tuple[Start, ...]
    stock: tuple[Stock, ...]
    workpieces: tuple[tuple[str, Stock], ...]
    store: tuple[SettingStep, ...] = ()
    idle: tuple[tuple[Stock, PlacedBox], ...] = ()
    store_bound: int = 0

    @classmethod
    def of(cls, stock: Iterable[Stock]) -> Supply:
        """Return whole pieces of stock, lettered in order."""
        pieces = tuple((sheet_letter(number), piece) for number, piece in enumerate(stock))
        starts = tuple(Start(letter) for letter, _ in pieces)
        return cls(starts, tuple(piece for _, piece in pieces), pieces)


def supply_of(groups: Sequence[Group], solutions: Sequence[Solution]) -> Supply:
    """Return what the layouts of all groups are cut from."""
    taking = _Taking()
    for group, solution in zip(groups, solutions, strict=True):
        taking.take(group, solution)
    order = fewest_settings(taking.patterns)
    return Supply(
        tuple(taking.starts),
        tuple(taking.stock),
        tuple(taking.workpieces),
        grouped(taking.cuts, order.settings),
        tuple(taking.idle),
        order.bound,
    )


@dataclass(slots=True)
class _Taking:
    starts: list[Start] = field(default_factory=list)
    stock: list[Stock] = field(default_factory=list)
    workpieces: list[tuple[str, Stock]] = field(default_factory=list)
    cuts: list[list[CutStep]] = field(default_factory=list)
    patterns: list[Pattern] = field(default_factory=list)
    idle: list[tuple[Stock, PlacedBox]] = field(default_factory=list)
    numbers: count[int] = field(default_factory=count)

    def _lettered(self, stock: Stock) -> str:
        letter = sheet_letter(next(self.numbers))
        self.workpieces.append((letter, stock))
        return letter

    def take(self, group: Group, solution: Solution) -> None:
        """Take what the layouts of a group need: whole pieces, or the next blank of a kind."""
        waiting = [list(kind.spots) for kind in group.kinds]
        letters: dict[int, str] = {}
        taken: dict[int, set[int]] = {}
        for layout in solution:
            for _ in range(layout.copies):
                stock = group.stock[layout.stock]
                if layout.stock >= len(waiting):
                    mirrored = group.mirrored(layout.stock)
                    self.starts.append(Start(self._lettered(stock), mirrored=mirrored))
                    self.stock.append(stock)
                    continue
                spot = waiting[layout.stock].pop(0)
                sheet = group.sheets[spot.sheet]
                if spot.sheet not in letters:
                    letters[spot.sheet] = self._lettered(sheet.sheet)
                taken.setdefault(spot.sheet, set()).add(spot.number)
                self.starts.append(_start(letters[spot.sheet], sheet, spot))
                self.stock.append(sheet.sheet)
        if group.limits is not None:
            for index, letter in letters.items():
                self._break(group.sheets[index], letter, taken[index], group.limits)

    def _break(self, sheet: BrokenSheet, letter: str, taken: set[int], limits: StoreLimits) -> None:
        self.patterns.append(sheet.pattern)
        self.cuts.append(
            [_step(letter, cut) for cut in cuts_of(sheet.pattern, sheet.whole, limits)]
        )
        for number, blank in enumerate(sheet.blanks(limits), start=1):
            if number not in taken:
                self.idle.append((sheet.sheet, _box(blank, f"{letter}{number}")))


def _start(letter: str, sheet: BrokenSheet, spot: BlankPlace) -> Start:
    name = letter if sheet.pattern is None else f"{letter}{spot.number}"
    return Start(name, spot.blank.x, spot.blank.y, spot.mirrored)


def _step(letter: str, cut: StoreCut) -> CutStep:
    first, rest = cut.numbers
    whole = range(first.start, rest.stop)
    piece = letter if cut.is_first else _name(letter, whole)
    return CutStep(
        piece,
        cut.axis,
        Purpose.BREAK_DOWN,
        _box(cut.first, _name(letter, first)),
        _box(cut.rest, _name(letter, rest)),
    )


def _name(letter: str, numbers: range) -> str:
    if len(numbers) == 1:
        return f"{letter}{numbers.start}"
    return f"{letter}{numbers.start}-{numbers.stop - 1}"


def _box(blank: Blank, name: str) -> PlacedBox:
    return PlacedBox(name, blank.x, blank.y, blank.length, blank.width)


def grouped(cuts: Sequence[Sequence[CutStep]], order: Sequence[int]) -> tuple[SettingStep, ...]:
    """Return the cuts of all sheets by settings of the store's saw.

    Parameters
    ----------
    cuts
        Of each sheet, every cut after the one that makes its piece.
    order
        The distances in the order in which they are set; at each, all that can be cut is cut.
    """
    waiting = [list(queue) for queue in cuts]
    hidden = [{name for cut in queue for name in _names(cut)} for queue in cuts]
    settings = []
    for distance in order:
        made: list[CutStep] = []
        for queue, names in zip(waiting, hidden, strict=True):
            for cut in list(queue):
                if cut.kept.size(cut.axis) == distance and cut.piece not in names:
                    queue.remove(cut)
                    names -= _names(cut)
                    made.append(cut)
        settings.append(SettingStep(distance, tuple(made)))
    return tuple(settings)


def _names(cut: CutStep) -> set[str]:
    """Return the pieces that a cut makes."""
    return {box.name for box in (cut.kept, cut.rest) if box is not None}


def fewest_settings(patterns: Iterable[Pattern]) -> Order:
    """Return the distances at which the store breaks sheets down, in the order that sets fewest."""
    forest = Forest()
    blank = forest.panel(0)

    def node(pattern: Pattern) -> int:
        if pattern is None:
            return blank
        branch = Branch(pattern.size, node(pattern.first))
        return forest.work(pattern.axis, [branch], node(pattern.rest))

    return order_settings(forest, [node(pattern) for pattern in patterns])

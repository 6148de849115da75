"""The ledger of a plan: for every piece where it comes from, what its edges are, where it goes.

One pass over the plan's set-ups, whatever their kind: an operation takes pieces and makes others.
Nothing here is decided; everything follows from the plan.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

from cutlist.ledger.cut_lines import CutLine
from cutlist.ledger.edges import after_cut, of_nothing_known, of_stock
from cutlist.ledger.entries import Entry, followed_back
from cutlist.model.plan import Cut, Direction, Piece, Place, SawSetup, SizeOrigin

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.model.job import SawKind
    from cutlist.model.plan import (
        Leftover,
        Operation,
        Panel,
        Plan,
        Setup,
        Workpiece,
    )

__all__ = ["Ledger", "read_ledger"]


@dataclass(frozen=True, slots=True)
class Ledger:
    """A plan by the names of its pieces.

    Parameters
    ----------
    plan
        The plan that it was read from.
    entries
        Every piece that ever exists, workpieces included, in the order in which they come to be.
    consumer_of
        The set-up and operation that takes a piece; missing for a piece that stays.
    setup_of
        The number of the set-up of each operation, by the operation's number.
    home
        What there is once the store has made its cuts: the workpieces themselves where it makes
        none.
    panel_of, leftover_of
        What a piece that stays is.
    qty_of
        How many panels of each part the plan has.
    lines
        The cut lines of each workpiece, in cutting order.
    stock_of
        The workpiece that a piece comes from, of several the first; missing for a piece that comes
        from none.
    divided_by
        The set-up and cut that divides a piece; missing for a piece that stays, or that something
        else is done to.
    """

    plan: Plan
    entries: Mapping[str, Entry]
    consumer_of: Mapping[str, tuple[Setup, Operation]]
    setup_of: Mapping[int, int]
    home: tuple[Piece, ...]
    panel_of: Mapping[str, Panel]
    leftover_of: Mapping[str, Leftover]
    qty_of: Mapping[str, int]
    lines: Mapping[str, tuple[CutLine, ...]]
    pieces: Mapping[str, Piece]
    stock_of: Mapping[str, Workpiece]
    divided_by: Mapping[str, tuple[SawSetup, Cut]]
    _staying: Mapping[str, tuple[Piece, ...]]
    #: Names of the pieces that have a size of a panel across a direction.
    _sized: Mapping[Direction, frozenset[str]]
    #: The same, and of those whose size goes into that of a panel.
    _sizing: Mapping[Direction, frozenset[str]]

    def made_at(self, piece: str) -> int | None:
        """Give the number of the set-up that made a piece; None for one that none made."""
        entry = self.entries.get(piece)
        return None if entry is None or entry.maker is None else entry.maker[0].number

    def staying(self, workpiece: str) -> tuple[Piece, ...]:
        """Give the pieces of one workpiece that are left at the end, in order of their making."""
        return self._staying[workpiece]

    def store_lines(self, workpiece: str) -> tuple[CutLine, ...]:
        """Give the cuts that the store makes in one workpiece, in their order."""
        return tuple(one for one in self.lines[workpiece] if one.setting.place is Place.STORE)

    def blanks(self, workpiece: str) -> tuple[Piece, ...]:
        """Give the pieces that the store's cuts leave of a workpiece; none where it makes none."""
        made = (piece for line in self.store_lines(workpiece) for piece in line.cut.makes)
        return tuple(piece for piece in made if not self._is_cut_at_store(piece.name))

    def _is_cut_at_store(self, piece: str) -> bool:
        taken = self.consumer_of.get(piece)
        return taken is not None and taken[0].place is Place.STORE

    def kind_of(self, setting: Setup) -> SawKind | None:
        """Give the kind of saw that is set; None for a table saw that is the only one."""
        return next((saw.kind for saw in self.plan.job.saws if saw.name == setting.tool), None)

    @property
    def has_tools(self) -> bool:
        """Whether more than one tool is set up."""
        return len({(setup.place, setup.tool) for setup in self.plan.setups}) > 1

    def is_kept_offcut(self, piece: str) -> bool:
        """Tell whether the piece is an offcut worth keeping."""
        leftover = self.leftover_of.get(piece)
        return leftover is not None and leftover.keep

    def is_used(self, piece: str) -> bool:
        """Tell whether a piece is a panel or is worked on, so that it is no waste."""
        return piece in self.panel_of or piece in self.consumer_of

    def sizes_panels(self, cut: Cut) -> bool:
        """Tell whether a panel gets the size across this cut by being what the cut leaves.

        Such a size was never set at a fence or stop: it carries the errors of the sheet's size, of
        the kerfs and of the cuts before.
        """
        return cut.rest is not None and cut.rest.name in self._sized[cut.direction]

    def sets_panels(self, cut: Cut) -> bool:
        """Tell whether a panel gets the size across this cut by the distance that is set."""
        return cut.kept.name in self._sized[cut.direction]

    def leaves_panels(self, cut: Cut, piece: Piece | None) -> bool:
        """Tell whether the size of a piece of this cut goes into that of a panel.

        It does where the panel is the piece, across this cut, or what later operations leave or
        make of it.
        """
        return piece is not None and piece.name in self._sizing[cut.direction]


def read_ledger(plan: Plan) -> Ledger:
    """Follow every operation of a plan; one pass, linear in their number.

    An operation that takes a piece which is not there is passed over: what a plan should be is for
    the audit to say.
    """
    return _Reading(plan).ledger()


class _Reading:
    """The pass: what there is so far."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        store = plan.job.store
        self._accuracy = Fraction(0) if store is None else store.accuracy
        self._entries: dict[str, Entry] = {}
        self._consumers: dict[str, tuple[Setup, Operation]] = {}
        self._setup_of: dict[int, int] = {}
        self._home: dict[str, Piece] = {}
        self._divided_by: dict[str, tuple[SawSetup, Cut]] = {}
        self._lines: dict[str, list[CutLine]] = {}
        zero = Fraction(0)
        for one in plan.workpieces:
            piece = Piece(one.piece, zero, zero, one.length, one.width)
            self._entries[one.piece] = Entry(piece, (one,), of_stock(one), None, 0)
            self._home[one.piece] = piece
            self._lines[one.piece] = []

    def ledger(self) -> Ledger:
        """Go through all set-ups and close the books."""
        plan = self._plan
        for setup in plan.setups:
            for operation in setup.operations:
                self._setup_of[operation.number] = setup.number
                if all(name in self._entries for name in operation.takes):
                    self._note(setup, operation)
        staying: dict[str, list[Piece]] = {one.piece: [] for one in plan.workpieces}
        for name, entry in self._entries.items():
            if name not in self._consumers and entry.stock is not None:
                staying[entry.stock.piece].append(entry.piece)
        return Ledger(
            plan=plan,
            entries=self._entries,
            consumer_of=self._consumers,
            setup_of=self._setup_of,
            home=tuple(self._home.values()),
            panel_of={panel.piece.name: panel for panel in plan.panels},
            leftover_of={leftover.piece.name: leftover for leftover in plan.leftovers},
            qty_of=Counter(panel.part for panel in plan.panels),
            lines={name: tuple(found) for name, found in self._lines.items()},
            pieces={name: entry.piece for name, entry in self._entries.items()},
            stock_of={
                name: entry.stock
                for name, entry in self._entries.items()
                if entry.stock is not None
            },
            divided_by=self._divided_by,
            _staying={name: tuple(found) for name, found in staying.items()},
            _sized=self._sizes_of_panels(SizeOrigin.UNCHANGED),
            _sizing=self._sizes_of_panels(SizeOrigin.UNCHANGED, SizeOrigin.CHANGED),
        )

    def _sizes_of_panels(self, *through: SizeOrigin) -> dict[Direction, frozenset[str]]:
        """Follow the sizes of all panels back through operations that have one of these origins."""
        panels = [panel.piece.name for panel in self._plan.panels]
        found = {}
        for across in Direction:
            passes = partial(_has_origin, across, through)
            walk = followed_back(self._entries, panels, passes)
            found[across] = frozenset(entry.piece.name for entry in walk)
        return found

    def _note(self, setup: Setup, operation: Operation) -> None:
        taken = {name: self._entries[name] for name in operation.takes}
        depth = max((entry.depth for entry in taken.values()), default=-1) + 1
        for name in taken:
            self._consumers[name] = (setup, operation)
        # The one question for a kind: only a cut draws a line and makes edges of its own.
        cut = operation if isinstance(setup, SawSetup) and isinstance(operation, Cut) else None
        if isinstance(setup, SawSetup) and cut is not None:
            self._divided_by[cut.piece] = (setup, cut)
            divided = taken[cut.piece]
            if divided.stock is not None:
                line = CutLine(setup, cut, divided.piece, divided.depth)
                self._lines[divided.stock.piece].append(line)
        for piece in operation.makes:
            before = [taken[old] for old, new in operation.continues if new == piece.name]
            edges = before[0].edges if before else of_nothing_known()
            if cut is not None:
                source = taken[cut.piece].piece
                edges = after_cut(edges, source, piece, cut, setup.place, self._accuracy)
            origins = tuple(dict.fromkeys(one for entry in before for one in entry.origins))
            self._entries[piece.name] = Entry(piece, origins, edges, (setup, operation), depth)
        if setup.place is Place.STORE:
            for name in operation.takes:
                self._home.pop(name, None)
            self._home |= {piece.name: piece for piece in operation.makes}


def _has_origin(across: Direction, origins: tuple[SizeOrigin, ...], entry: Entry) -> bool:
    return entry.size_origin(across) in origins

"""The ledger of a plan: for every piece where it comes from, what its edges are, where it goes.

One pass over the plan's set-ups, whatever their kind: an operation takes pieces and makes others.
Nothing here is decided; everything follows from the plan.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.ledger.cut_lines import CutLine
from cutlist.ledger.edges import after_cut, of_stock
from cutlist.model.plan import Cut, Piece, Place, SawSetup

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.ledger.edges import EdgeStates
    from cutlist.model.job import SawKind
    from cutlist.model.plan import (
        Direction,
        Leftover,
        Operation,
        Panel,
        Plan,
        Setup,
        Workpiece,
    )

__all__ = ["Entry", "Ledger", "read_ledger"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One piece.

    Parameters
    ----------
    piece
        Its name, place and size.
    origins
        The workpieces that are in it: one, unless pieces were joined.
    edges
        Its four edges; a piece that was joined or shaped has those of the first one it was made of.
    maker
        The set-up and operation that made it; None for a workpiece.
    depth
        How many operations led to it.
    """

    piece: Piece
    origins: tuple[Workpiece, ...]
    edges: EdgeStates
    maker: tuple[Setup, Operation] | None
    depth: int

    @property
    def stock(self) -> Workpiece:
        """The workpiece it comes from; of several the first."""
        return self.origins[0]


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
        return cut.rest is not None and self._leads_to_panel(cut.rest, cut.direction)

    def sets_panels(self, cut: Cut) -> bool:
        """Tell whether a panel gets the size across this cut by the distance that is set."""
        return self._leads_to_panel(cut.kept, cut.direction)

    def leaves_panels(self, cut: Cut, piece: Piece | None) -> bool:
        """Tell whether the size of a piece of this cut goes into that of a panel.

        It does where the panel is the piece, across this cut, or what later cuts leave of it.
        """
        return piece is not None and self._leads_to_panel(piece, cut.direction, with_rest=True)

    def _leads_to_panel(self, piece: Piece, way: Direction, *, with_rest: bool = False) -> bool:
        """Follow a piece through the cuts across ``way``, and along with what they leave of it."""
        waiting = [piece.name]
        while waiting:
            name = waiting.pop()
            if name in self.panel_of:
                return True
            if name in self.divided_by:
                following = self.divided_by[name][1]
                both: tuple[Piece | None, ...] = (following.kept, following.rest)
                if following.direction is way:
                    both = (None, following.rest if with_rest else None)
                waiting.extend(child.name for child in both if child is not None)
        return False


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
            if name not in self._consumers:
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
            stock_of={name: entry.stock for name, entry in self._entries.items()},
            divided_by={
                name: (setup, operation)
                for name, (setup, operation) in self._consumers.items()
                if isinstance(setup, SawSetup) and isinstance(operation, Cut)
            },
            _staying={name: tuple(found) for name, found in staying.items()},
        )

    def _note(self, setup: Setup, operation: Operation) -> None:
        taken = [self._entries[name] for name in operation.takes]
        origins = taken[0].origins if taken else ()
        if len(taken) > 1:
            origins = tuple(dict.fromkeys(one for entry in taken for one in entry.origins))
        depth = max((entry.depth for entry in taken), default=0)
        for name in operation.takes:
            self._consumers[name] = (setup, operation)
        if isinstance(setup, SawSetup) and isinstance(operation, Cut):
            line = CutLine(setup, operation, taken[0].piece, depth)
            self._lines[taken[0].stock.piece].append(line)
        for piece in operation.makes:
            edges = self._edges(setup, operation, taken, piece)
            self._entries[piece.name] = Entry(piece, origins, edges, (setup, operation), depth + 1)
        if setup.place is Place.STORE:
            for name in operation.takes:
                self._home.pop(name, None)
            self._home |= {piece.name: piece for piece in operation.makes}

    def _edges(
        self, setup: Setup, operation: Operation, taken: list[Entry], made: Piece
    ) -> EdgeStates:
        before = taken[0].edges
        if not isinstance(operation, Cut):
            return before
        return after_cut(before, taken[0].piece, made, operation, setup.place, self._accuracy)

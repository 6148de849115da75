"""What is made: the finished plan, the same content as ``plan.json``.

A plan is pieces and operations: set-ups hold operations, each of which takes named pieces and
makes others. A cut takes one piece and makes one or two. Whatever is done otherwise - work at a
router, a glue-up of several pieces, a test piece that is used up - is an operation, too, and a
set-up of a kind of its own. An operation says itself which piece goes on as which, and where their
sizes come from; who only follows the pieces need not know of what kind it is.

All lengths are exact fractions in the job's unit, in the frame of the sheet that a piece comes
from: x along the sheet's length, y along its width, origin at one corner.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.sawing import Caution, Device, Hazard, SizeCheck

if TYPE_CHECKING:
    from cutlist.model.job import Job
    from cutlist.model.matches import Matched
    from cutlist.model.weights import Trip, Weight


class Direction(StrEnum):
    """A rip runs along x and divides the width; a crosscut runs along y and divides the length."""

    RIP = "rip"
    CROSSCUT = "crosscut"


class Purpose(StrEnum):
    """Why a cut is made."""

    PART = "part"
    CLEAN_UP = "clean-up"
    ROUGH = "rough"
    BREAK_DOWN = "break-down"


class Place(StrEnum):
    """Where a cut is made."""

    STORE = "store"
    SHOP = "shop"


class SizeOrigin(StrEnum):
    """Where a piece that an operation makes has a size from."""

    #: The operation gives it, by what its tool is set to, whatever there was before.
    SET = "set"
    #: What there was before, less what came off it or with what was joined to it.
    CHANGED = "changed"
    #: It is that of the piece which goes on as this one.
    UNCHANGED = "unchanged"


@dataclass(frozen=True, slots=True)
class Piece:
    """A named piece at its place on the sheet that it came from."""

    name: str
    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True)
class Operation:
    """Something done to named pieces; ``number`` counts through all set-ups of the plan."""

    number: int

    @property
    def takes(self) -> tuple[str, ...]:
        """Names of the pieces that are used up; each has to be there."""
        raise NotImplementedError

    @property
    def makes(self) -> tuple[Piece, ...]:
        """The pieces that are there afterwards."""
        raise NotImplementedError

    @property
    def continues(self) -> tuple[tuple[str, str], ...]:
        """Pairs of names: a piece that is taken, and a made one that it goes on as.

        A taken piece that is in no pair is used up; a made one that is in none comes from nothing
        that the plan knows of.
        """
        raise NotImplementedError

    def size_origin(self, made: str, across: Direction) -> SizeOrigin:
        """Say where a made piece has its size across a rip, or across a crosscut, from."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class Cut(Operation):
    """One cut, edge to edge: ``piece`` is divided into ``kept``, at the fence, and ``rest``.

    Parameters
    ----------
    rides
        The edge of the piece that bears on the fence or the stop, or that the guide or the store
        measures from; None only until that is decided.
    cautions
        What the cut asks for, the gravest first; none where the store makes it.
    hazards
        Why no saw of the shop makes it within its limits; empty where one does.
    takes_off
        The edge that a clean-up cut takes off; None for any other cut.
    check
        How the size is made sure of that a panel gets by being what this cut leaves; None where
        none does.
    """

    piece: str
    direction: Direction
    purpose: Purpose
    kept: Piece
    rest: Piece | None
    rides: Edge | None = field(default=None, kw_only=True)
    cautions: tuple[Caution, ...] = field(default=(), kw_only=True)
    hazards: tuple[Hazard, ...] = field(default=(), kw_only=True)
    takes_off: Edge | None = field(default=None, kw_only=True)
    check: SizeCheck | None = field(default=None, kw_only=True)

    @property
    def takes(self) -> tuple[str, ...]:
        """The piece that is divided."""
        return (self.piece,)

    @property
    def makes(self) -> tuple[Piece, ...]:
        """What comes off at the fence and, unless nothing is left, the rest."""
        return (self.kept,) if self.rest is None else (self.kept, self.rest)

    @property
    def continues(self) -> tuple[tuple[str, str], ...]:
        """The piece goes on as what comes off, and as the rest."""
        return tuple((self.piece, made.name) for made in self.makes)

    def size_origin(self, made: str, across: Direction) -> SizeOrigin:
        """Say of ``kept`` that its size across the cut is set, of ``rest`` that it is changed."""
        if across is not self.direction:
            return SizeOrigin.UNCHANGED
        return SizeOrigin.SET if made == self.kept.name else SizeOrigin.CHANGED


@dataclass(frozen=True, slots=True)
class Setup:
    """One act of setting a tool, and what is done until it is set again."""

    number: int
    place: Place
    tool: str

    @property
    def operations(self) -> tuple[Operation, ...]:
        """What is done, in order."""
        raise NotImplementedError


@dataclass(frozen=True, slots=True)
class SawSetup(Setup):
    """A saw set to a distance, and all cuts made with it, in the order printed.

    ``device`` is what the distance is measured to. ``mark`` is what the scale, the stop or the rule
    is set to: the distance itself, or the mark next to it where the scale has none there.
    """

    distance: Fraction
    kerf: Fraction
    cuts: tuple[Cut, ...]
    mark: Fraction = field(kw_only=True)
    device: Device = field(default=Device.FENCE, kw_only=True)

    @property
    def operations(self) -> tuple[Operation, ...]:
        """The cuts."""
        return self.cuts


@dataclass(frozen=True, slots=True)
class Workpiece:
    """A piece of stock at the start; ``stock`` names the sheet (if ``bought``) or the offcut.

    ``trim``, ``edges`` and ``has_grain`` are those of the stock.
    """

    piece: str
    stock: str
    bought: bool
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    trim: Fraction
    edges: EdgeTrims[Fraction] | None = None
    has_grain: bool = True

    @property
    def trims(self) -> EdgeTrims[Fraction]:
        """What comes off each edge."""
        return EdgeTrims.of(self.trim) if self.edges is None else self.edges


@dataclass(frozen=True, slots=True)
class Purchase:
    """A line of the shopping list; ``price_each`` is None where the job gives no prices."""

    sheet: str
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    count: int
    price_each: Decimal | None
    cost: Decimal


@dataclass(frozen=True, slots=True)
class Panel:
    """A finished panel: ``copy`` counts from 1 within the part; the place is the piece's."""

    part: str
    copy: int
    piece: Piece
    turned: bool


@dataclass(frozen=True, slots=True)
class Leftover:
    """A piece left at the end that is no panel; ``keep`` says whether it is worth keeping."""

    piece: Piece
    material: str
    thickness: Fraction
    keep: bool


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Panels of a part that a partial plan leaves out."""

    part: str
    count: int


@dataclass(frozen=True, slots=True)
class Trade:
    """A plan found for the job: what it buys, its set-ups in the shop and the time they take.

    ``minutes`` counts the set-ups alone. ``is_chosen`` marks the one that is made.
    """

    sheets: int
    cost: Decimal
    setups: int
    is_chosen: bool
    minutes: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Totals:
    """The figures a plan is judged by; areas in square units of the job.

    ``setups`` counts what is set in the shop, ``setups_by_device`` the same by fence, stop and
    guide, ``store_setups`` what is set where sheets are bought. ``minutes`` is the time that
    set-ups and cuts in the shop take.
    """

    sheets: int
    cost: Decimal
    setups: int
    cuts: int
    parts: int
    part_area: Fraction
    sheet_area: Fraction
    kept_offcut_area: Fraction
    waste_percent: Fraction
    setups_by_device: tuple[tuple[Device, int], ...] = ()
    store_setups: int = 0
    minutes: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What is proven.

    No plan costs less than ``cost``. However these layouts are cut, it takes no fewer than
    ``setups``, and cut as the plan does, in any order, no fewer than ``order``.
    """

    cost: Decimal
    cost_proven: bool
    sheets: int
    setups: int
    setups_proven: bool
    order: int = 0


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole plan of a job; ``short`` is empty unless a partial plan was asked for."""

    job: Job
    buy: tuple[Purchase, ...]
    totals: Totals
    bounds: Bounds
    workpieces: tuple[Workpiece, ...]
    setups: tuple[Setup, ...]
    panels: tuple[Panel, ...]
    leftovers: tuple[Leftover, ...]
    #: One for each match of the job, in the job's order.
    matches: tuple[Matched, ...] = ()
    short: tuple[Shortfall, ...] = ()
    #: Cost against set-ups, cheapest first, each with fewer set-ups than the one before; empty
    #: where dearer plans were not looked for.
    trades: tuple[Trade, ...] = ()
    #: Of each workpiece, each piece that goes home and each panel whose density is known.
    weights: tuple[Weight, ...] = ()
    #: How all that is bought gets home; empty where the load is not limited, or not known.
    trips: tuple[Trip, ...] = ()

    @property
    def settings(self) -> tuple[SawSetup, ...]:
        """The set-ups of saws among all, the store's first."""
        return tuple(setup for setup in self.setups if isinstance(setup, SawSetup))

"""What is made: the finished plan, the same content as ``plan.json``.

All lengths are exact fractions in the job's unit, in the frame of the sheet that a piece comes
from: x along the sheet's length, y along its width, origin at one corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.edges import EdgeTrims

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


class Hazard(StrEnum):
    """Why a cut is not safe on the saw that makes it."""

    TOO_LONG = "cut longer than the saw makes"
    UNSTEADY = "piece longer across the fence than along it"
    TOO_SMALL = "piece too small for the saw"
    TOO_THIN = "strip too thin at the fence"


@dataclass(frozen=True, slots=True)
class Piece:
    """A named piece at its place on the sheet that it came from."""

    name: str
    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut, edge to edge: ``piece`` is divided into ``kept``, at the fence, and ``rest``."""

    number: int
    piece: str
    direction: Direction
    purpose: Purpose
    kept: Piece
    rest: Piece | None


@dataclass(frozen=True, slots=True)
class Setting:
    """One set-up of a tool and all cuts made with it, in order."""

    number: int
    place: Place
    tool: str
    distance: Fraction
    kerf: Fraction
    cuts: tuple[Cut, ...]


@dataclass(frozen=True, slots=True)
class CutFlag:
    """A cut, by its number, that none of the listed saws makes safely, and why not this one."""

    cut: int
    hazard: Hazard


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
    edges: EdgeTrims | None = None
    has_grain: bool = True

    @property
    def trims(self) -> EdgeTrims:
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
    """A plan found for the job: what it buys and its set-ups; ``is_chosen`` marks the one made."""

    sheets: int
    cost: Decimal
    setups: int
    is_chosen: bool


@dataclass(frozen=True, slots=True)
class Totals:
    """The figures a plan is judged by; areas in square units of the job."""

    sheets: int
    cost: Decimal
    setups: int
    cuts: int
    parts: int
    part_area: Fraction
    sheet_area: Fraction
    kept_offcut_area: Fraction
    waste_percent: Fraction


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
    """The whole plan of a job; ``short`` is empty unless a partial plan was asked for.

    ``flags`` tells the unsafe cuts of a job that lists its saws; a table saw alone, of which the
    job says no more than its kerf and reach, has none.
    """

    job: Job
    buy: tuple[Purchase, ...]
    totals: Totals
    bounds: Bounds
    workpieces: tuple[Workpiece, ...]
    settings: tuple[Setting, ...]
    panels: tuple[Panel, ...]
    leftovers: tuple[Leftover, ...]
    #: One for each match of the job, in the job's order.
    matches: tuple[Matched, ...] = ()
    short: tuple[Shortfall, ...] = ()
    flags: tuple[CutFlag, ...] = ()
    #: Cost against set-ups, cheapest first, each with fewer set-ups than the one before; empty
    #: where dearer plans were not looked for.
    trades: tuple[Trade, ...] = ()
    #: Of each workpiece, each piece that goes home and each panel whose density is known.
    weights: tuple[Weight, ...] = ()
    #: How all that is bought gets home; empty where the load is not limited, or not known.
    trips: tuple[Trip, ...] = ()

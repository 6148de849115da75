"""What the search for a break-down looks at: a purchase to try, and an answer."""

from __future__ import annotations

from dataclasses import dataclass, field

from cutlist.nesting.problem import Nesting, Problem
from cutlist.planning.blanks import BlankKind, BrokenSheet


@dataclass(frozen=True, slots=True)
class Broken:
    """What the search found.

    Parameters
    ----------
    sheets
        What is bought, and how it is broken down.
    kinds
        Their blanks; the problem's bins are these, then the offcuts on hand.
    problem
        The parts on blanks and offcuts.
    nesting
        The layouts; its cost is that of the sheets, without the store's cuts.
    """

    sheets: tuple[BrokenSheet, ...]
    kinds: tuple[BlankKind, ...]
    problem: Problem
    nesting: Nesting


@dataclass(slots=True)
class Purchase:
    """So many of each kind of sheet, the best way seen to break them down, and what falls short.

    ``short`` is the area of the panels that found no place, ``lacking`` their items, one entry for
    each; ``lost`` are items that fit no blank at all: nothing was packed then.
    """

    counts: tuple[int, ...]
    cost: int
    openings: list[tuple[BrokenSheet, ...]] = field(default_factory=list)
    mix: tuple[BrokenSheet, ...] = ()
    short: int | None = None
    lacking: tuple[int, ...] = ()
    lost: tuple[int, ...] = ()
    idle: int = 0

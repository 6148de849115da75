"""The offcut rack: what earlier jobs left over, and what a plan takes from it and adds to it.

A rack serves jobs in either unit, so all lengths here are exact millimetres. The grain of an
offcut runs along its length.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.edges import Edge, EdgeTrims

if TYPE_CHECKING:
    import datetime

    from cutlist.units.system import Units


class RackGrain(StrEnum):
    """Whether an offcut has a grain; it then runs along its length."""

    LENGTH = "length"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class RackOffcut:
    """One piece on the rack.

    Parameters
    ----------
    name
        What is pencilled on it; no other piece on the rack has the same.
    material, thickness, length, width
        As of a sheet, the lengths in millimetres.
    grain
        Whether it has one.
    trim
        What has to come off the edges that are not clean, in millimetres.
    edges
        Which edges are not clean: factory edges, or rough ones from a store's saw. With a trim
        at least one; the trim comes off these, and off no other.
    day
        When it came onto the rack.
    job
        The job that left it; empty where it was put there by hand.
    number
        By which the rack tells it from all others, also from former ones; 0 before it is there.
    """

    name: str
    material: str
    thickness: Fraction
    length: Fraction
    width: Fraction
    grain: RackGrain = RackGrain.LENGTH
    trim: Fraction = Fraction(0)
    edges: tuple[Edge, ...] = ()
    day: datetime.date | None = None
    job: str = ""
    number: int = 0

    @property
    def trims(self) -> EdgeTrims[Fraction]:
        """What comes off each edge."""
        return EdgeTrims(*(self.trim if edge in self.edges else Fraction(0) for edge in Edge))


@dataclass(frozen=True, slots=True)
class Rack:
    """What is on a rack at one moment.

    ``file`` is its path, ``units`` what its lengths are shown in and a bare number stands for;
    ``state`` is a text that differs after every change; ``offcuts`` stand in the order in which
    they came.
    """

    file: str
    units: Units
    state: str
    offcuts: tuple[RackOffcut, ...] = ()


@dataclass(frozen=True, slots=True)
class Leaving:
    """A piece on the rack that a plan cuts up, by its number there."""

    number: int
    name: str


@dataclass(frozen=True, slots=True)
class Booking:
    """What a finished plan does to the rack.

    Parameters
    ----------
    plan
        The digest that tells this plan from every other, and from the same one made after the rack
        had changed.
    job
        The job's name.
    sha256
        The digest of the job file's bytes.
    leaving
        Pieces on the rack that are cut up.
    entering
        Pieces that come onto it; they are named by their piece in the plan until they are there.
    """

    plan: str
    job: str
    sha256: str
    leaving: tuple[Leaving, ...]
    entering: tuple[RackOffcut, ...]

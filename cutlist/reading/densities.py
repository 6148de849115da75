"""What boards weigh by volume, guessed from the name of their material.

A name is taken apart into words, and each kind below asks for some of them: ``birch ply``,
``Baltic birch plywood`` and ``PLY, birch`` are all birch plywood. Where no kind fits, where two
do, or where a word says that the board is out of the ordinary, there is no guess.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.errors import FaultCode
from cutlist.model.weights import Density
from cutlist.reading.fields import DENSITIES
from cutlist.units.lengths import format_size
from cutlist.units.masses import cubic_metres

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from cutlist.model.job import Offcut, Sheet
    from cutlist.reading.drafts import StockDraft
    from cutlist.reading.faults import Faults
    from cutlist.units.system import Units


@dataclass(frozen=True, slots=True)
class BoardKind:
    """A kind of board.

    Parameters
    ----------
    name
        What documents call it.
    words
        One word of each set has to stand in the material's name.
    kg_per_m3
        Density that is reckoned with.
    low, high
        What the sources give for boards of the kind, in kg/m³.
    is_surface
        Whether the name tells the surface alone: it gives way to a kind that tells the core.
    """

    name: str
    words: tuple[frozenset[str], ...]
    kg_per_m3: int
    low: int
    high: int
    is_surface: bool = False


def _either(words: str) -> frozenset[str]:
    return frozenset(words.split())


_PLY: Final = _either("ply plywood")

KINDS: Final = (
    # 769, between 673 and 833: Cai, Muehl, Winandy (USDA Forest Products Laboratory), Effects of
    # panel density and mat moisture content on processing medium density fiberboard, abstract.
    BoardKind("MDF", (_either("mdf"),), 769, 673, 833),
    # At least 800 for HDF, at least 900 for hardboard: EN 316; from memory, as are the upper ends.
    BoardKind("HDF", (_either("hdf"),), 850, 800, 900),
    BoardKind("hardboard", (_either("hardboard"),), 950, 900, 1050),
    # 650 at 18 mm, from 700 at 10 mm to 600 at 38 mm: a maker's technical data to EN 312, type P2.
    BoardKind(
        "particleboard",
        (_either("particleboard chipboard particle chip"),),
        650,
        600,
        700,
    ),
    BoardKind("particleboard", (_either("melamine"),), 650, 600, 700, is_surface=True),
    # 685 at 18 mm, from 670 to 710 by thickness: a merchant's data sheet for birch plywood.
    BoardKind("birch plywood", (_either("birch"), _PLY), 685, 670, 710),
    # 60 to 61 lb for 3/4 in and 40.6 lb for 1/2 in, 48 x 96 in (trade charts) is 30.5 lb/ft3; the
    # rule of 3 lb/ft2 for each inch, 577, is the upper end, 15 % below the charts the lower one.
    BoardKind(
        "softwood plywood",
        (_either("softwood pine spruce fir sheathing cdx"), _PLY),
        488,
        415,
        577,
    ),
    # 2.3 lb/ft2 for 3/4 in and 45 lb for 1/2 in, 48 x 96 in (trade pages): 589 and 541; the heavier
    # one, since it is lifted. Such pages differ by 15 % between grades.
    BoardKind(
        "hardwood plywood",
        (_either("hardwood oak maple walnut cherry ash beech"), _PLY),
        589,
        500,
        678,
    ),
    # Specific gravities of 0.51 to 0.80: USDA Wood Handbook (FPL-GTR-190, 2010), table 12-3.
    BoardKind("OSB", (_either("osb"),), 655, 510, 800),
)
"""Kinds of board, each with the source of its density."""

#: Boards of these makes weigh less, or otherwise, than their kind.
_UNUSUAL: Final = _either("light lite lightweight ultralight bendy flexible foam honeycomb")


def kind_of(material: str) -> BoardKind | None:
    """Guess what kind of board a material is from the words in its name; None for no guess."""
    words = set(re.findall(r"[^\W\d_]+", material.casefold()))
    if words & _UNUSUAL:
        return None
    found = [kind for kind in KINDS if all(words & group for group in kind.words)]
    cores = [kind for kind in found if not kind.is_surface] or found
    return cores[0] if len({kind.name for kind in cores}) == 1 else None


def given_density(stock: StockDraft, units: Units) -> Density | None:
    """Give the density that the job says, or that follows from the weight of a whole sheet."""
    if stock.density.value is not None:
        return Density(stock.density.value)
    volume = _volume(stock, units)
    if stock.weight.value is None or volume is None:
        return None
    return Density(stock.weight.value / volume)


def _volume(stock: StockDraft, units: Units) -> Fraction | None:
    if stock.size.value is None or stock.thickness.value is None:
        return None
    return cubic_metres(*stock.size.value, stock.thickness.value, units)


def check_weight(stock: StockDraft, units: Units, faults: Faults) -> None:
    """Check that a weight stands by itself, and is one that a board of this size can have."""
    spot, weight = stock.weight.spot, stock.weight.value
    if stock.weight.given and stock.density.given:
        message = "the density is given as well"
        faults.at(spot, FaultCode.CONTRADICTION, message, "one of the two")
        return
    volume = _volume(stock, units)
    if weight is None or volume is None or stock.size.value is None:
        return
    low, high = (bound * volume for bound in DENSITIES)
    if not low <= weight <= high:
        size = format_size(*stock.size.value, units)
        message = f"no board of {size} and this thickness weighs that; is the unit right?"
        accepted = f"between {_rough(low)} and {_rough(high)} kg, for one whole piece"
        faults.at(spot, FaultCode.UNIT_DOUBT, message, accepted)


def _rough(kg: Fraction) -> str:
    return f"{float(kg):.2g}" if kg < 10 else f"{float(kg):.0f}"


def with_densities(
    sheets: Iterable[Sheet], offcuts: Iterable[Offcut]
) -> tuple[tuple[Sheet, ...], tuple[Offcut, ...]]:
    """Complete the densities of a job's stock.

    Stock without one of its own takes that of the first stock of its material and thickness for
    which the job gives one, else what its name says.
    """
    sheets, offcuts = tuple(sheets), tuple(offcuts)
    told: dict[tuple[str, Fraction], Density] = {}
    every: Sequence[Sheet | Offcut] = (*sheets, *offcuts)
    for stock in every:
        if stock.density is not None:
            told.setdefault((stock.material, stock.thickness), stock.density)

    def of(stock: Sheet | Offcut) -> Density | None:
        known = stock.density or told.get((stock.material, stock.thickness))
        kind = kind_of(stock.material)
        if known is None and kind is not None:
            return Density(Fraction(kind.kg_per_m3), kind.name)
        return known

    return (
        tuple(replace(sheet, density=of(sheet)) for sheet in sheets),
        tuple(replace(offcut, density=of(offcut)) for offcut in offcuts),
    )

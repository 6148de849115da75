"""Pieces for the tests of the rack, in few words."""

from __future__ import annotations

import datetime
from fractions import Fraction
from pathlib import Path

from cutlist.model.edges import Edge
from cutlist.model.rack import RackGrain, RackOffcut
from cutlist.rack import make_rack, read_rack
from cutlist.units.system import Units

DAY = datetime.date(2026, 2, 3)


def piece(
    name: str = "",
    size: tuple[int | Fraction, int | Fraction] = (1000, 500),
    material: str = "birch ply",
    trim: int | Fraction = 0,
    edges: tuple[Edge, ...] | None = None,
    grain: RackGrain = RackGrain.LENGTH,
) -> RackOffcut:
    """Return a piece 18 mm thick, its lengths in mm; with a trim, all edges if none is named."""
    marked = (tuple(Edge) if trim else ()) if edges is None else edges
    length, width = map(Fraction, size)
    thickness = Fraction(18)
    return RackOffcut(
        name, material, thickness, length, width, grain, Fraction(trim), marked, DAY, ""
    )


def empty(folder: Path, units: Units = Units.MM) -> Path:
    """Make an empty rack and return its path."""
    path = folder / "rack.db"
    make_rack(path, units)
    return path


def names(path: Path) -> list[str]:
    """Return the names on a rack, in order."""
    return [one.name for one in read_rack(path).offcuts]

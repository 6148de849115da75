"""How a piece on the rack is described, in the rack's unit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.edges import Edge
from cutlist.model.rack import RackGrain
from cutlist.units.lengths import convert, format_length, format_size, format_thickness
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.model.rack import RackOffcut

__all__ = ["edges_words", "grain_words", "rack_material", "rack_size"]


def rack_size(piece: RackOffcut, units: Units) -> str:
    """Say how large a piece is, the size along the grain first."""
    length, width = (convert(side, Units.MM, units) for side in (piece.length, piece.width))
    return format_size(length, width, units)


def rack_material(piece: RackOffcut, units: Units) -> str:
    """Say what a piece is of, and how thick."""
    return f"{piece.material} {format_thickness(convert(piece.thickness, Units.MM, units), units)}"


def edges_words(piece: RackOffcut, units: Units) -> str:
    """Say what has to come off which edges of a piece; nothing where all are clean."""
    if not piece.trim:
        return ""
    which = "all edges" if len(piece.edges) == len(Edge) else ", ".join(piece.edges)
    return f"{format_length(convert(piece.trim, Units.MM, units), units)}: {which}"


def grain_words(piece: RackOffcut) -> str:
    """Say that a piece has no grain, where it has none."""
    return "no grain" if piece.grain is RackGrain.NONE else ""

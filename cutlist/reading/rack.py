"""The offcut rack as a job reads it: the pieces on it that serve the job."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.errors import FaultCode, RackFileError
from cutlist.rack import read_rack
from cutlist.rack.text import exact_text
from cutlist.reading.fields import RefusedError
from cutlist.reading.keys import OFFCUT
from cutlist.reading.nodes import Scalar, Table
from cutlist.reading.section import Section
from cutlist.units.lengths import convert
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from fractions import Fraction

    from cutlist.model.rack import Rack, RackOffcut
    from cutlist.reading.drafts import PartDraft, StockDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.nodes import Node
    from cutlist.reading.places import Spot

__all__ = ["rack_at", "rack_sections"]


def rack_at(folder: Path) -> Callable[[str], Rack]:
    """Give the reader of a rack's path, which starts at the job file's folder.

    It raises `RefusedError` where there is no rack, and `RackError` where it cannot be read now.
    """

    def read(text: str) -> Rack:
        try:
            return read_rack(folder / text)
        except RackFileError as error:
            accepted = "a list of offcuts, or the path of a rack"
            raise RefusedError(str(error), accepted, FaultCode.UNKNOWN_NAME) from None

    return read


def rack_sections(
    rack: Rack,
    spot: Spot,
    sheets: Sequence[StockDraft],
    parts: Sequence[PartDraft],
    units: Units,
    faults: Faults,
) -> Iterator[Section]:
    """Give the pieces of a rack that serve a job as entries of its ``offcuts``.

    Of a material that the job has sheets of, these are the pieces as thick as one of the sheets, or
    as a part says; of one that only the rack has, all. All stand at ``spot``.
    """
    wanted = {part.material.value for part in parts}
    known = {sheet.material.value for sheet in sheets}
    kinds = {(sheet.material.value, sheet.thickness.value) for sheet in sheets}
    kinds |= {(part.material.value, part.thickness.value) for part in parts}
    for piece in rack.offcuts:
        thickness = convert(piece.thickness, Units.MM, units)
        serves = (piece.material, thickness) in kinds or piece.material not in known
        if piece.material in wanted and serves and _leaves_something(piece):
            yield _section(piece, spot, units, faults)


def _leaves_something(piece: RackOffcut) -> bool:
    return min(piece.trims.inside(piece.length, piece.width)) > 0


def _section(piece: RackOffcut, spot: Spot, units: Units, faults: Faults) -> Section:
    def text(length: Fraction) -> str:
        return exact_text(length, units)

    values = {
        "name": piece.name,
        "material": piece.material,
        "thickness": text(piece.thickness),
        "size": f"{text(piece.length)} x {text(piece.width)}",
        "grain": piece.grain.value,
    }

    def scalar(word: str) -> Scalar:
        return Scalar(spot.mark, word, plain=False)

    trims = tuple((scalar(edge), scalar(text(piece.trim))) for edge in piece.edges)
    pairs: list[tuple[Node, Node]] = [(scalar(key), scalar(value)) for key, value in values.items()]
    pairs.append((scalar("trim"), Table(spot.mark, trims)))
    return Section(Table(spot.mark, tuple(pairs)), f"{spot.path}: {piece.name}", OFFCUT, faults)

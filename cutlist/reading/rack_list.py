"""Pieces for the offcut rack as somebody types them: in a list, or one by one."""

from __future__ import annotations

import csv
import datetime
import io
import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Final, TypeVar

from cutlist.errors import FaultCode, JobFileError, LengthError
from cutlist.model.edges import Edge
from cutlist.model.job import Grain
from cutlist.model.rack import RackGrain, RackOffcut
from cutlist.rack.text import COLUMNS
from cutlist.reading import fields
from cutlist.reading.faults import Faults, did_you_mean, one_of
from cutlist.reading.fields import RefusedError, code_of
from cutlist.reading.nodes import load_bytes
from cutlist.reading.places import Mark
from cutlist.units.lengths import convert, format_length, format_size
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

__all__ = ["offcut_from", "read_rack_list"]

T = TypeVar("T")

_NEEDED: Final = ("material", "thickness", "size")
#: How the rack writes what is finer than people write: see `cutlist.rack.text.exact_text`.
_FINE: Final = re.compile(r"(\d{1,60})/([1-9]\d{0,59}) mm", re.ASCII)
#: As in a job file.
_MAX_THICKNESS_MM: Final = Fraction(1016, 10)
_GRAINS: Final = (*(grain.value for grain in RackGrain), Grain.WIDTH.value)


def read_rack_list(path: Path, units: Units) -> tuple[RackOffcut, ...]:
    """Read a list of pieces, as :func:`cutlist.rack.text.list_text` writes it.

    Columns may stand in any order, and all but material, thickness and size may be left out.

    Raises
    ------
    JobFileError
        With every fault of the list, by line.
    """
    faults = Faults()
    try:
        text = load_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError:
        message, accepted = "the file is not UTF-8 text", "a file saved as UTF-8"
        faults.add(FaultCode.FILE, Mark(0, 0), "", "", message, accepted)
        raise JobFileError(str(path), faults.in_order()) from None
    out = []
    try:
        reader = csv.reader(io.StringIO(text, newline=""), strict=True)
        head = [cell.strip().casefold() for cell in next(reader, [])]
        _check_head(head, faults)
        if not faults:
            for row in reader:
                piece = _row(row, head, Mark(reader.line_num, 1), units, faults)
                out += [] if piece is None else [piece]
    except csv.Error as error:
        message = f"this is not comma-separated text: {error}"
        mark, accepted = Mark(reader.line_num, 1), "a cell with a comma in quotes"
        faults.add(FaultCode.SYNTAX, mark, "", "", message, accepted)
    if faults:
        raise JobFileError(str(path), faults.in_order())
    return tuple(out)


def _check_head(head: list[str], faults: Faults) -> None:
    for column in head:
        if column not in COLUMNS:
            message = f"there is no column {column!r} here"
            hint = did_you_mean(column, COLUMNS, one_of(COLUMNS))
            faults.add(FaultCode.UNKNOWN_KEY, Mark(1, 1), "", column, message, hint)
        elif head.count(column) > 1:
            message, accepted = "this column stands here twice", "each column once"
            faults.add(FaultCode.REPEATED_KEY, Mark(1, 1), "", column, message, accepted)
    for column in _NEEDED:
        if column not in head:
            message = f"the column {column} is missing"
            accepted = f"a head: {','.join(COLUMNS)}"
            faults.add(FaultCode.MISSING_KEY, Mark(1, 1), "", "", message, accepted)


def _row(
    row: list[str], head: list[str], mark: Mark, units: Units, faults: Faults
) -> RackOffcut | None:
    if not any(cell.strip() for cell in row):
        return None
    if len(row) != len(head):
        message = f"this line has {len(row)} cells, the head has {len(head)}"
        accepted = "as many cells; one with a comma in quotes"
        faults.add(FaultCode.WRONG_SHAPE, mark, "", ",".join(row), message, accepted)
        return None
    return _offcut(dict(zip(head, row, strict=True)), units, mark, faults)


def offcut_from(cells: Mapping[str, str], units: Units, source: str) -> RackOffcut:
    """Make a piece from the text of its columns.

    Raises
    ------
    JobFileError
        With every fault, as of the file ``source``.
    """
    faults = Faults()
    piece = _offcut(cells, units, Mark(0, 0), faults)
    if piece is None:
        raise JobFileError(source, faults.in_order())
    return piece


def _offcut(
    cells: Mapping[str, str], units: Units, mark: Mark, faults: Faults
) -> RackOffcut | None:
    before = len(faults)

    def read(column: str, how: Callable[[str], T], default: T | None = None) -> T | None:
        text = cells.get(column, "").strip()
        if not text and column not in _NEEDED:
            return default
        try:
            return how(text)
        except (RefusedError, LengthError) as error:
            faults.add(code_of(error), mark, column, text, error.problem, error.accepted)
        return default

    piece = RackOffcut(
        name=read("name", fields.name, "") or "",
        material=read("material", fields.name) or "",
        thickness=read("thickness", _length(units)) or Fraction(0),
        length=Fraction(0),
        width=Fraction(0),
        trim=read("trim", _length(units), Fraction(0)) or Fraction(0),
        edges=read("edges", _edges, ()) or (),
        day=read("date", _day),
        job=read("job", fields.name, "") or "",
    )
    size = read("size", _size(units))
    grain = read("grain", _grain, RackGrain.LENGTH.value)
    if not piece.thickness and len(faults) == before:
        message, accepted = "this must be more than 0", "a length above 0"
        faults.add(FaultCode.OUT_OF_RANGE, mark, "thickness", "0", message, accepted)
    if piece.thickness > _MAX_THICKNESS_MM:
        most = format_length(convert(_MAX_THICKNESS_MM, Units.MM, units), units)
        message = "this is too much for sheet goods; is the unit right?"
        found = cells["thickness"]
        faults.add(FaultCode.UNIT_DOUBT, mark, "thickness", found, message, f"at most {most}")
    edges = piece.edges or (tuple(Edge) if piece.trim else ())
    if size is not None and min(replace(piece, edges=edges).trims.inside(*size)) <= 0:
        length, width = (convert(side, Units.MM, units) for side in size)
        shown = format_size(length, width, units)
        message = f"the trim leaves nothing of {shown}"
        accepted = "the width taken off one edge"
        faults.add(FaultCode.TRIM, mark, "trim", cells["trim"], message, accepted)
    if piece.edges and not piece.trim:
        message = "edges are named, but not what has to come off them"
        found = cells["edges"]
        faults.add(FaultCode.CONTRADICTION, mark, "edges", found, message, "a trim as well")
    if size is None or len(faults) > before:
        return None
    if grain == Grain.WIDTH.value:
        # On the rack the grain runs along the length: the piece is turned.
        size, edges = size[::-1], tuple(e for e in Edge if _TURNED[e] in edges)
    return replace(
        piece,
        length=size[0],
        width=size[1],
        edges=edges,
        grain=RackGrain.NONE if grain == RackGrain.NONE.value else RackGrain.LENGTH,
    )


#: For each edge of a turned piece the one that it was before.
_TURNED: Final = {
    Edge.LEFT: Edge.UPPER,
    Edge.UPPER: Edge.RIGHT,
    Edge.RIGHT: Edge.LOWER,
    Edge.LOWER: Edge.LEFT,
}


def _length(units: Units) -> Callable[[str], Fraction]:
    def read(text: str) -> Fraction:
        fine = _FINE.fullmatch(text)
        if fine is not None:
            return Fraction(int(fine[1]), int(fine[2]))
        return convert(fields.length(units)(text), units, Units.MM)

    return read


def _size(units: Units) -> Callable[[str], tuple[Fraction, Fraction]]:
    def read(text: str) -> tuple[Fraction, Fraction]:
        sides = text.split(" x ")
        if len(sides) == 2 and any(_FINE.fullmatch(side) for side in sides):
            length, width = (_length(units)(side) for side in sides)
        else:
            length, width = (convert(side, units, Units.MM) for side in fields.size(units)(text))
        return length, width

    return read


def _edges(text: str) -> tuple[Edge, ...]:
    words = text.casefold().split()
    known = [edge.value for edge in Edge]
    for word in words:
        if word not in known:
            raise RefusedError(f"this is none of {', '.join(known)}", "one or more of these")
    return tuple(edge for edge in Edge if edge.value in words)


def _grain(text: str) -> str:
    if text.casefold() not in _GRAINS:
        hint = did_you_mean(text, _GRAINS, " | ".join(_GRAINS))
        raise RefusedError(f"this is none of {', '.join(_GRAINS)}", hint)
    return text.casefold()


def _day(text: str) -> datetime.date:
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            raise ValueError
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise RefusedError("this is not a day", "a day such as 2026-01-02") from None

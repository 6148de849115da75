"""What a sketch shows: a sheet or a piece with what lies on it, the cuts, and their words.

A sketch is a plain description in the frame of the sheet; :func:`~cutlist.drawing.sheets.draw.draw`
puts it on paper, in the view that it is given.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.primitives import Role
from cutlist.drawing.sheets.lettering import SHORT, Form, Span

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from cutlist.drawing.sheets.looks import Look
    from cutlist.model.edges import Edge
    from cutlist.model.plan import Piece

__all__ = ["CutMark", "Label", "Named", "Shape", "Sketch", "Use"]


class Use(Enum):
    """What a piece is, as it is drawn."""

    PANEL = auto()
    COMES_OFF = auto()
    KEPT = auto()
    WASTE = auto()
    #: Nothing but its lettering is drawn.
    BLANK = auto()


@dataclass(frozen=True, slots=True)
class Label:
    """What is written on a piece: its name, bold, and what else there is to say of it.

    Where there is no room for all, the ``number`` that the page explains stands for it, with
    ``beside`` if that fits; or the name alone if it ``may_shorten``; or a leader to the number.

    Parameters
    ----------
    subject
        What the number stands for: pieces that share it share their number.
    size_pt
        Lettering of the details where it is not that of the name.
    is_bold
        Whether the name stands out.
    """

    name: str
    details: tuple[str, ...] = ()
    subject: str = ""
    beside: str = ""
    may_shorten: bool = False
    size_pt: float | None = None
    is_bold: bool = True

    def forms(self) -> tuple[Form, ...]:
        """Give the ways to set it, the best first."""
        return tuple(self._forms())

    def numbered(self, number: str) -> Label:
        """Give the label that stands for this one where there is no room for it."""
        return Label(number, (self.beside,) if self.beside else (), may_shorten=True)

    def _forms(self) -> Iterator[Form]:
        if self.size_pt is not None:
            yield from self._in_two_sizes(self.size_pt)
            return
        name = Span(self.name, self.is_bold, wraps=self.is_bold)
        rows = tuple((Span(words),) for words in self.details)
        yield Form(((name,), *rows))
        if len(rows) > 1:
            yield Form(((name,), (Span("  ".join(self.details)),)), 1.0)
        if rows:
            yield Form(((Span("  ".join((self.name, *self.details))),),), float(len(rows)))
        if rows and self.may_shorten:
            yield Form(((name,),), SHORT)

    def _in_two_sizes(self, size_pt: float) -> Iterator[Form]:
        """Give the forms of a large name with a size beside or below it, maybe broken at the ×."""
        title = Span(self.name, bold=True)
        (size,) = self.details
        yield Form(((title,), (Span(size, size_pt=size_pt),)))
        first, cross, second = size.partition("× ")
        if cross:
            broken = (f"{first}×", second)
            yield Form(((title,), *((Span(one, size_pt=size_pt),) for one in broken)), 0.1)
        beside = (title, Span(size, size_pt=size_pt))
        yield Form((beside,), 0.2)
        if self.may_shorten:
            yield Form(((title,),), SHORT)
            yield Form((beside,), 2 * SHORT, covers=True)
            yield Form(((title,),), 2 * SHORT + 0.1, covers=True)


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece that lies on the sheet, and its lettering.

    ``has_arrow`` draws an arrow along its length where it can be lettered beside it.
    """

    piece: Piece
    use: Use
    label: Label | None = None
    has_arrow: bool = False


@dataclass(frozen=True, slots=True)
class CutMark:
    """The blade's way across the sheet.

    Parameters
    ----------
    is_rip
        A rip runs along x, any other along y.
    middle, start, end
        The centre of the kerf across the cut, and where it begins and ends along it.
    words
        The number on the line, its fullest form first; none for a line without one.
    measured
        A piece across which an arrow is drawn, and what stands on it.
    """

    is_rip: bool
    middle: Fraction
    start: Fraction
    end: Fraction
    width_mm: float = theme.WIDE
    dash_mm: tuple[float, ...] = ()
    words: tuple[str, ...] = ()
    measured: tuple[Piece, str] | None = None
    role: Role = Role.CUT_LINE


@dataclass(frozen=True, slots=True)
class Named:
    """A framed name inside an edge of a piece that is divided further."""

    piece: Piece
    name: str


@dataclass(frozen=True, slots=True)
class Sketch:
    """A sheet or a piece, and all that is shown of it.

    Parameters
    ----------
    length, width
        Of the outline, in the job's unit.
    look
        How all of it is drawn and lettered.
    edges
        What comes off the edges that are to be cleaned.
    bar
        The edge that bears on a fence or a stop.
    sides
        The figures of its length and its width; None for a sketch without dimensions.
    """

    length: Fraction
    width: Fraction
    look: Look
    shapes: tuple[Shape, ...] = ()
    cuts: tuple[CutMark, ...] = ()
    names: tuple[Named, ...] = ()
    edges: tuple[tuple[Edge, Fraction], ...] = ()
    bar: Edge | None = None
    sides: tuple[str, str] | None = None
    role: Role = Role.SHEET

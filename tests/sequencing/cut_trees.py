"""All ways to take layouts apart, and the fewest settings among them, by exhaustive search.

A piece that holds several children of a strip, and perhaps the strip's waste, may be split between
any two groups of them; either side may be the one at the fence, and the distance is that side's
size. This is far more than the program's own trees, which peel one child at a time.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from hypothesis import strategies as st

from cutlist.model.layout import Axis, Cell, Layout, Strip


@dataclass(frozen=True, slots=True)
class Piece:
    """Children of one strip that are still together, and the slack that is still with them."""

    kerf: int
    children: tuple[tuple[int, Piece | None], ...]  # size along the strip's axis; None: a panel
    slack: int

    @property
    def size(self) -> int:
        """Return the size along the strip's axis."""
        spent = sum(size for size, _ in self.children) + self.kerf * (len(self.children) - 1)
        return spent + self.slack


def piece_of(tree: Strip | Cell, kerf: int) -> Piece | None:
    """Return the piece that a tree divides; None where nothing is left to cut."""
    if isinstance(tree, Cell):
        return None
    sizes = [child.length if tree.axis is Axis.X else child.width for child in tree.children]
    spent = sum(sizes) + kerf * (len(sizes) - 1)
    pieces = [piece_of(child, kerf) for child in tree.children]
    children = tuple(sorted(zip(sizes, pieces, strict=True), key=repr))
    return _whole(
        Piece(kerf, children, (tree.length if tree.axis is Axis.X else tree.width) - spent)
    )


def _whole(piece: Piece) -> Piece | None:
    """Return the only child itself once nothing else is left of the piece."""
    if len(piece.children) == 1 and piece.slack == 0:
        return piece.children[0][1]
    return piece if piece.children else None


@lru_cache(maxsize=500_000)
def splits(piece: Piece) -> frozenset[tuple[int, frozenset[Piece]]]:
    """Return every way to cut a piece once: the distance, and the pieces still to be cut."""
    found = set()
    number = len(piece.children)
    for chosen in range(1 << number):
        kept = tuple(c for i, c in enumerate(piece.children) if chosen >> i & 1)
        others = tuple(c for i, c in enumerate(piece.children) if not chosen >> i & 1)
        for with_waste in (False, True) if piece.slack else (False,):
            waste = piece.slack if with_waste else 0
            left = piece.slack - waste
            if not kept:
                # The waste alone is the side at the fence: its own size is the slack less a kerf.
                distance = piece.slack - piece.kerf
                if not with_waste or distance <= 0:
                    continue
                after = {_whole(Piece(piece.kerf, others, 0))}
            else:
                if not others and not left:
                    continue
                distance = Piece(piece.kerf, kept, waste).size
                after = {_whole(Piece(piece.kerf, kept, waste))}
                after.add(_whole(Piece(piece.kerf, others, left)) if others else None)
            found.add((distance, frozenset(p for p in after if p is not None)))
    return frozenset(found)


@lru_cache(maxsize=500_000)
def outcomes(piece: Piece, distance: int) -> frozenset[frozenset[Piece]]:
    """Return what may be left of a piece after any number of cuts at one distance."""
    found = {frozenset((piece,))}
    for size, after in splits(piece):
        if size == distance:
            for choice in product(*(outcomes(p, distance) for p in after)):
                found.add(frozenset().union(*choice))
    return frozenset(x for x in found if not any(other < x for other in found))


def distances(pieces: frozenset[Piece]) -> set[int]:
    """Return every distance at which one of the pieces can be cut now."""
    return {size for piece in pieces for size, _ in splits(piece)}


def can_finish(pieces: frozenset[Piece], settings: int, reach: int | None) -> bool:
    """Whether some way to take the pieces apart needs at most so many settings."""
    seen: dict[frozenset[Piece], int] = {}

    def search(bench: frozenset[Piece], left: int) -> bool:
        if not bench:
            return True
        if left == 0 or seen.get(bench, -1) >= left:
            return False
        seen[bench] = left
        for distance in sorted(distances(bench)):
            if reach is not None and distance > reach:
                continue
            choices = [outcomes(piece, distance) for piece in bench]
            if left == 1:
                if all(frozenset() in choice for choice in choices):
                    return True
                continue
            for choice in product(*choices):
                after: frozenset[Piece] = frozenset().union(*choice)
                if after != bench and search(after, left - 1):
                    return True
        return False

    return search(pieces, settings)


def fewest(layouts: list[Layout], kerf: int, reach: int | None, most: int) -> int:
    """Return the fewest settings over all cut trees and orders, looked for up to ``most``."""
    pieces = [piece_of(layout.root, kerf) for layout in layouts]
    bench = frozenset(piece for piece in pieces if piece is not None)
    return next(n for n in range(most + 1) if n == most or can_finish(bench, n, reach))


@st.composite
def layouts(draw: st.DrawFn, *, kerf: int, sizes: tuple[int, ...], panels: int) -> list[Layout]:
    """Draw one to three layouts of one or two levels, sizes from a few so that they coincide."""
    drawn: list[Layout] = []
    size = st.sampled_from(sizes)
    slacks = st.sampled_from((0, 0, 1, kerf, *(s + kerf for s in sizes)))
    while panels > 0 and len(drawn) < 3:
        axis = draw(st.sampled_from(tuple(Axis)))
        other = Axis.Y if axis is Axis.X else Axis.X
        number = draw(st.integers(1, min(6, panels)))
        rows: list[list[int]] = []
        for _ in range(number):
            spare = panels - number - sum(len(row) - 1 for row in rows)
            rows.append([draw(size) for _ in range(draw(st.integers(1, 1 + min(3, spare))))])
        panels -= sum(len(row) for row in rows)
        across = max(sum(row) + kerf * (len(row) - 1) for row in rows) + draw(slacks)
        children: list[Strip | Cell] = []
        for row in rows:
            along = draw(size)
            if row == [across]:
                children.append(_cell(axis, along, across))
            else:
                cells = tuple(_cell(axis, along, cell) for cell in row)
                children.append(_strip(other, along, across, cells, axis))
        total = sum(c.length if axis is Axis.X else c.width for c in children)
        total += kerf * (number - 1) + draw(slacks)
        root = _strip(axis, total, across, tuple(children), axis)
        drawn.append(Layout(0, root))
        if draw(st.booleans()):
            break
    return drawn


def _cell(axis: Axis, along: int, across: int) -> Cell:
    return Cell(0, along, across) if axis is Axis.X else Cell(0, across, along)


def _strip(
    divided: Axis, along: int, across: int, children: tuple[Strip | Cell, ...], axis: Axis
) -> Strip:
    length, width = (along, across) if axis is Axis.X else (across, along)
    return Strip(divided, length, width, children)


@st.composite
def deep_layouts(
    draw: st.DrawFn,
    *,
    kerf: int,
    sizes: tuple[int, ...],
    stock: tuple[int, int] = (4, 20),
    panels: int = 9,
) -> list[Layout]:
    """Draw one or two layouts of up to four levels, where equal strips may lie in one another.

    ``stock`` are the least and the largest side of a sheet; there are at most so many ``panels``.
    """
    drawn = []
    left = panels
    for _ in range(draw(st.integers(1, 2))):
        length, width = draw(st.integers(*stock)), draw(st.integers(*stock))
        axis = draw(st.sampled_from(tuple(Axis)))
        tree, left = draw(_nested(length, width, axis, 4, kerf, sizes, left))
        if isinstance(tree, Strip):
            drawn.append(Layout(0, tree))
    return drawn


@st.composite
def _nested(
    draw: st.DrawFn,
    length: int,
    width: int,
    axis: Axis,
    depth: int,
    kerf: int,
    sizes: tuple[int, ...],
    panels: int,
) -> tuple[Strip | Cell, int]:
    """Draw a tree divided along an axis; give it with the number of panels still to spend."""
    room = length if axis is Axis.X else width
    chosen: list[int] = []
    while depth and len(chosen) < min(4, panels):
        size = draw(st.sampled_from(sizes))
        if size > room:
            break
        chosen.append(size)
        room -= size + kerf
        if room <= 0 or draw(st.integers(0, 3)) == 0:
            break
    if not chosen or (depth < 3 and draw(st.booleans())):
        return Cell(0, length, width), panels - 1
    other = Axis.Y if axis is Axis.X else Axis.X
    children = []
    panels -= len(chosen)
    for size in chosen:
        sides = (size, width) if axis is Axis.X else (length, size)
        child, panels = draw(_nested(*sides, other, depth - 1, kerf, sizes, panels + 1))
        children.append(child)
    return Strip(axis, length, width, tuple(children)), panels

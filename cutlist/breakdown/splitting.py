"""Patterns for a sheet: so that every blank goes in, with few cuts, at places that suit the parts.

A cut is best made where the blank that it leaves holds some parts side by side and nothing more
(the normal patterns of Herz 1972, https://doi.org/10.1147/rd.165.0462, and Christofides and
Whitlock 1977, https://doi.org/10.1287/opre.25.1.30, with kerf and trims added).
"""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Literal

import numpy as np

from cutlist.breakdown.fewest_cuts import FewestCuts
from cutlist.breakdown.parameters import USUAL_BREAKDOWN, SplittingParameters
from cutlist.breakdown.patterns import (
    Blank,
    Pattern,
    Split,
    StoreLimits,
    blanks_of,
    count_of,
)
from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.problem import Item
from cutlist.sequencing.strips import extent

if TYPE_CHECKING:
    from numpy.typing import NDArray

#: A pattern, or False where there is none.
Try = Split | None | Literal[False]


class Splitter:
    """Makes patterns for one size of sheet.

    Parameters
    ----------
    sheet
        The whole sheet.
    limits
        The store's saw and the vehicle.
    items
        The parts.
    kerf
        Of the blade that cuts the parts.
    least_off
        What goes at least off a rough edge of a blank that is too large for the fence; left out,
        no more than the store's accuracy.
    parameters
        What it is tuned by.
    """

    def __init__(
        self,
        sheet: Blank,
        limits: StoreLimits,
        items: Sequence[Item],
        kerf: int,
        *,
        least_off: int = 0,
        parameters: SplittingParameters = USUAL_BREAKDOWN.splitting,
    ) -> None:
        self._parameters = parameters
        self.sheet = sheet
        # What goes off an edge that the store cuts, and at least off any other rough one.
        far = (max(limits.accuracy, least_off) if limits.accuracy else 0, least_off)
        self._allowances = tuple(dict.fromkeys(((limits.accuracy, 0), far)))
        self.limits = limits
        self._items = items
        self._kerf = kerf
        self._seeds: list[Pattern] = []
        self._cuts = FewestCuts(limits, parameters.cuts)
        self.fewest = self._cuts.of_sheet(sheet.length, sheet.width)
        self._sums = {axis: self._sums_along(axis) for axis in Axis}
        self._places_of = {axis: np.array(self._sums[axis], np.int64) for axis in Axis}

    @property
    def fewest_at_all(self) -> int:
        """Cuts that no way to get the sheet in can do without, wherever they are made."""
        return self._cuts.at_all(self.sheet.length, self.sheet.width)

    @property
    def is_possible(self) -> bool:
        """Whether the store makes enough cuts to get the sheet in."""
        return self.fewest <= self.limits.max_cuts

    def seeds(self) -> list[Pattern]:
        """Return plain patterns, those with fewest cuts first: equal blanks, and largest ones."""
        if self._seeds:
            return self._seeds
        found: dict[Pattern, None] = {}
        for most in range(self.fewest, min(self.limits.max_cuts, self.fewest + 4) + 1):
            for prefer in (0, 1):
                for axis in Axis:
                    pattern = self._plain(self.sheet, most, axis, prefer)
                    if pattern is not False and count_of(pattern) == most:
                        found[pattern] = None
            if len(found) > self._parameters.seeds or self.fewest == 0:
                break
        self._seeds = list(found)
        return self._seeds

    def holding(self, item: Item) -> list[Pattern]:
        """Return patterns with one blank made for a part, if any."""
        found: list[Pattern] = []
        turns = [(item.length, item.width)]
        turns += [(item.width, item.length)] if item.turnable else []
        for length, width in turns:
            for first, second in ((Axis.X, Axis.Y), (Axis.Y, Axis.X)):
                sizes = {Axis.X: length, Axis.Y: width}
                for axes in ((), (first,), (first, second)):
                    pattern = self._corner(self.sheet, axes, sizes, self.limits.max_cuts)
                    if pattern is not False and self._has_room(pattern, item):
                        found.append(pattern)
        found += [pattern for pattern in self.seeds() if self._has_room(pattern, item)]
        return sorted(dict.fromkeys(found), key=count_of)

    def holds(self, blank: Blank, item: Item) -> bool:
        """Say whether a part lies between a blank's trims in some turn it may have."""
        room = blank.trims.inside(blank.length, blank.width)
        straight = item.length <= room[0] and item.width <= room[1]
        return straight or (item.turnable and item.width <= room[0] and item.length <= room[1])

    def _has_room(self, pattern: Pattern, item: Item) -> bool:
        """Say whether some blank of a pattern holds a part."""
        return any(self.holds(blank, item) for blank in blanks_of(pattern, self.sheet, self.limits))

    def any_pattern(self, rng: random.Random) -> Pattern:
        """Return a random pattern, mostly of the fewest cuts."""
        spare = self.limits.max_cuts - self.fewest
        most = self.fewest + (rng.randint(0, min(2, spare)) if rng.random() < 0.5 else 0)
        for _ in range(20):
            pattern = self._random(self.sheet, most, rng)
            if pattern is not False:
                return pattern
        plain = self.seeds()
        return rng.choice(plain)

    def after(self, root: Strip | Cell) -> Try:
        """Return a pattern that keeps the strips of a layout together; False if none was found."""
        return self._follow(self.sheet, root, self.limits.max_cuts)

    def distances(self, piece: Blank, axis: Axis) -> NDArray[np.int64]:
        """Return the distances at which a cut across a piece has a purpose, rising.

        The piece measured, or the rest, is then just large enough for panels side by side, or as
        large as goes in.
        """
        limits = self.limits
        sums = self._places_of[axis]
        found = [np.array(self._cuts.longest(piece.across(axis)), np.int64) // limits.mark]
        for rough, least in self._allowances:
            low, high = (max(end, least) if end else 0 for end in piece.trims.along(axis))
            found.append(-(-(low + sums + rough) // limits.mark))
            found.append((piece.size(axis) - limits.kerf - high - rough - sums) // limits.mark)
        first = -(-limits.least // limits.mark)
        last = (piece.size(axis) - limits.kerf - limits.least) // limits.mark
        marks = np.concatenate(found)
        # As quick as there are marks; sorting takes longer.
        is_one = np.zeros(max(0, last + 1), np.bool_)
        is_one[marks[(marks >= first) & (marks <= last)]] = True
        distances: NDArray[np.int64] = np.flatnonzero(is_one) * limits.mark
        return distances

    def _sums_along(self, axis: Axis) -> list[int]:
        """Return what parts side by side take up along an axis, kerfs between them."""
        # On a very fine grid sums are rounded up: a few units more do no harm to a blank.
        coarse = 1 + self.sheet.size(axis) // self._parameters.most_places
        most = (self.sheet.size(axis) + self._kerf) // coarse
        sums = 1
        mask = (1 << (most + 1)) - 1
        for item in self._items:
            sizes = {item.length if axis is Axis.X else item.width}
            if item.turnable:
                sizes.add(item.width if axis is Axis.X else item.length)
            for size in sizes:
                for _ in range(min(item.qty, self._parameters.most_copies)):
                    sums |= (sums << -(-(size + self._kerf) // coarse)) & mask
        text = bin(sums)[:1:-1]
        places = (coarse * place for place, bit in enumerate(text) if bit == "1" and place)
        return [place - self._kerf for place in places]

    def _allowed(self, piece: Blank, axis: Axis, first: int, most: int) -> bool:
        return self._cuts.after(axis, first, piece.length, piece.width) <= most

    def _on(self, piece: Blank, axis: Axis, first: int, most: int, go: Sequence[Try]) -> Try:
        """Return the split if both sides have a pattern, within the cuts there are."""
        one, other = go
        if one is False or other is False:
            return False
        split = Split(axis, first, one, other)
        return split if split.count <= most and self._allowed(piece, axis, first, most) else False

    def _plain(self, piece: Blank, most: int, axis: Axis, prefer: int) -> Try:
        """Return equal blanks (``prefer`` 1) or the largest (0) along an axis, then the other."""
        if self.limits.fits(piece.length, piece.width):
            return None
        limits = self.limits
        other = Axis.Y if axis is Axis.X else Axis.X
        for way in (axis, other):
            size, across = piece.size(way), piece.across(way)
            firsts = self._cuts.equal(size, across) if prefer else self._cuts.firsts(size, across)
            for first in firsts:
                if not self._allowed(piece, way, first, most):
                    continue
                one, rest = piece.parted(way, first, limits)
                left = most - 1 - self._cuts.of_piece(rest.length, rest.width)
                begun = self._plain(one, left, other, prefer)
                if begun is False:
                    continue
                then = self._plain(rest, most - 1 - count_of(begun), axis, prefer)
                found = self._on(piece, way, first, most, (begun, then))
                if found is not False:
                    return found
        return False

    def _corner(self, piece: Blank, axes: Sequence[Axis], sizes: dict[Axis, int], most: int) -> Try:
        """Return a pattern whose first blank is just large enough along the axes."""
        if not axes:
            if self.limits.fits(piece.length, piece.width):
                return None
            return False
        axis = axes[0]
        low, _ = piece.trims.along(axis)
        least = [
            self.limits.up((max(low, beside) if low else 0) + sizes[axis] + rough)
            for rough, beside in self._allowances
        ]
        marked = [self.limits.down(longest) for longest in self._cuts.longest(piece.across(axis))]
        roomy = (longest for longest in marked if longest > least[0])
        for first in dict.fromkeys((*roomy, *reversed(least))):
            if first > piece.size(axis) or not self._allowed(piece, axis, first, most):
                continue
            one, rest = piece.parted(axis, first, self.limits)
            begun = self._corner(one, axes[1:], sizes, most - 1)
            if begun is False:
                continue
            then = self._best_plain(rest, most - 1 - count_of(begun))
            found = self._on(piece, axis, first, most, (begun, then))
            if found is not False:
                return found
        return False

    def _best_plain(self, piece: Blank, most: int) -> Try:
        for axis in Axis:
            found = self._plain(piece, most, axis, 0)
            if found is not False:
                return found
        return False

    def _random(self, piece: Blank, most: int, rng: random.Random) -> Try:
        if self.limits.fits(piece.length, piece.width):
            return None
        if self._cuts.of_piece(piece.length, piece.width) > most:
            return False
        axis = rng.choice((Axis.X, Axis.Y))
        sizes = list(self._places(piece, axis, rng))
        rng.shuffle(sizes)
        for first in sizes:
            if not self._allowed(piece, axis, first, most):
                continue
            one, rest = piece.parted(axis, first, self.limits)
            left = most - 1 - self._cuts.of_piece(rest.length, rest.width)
            begun = self._random(one, left, rng)
            if begun is False:
                continue
            then = self._random(rest, most - 1 - count_of(begun), rng)
            found = self._on(piece, axis, first, most, (begun, then))
            if found is not False:
                return found
        return False

    def _places(self, piece: Blank, axis: Axis, rng: random.Random) -> Iterator[int]:
        """Yield some distances to cut a piece at."""
        limits = self.limits
        size, sums = piece.size(axis), self._sums[axis]
        low, high = piece.trims.along(axis)
        rough, beside = rng.choice(self._allowances)
        low, high = (max(end, beside) if end else 0 for end in (low, high))
        for limit in (one for one in self._cuts.longest(piece.across(axis)) if one < size):
            yield limits.down(limit)
            most = bisect_right(sums, limit - low - rough)
            least = bisect_left(sums, size - limits.kerf - limit - low - rough)
            least = min(least, most)
            for _ in range(2):
                if least < most:
                    yield limits.up(low + sums[rng.randrange(least, most)] + rough)
                if most:
                    yield limits.up(low + sums[rng.randrange(most)] + rough)
                    # The rest is the blank that is just large enough.
                    inside = sums[rng.randrange(most)]
                    first = size - limits.kerf - high - rough - inside
                    yield limits.down(first)

    def _follow(self, piece: Blank, tree: Strip | Cell, most: int) -> Try:
        """Return a pattern for a piece of which a tree is cut, its strips kept whole."""
        if self.limits.fits(piece.length, piece.width):
            return None
        if isinstance(tree, Cell):
            return False
        axis, limits = tree.axis, self.limits
        limit = limits.reach(piece.across(axis)) or limits.longest
        groups = self._gathered(tree, limit - 2 * max(limits.accuracy, *piece.trims.along(axis)))
        if len(groups) == 1:
            only = tree.children[0]
            if len(tree.children) == 1:
                return self._follow(piece, only, most)
            return False
        return self._chain(piece, axis, groups, most)

    def _gathered(self, tree: Strip, room: int) -> list[list[Strip | Cell]]:
        """Return the children of a strip in as few groups as fit a length, longest first."""
        groups: list[tuple[int, list[Strip | Cell]]] = []
        for child in sorted(tree.children, key=lambda child: -extent(child, tree.axis)):
            size = extent(child, tree.axis)
            for number, (used, group) in enumerate(groups):
                if used + self._kerf + size <= room:
                    groups[number] = (used + self._kerf + size, [*group, child])
                    break
            else:
                groups.append((size, [child]))
        return [group for _, group in groups]

    def _chain(
        self, piece: Blank, axis: Axis, groups: Sequence[list[Strip | Cell]], most: int
    ) -> Try:
        """Return a pattern that cuts the groups off one after the other."""
        group = groups[0]
        if len(groups) == 1:
            return self._inside(piece, group, most)
        low, _ = piece.trims.along(axis)
        inside = sum(extent(child, axis) for child in group) + (len(group) - 1) * self._kerf
        first = self.limits.up(low + inside + self._allowances[-1][0])
        if not self._allowed(piece, axis, first, most):
            return False
        one, rest = piece.parted(axis, first, self.limits)
        begun = self._inside(one, group, most - 1)
        if begun is False:
            return False
        then = self._chain(rest, axis, groups[1:], most - 1 - count_of(begun))
        return self._on(piece, axis, first, most, (begun, then))

    def _inside(self, piece: Blank, group: Sequence[Strip | Cell], most: int) -> Try:
        """Return a pattern for a blank that holds a group of strips side by side."""
        if self.limits.fits(piece.length, piece.width):
            return None
        if len(group) == 1:
            found = self._follow(piece, group[0], most)
            if found is not False:
                return found
        return self._best_plain(piece, most)

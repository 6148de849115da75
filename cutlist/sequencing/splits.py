"""Which sets of distances suffice to take the pieces of one strip apart.

A *run* is what lies along one axis of a strip: pieces that have to come apart, told by their sizes,
and *stuff* that may lie between or beside them and needs no care: waste, or what belongs to other
strips. What is still together of a run holds some of its pieces and some of the stuff. A cut parts
it in two and stands at the length of either side, so a set of distances suffices if there is a tree
of such cuts down to single pieces, all at distances of the set. Nothing is cut off a piece once it
is by itself: it may be left over from the last cut beside it.

Stuff is a tuple of numbers: the length that each takes together with one kerf. A negative number is
the margin of a factory edge. It comes off with a clean-up cut, alone or with waste beside it, and
that cut may be made at a distance that serves other cuts too, whatever it leaves of the waste.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from math import prod

#: Numbers of pieces by size, and the stuff beside them, sorted.
State = tuple[tuple[int, ...], tuple[int, ...]]


class TooManySplitsError(Exception):
    """A run has more ways to take it apart than are worth looking at."""


@dataclass(slots=True)
class LookAllowance:
    """How many single cuts may be looked at, for all runs together."""

    cuts: int

    def spend(self, cuts: int) -> None:
        """Take off what was looked at.

        Raises
        ------
        TooManySplitsError
            Beyond the allowance.
        """
        self.cuts -= cuts
        if self.cuts < 0:
            raise TooManySplitsError


@dataclass(frozen=True, slots=True)
class SplitRun:
    """Pieces along an axis.

    Parameters
    ----------
    sizes, counts
        Distinct sizes, rising, and how many pieces there are of each.
    kerf
        Width of the blade's cut.
    starts
        The stuff that the whole run may have beside it: one of these.
    """

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    kerf: int
    starts: frozenset[tuple[int, ...]]

    def length(self, pieces: tuple[int, ...], stuff: tuple[int, ...]) -> int:
        """Return the length of pieces and stuff of known size side by side."""
        own = sum(n * size for n, size in zip(pieces, self.sizes, strict=True))
        return own + (sum(pieces) - 1) * self.kerf + sum(stuff)

    @property
    def num_states(self) -> int:
        """How many choices of pieces and stuff there are at most."""
        return prod(n + 1 for n in self.counts) << max(map(len, self.starts))

    def distances(self) -> Iterator[tuple[int, object]]:
        """Yield the distance of each cut, with what it is a use of the distance for.

        Whatever run they lie in, the same pieces without stuff beside them are the same use.
        """
        exact = {tuple(sorted(map(abs, start))) for start in self.starts}
        stuffs = {some for start in exact for some in _parts(start)}
        for pieces in product(*(range(count + 1) for count in self.counts)):
            kept = tuple((s, n) for s, n in zip(self.sizes, pieces, strict=True) if n)
            for stuff in stuffs:
                if stuff:
                    yield self.length(pieces, stuff), (self, kept, stuff)
                elif kept:
                    yield self.length(pieces, stuff), kept


@dataclass(slots=True)
class Splits:
    """The smallest sets of distances that suffice for one run, as bit masks.

    Parameters
    ----------
    run
        The pieces.
    index
        The bit of each distance that may be used.
    allowance
        What may be looked at.
    most
        Give up beyond so many sets.
    """

    run: SplitRun
    index: Mapping[int, int]
    allowance: LookAllowance
    most: int
    _known: dict[State, tuple[int, ...]] = field(default_factory=dict)
    _lengths: set[int] = field(init=False)

    def __post_init__(self) -> None:
        """Note the lengths that pieces of the run can have together."""
        choices = product(*(range(count + 1) for count in self.run.counts))
        self._lengths = {self.run.length(pieces, ()) for pieces in choices}

    def smallest(self) -> tuple[int, ...]:
        """Return the sets of which none holds another; none where nothing suffices.

        Raises
        ------
        TooManySplitsError
            Beyond the limit.
        """
        found: set[int] = set()
        for start in self.run.starts:
            exact = tuple(sorted(map(abs, start)))
            found.update(self._of((self.run.counts, exact)))
            for bit, stuff in self._cleaned(start):
                sets = self._of((self.run.counts, stuff))
                self.allowance.spend(len(sets))
                found.update(1 << bit | some for some in sets)
            found |= self._roughed(start)
        return self._least(found)

    def _wastes(self, start: tuple[int, ...]) -> Iterator[tuple[int, int, tuple[int, ...]]]:
        """Yield each margin of a start, waste that may lie next to it, and what else there is."""
        for margin in {0, *(-one for one in start if one < 0)}:
            others = tuple(sorted(map(abs, _without(start, (-margin,) if margin else ()))))
            for waste in {0, *others} if margin else set(others):
                yield margin, waste, _without(others, (waste,)) if waste else others

    def _cleaned(self, start: tuple[int, ...]) -> set[tuple[int, tuple[int, ...]]]:
        """Yield what may be left beside the pieces by a clean-up cut at a distance used elsewhere.

        Only where some other cut of the run can then be made at a distance used elsewhere, too.
        """
        found = set()
        for margin, waste, others in self._wastes(start):
            whole = self.run.length(self.run.counts, others)
            for distance, bit in self.index.items():
                for left in (distance - whole, waste + margin - self.run.kerf - distance):
                    if 0 < left < waste + margin and self._suits(left):
                        found.add((bit, tuple(sorted((*others, left)))))
        return found

    def _roughed(self, start: tuple[int, ...]) -> set[int]:
        """Return sets for cutting some pieces off too wide first, at a distance used elsewhere.

        Their factory edge is at the fence then, and both sides have a clean edge afterwards. Only
        where waste of one side can then be of use.
        """
        found: set[int] = set()
        for kept in product(*(range(count + 1) for count in self.run.counts)):
            rest = tuple(n - k for n, k in zip(self.run.counts, kept, strict=True))
            if not any(kept) or not any(rest):
                continue
            length = self.run.length(kept, ())
            for margin, waste, others in self._wastes(start):
                for distance, bit in self.index.items():
                    near = distance - length
                    excess = near - margin
                    if excess < 0 or excess > waste + margin:
                        continue
                    for far in (waste - excess, waste - excess + margin):
                        if far < 0 or not (far == 0 or self._suits(far) or self._suits(near)):
                            continue
                        stuff = tuple(sorted((*others, far))) if far else others
                        firsts, seconds = self._of((kept, (near,))), self._of((rest, stuff))
                        self.allowance.spend(1 + len(firsts) * len(seconds))
                        found.update(a | 1 << bit | b for a in firsts for b in seconds)
        return found

    def _suits(self, left: int) -> bool:
        """Say whether some pieces, or none, make up a distance together with so much waste."""
        return any(length + left in self.index for length in self._lengths)

    def _of(self, state: State) -> tuple[int, ...]:
        pieces, stuff = state
        if sum(pieces) == 0 or (sum(pieces) == 1 and not stuff):
            return (0,)
        known = self._known.get(state)
        if known is None:
            known = self._known[state] = self._least(self._cut(pieces, stuff))
        return known

    def _cut(self, pieces: tuple[int, ...], stuff: tuple[int, ...]) -> set[int]:
        found: set[int] = set()
        for beside in _parts(stuff):
            others = _without(stuff, beside)
            self.allowance.spend(prod(count + 1 for count in pieces))
            for kept in product(*(range(count + 1) for count in pieces)):
                rest = tuple(n - k for n, k in zip(pieces, kept, strict=True))
                if not (any(kept) or beside) or not (any(rest) or others):
                    continue
                bit = self.index.get(self.run.length(kept, beside))
                if bit is None:
                    continue
                firsts, seconds = self._of((kept, beside)), self._of((rest, others))
                self.allowance.spend(len(firsts) * len(seconds))
                found.update(a | 1 << bit | b for a in firsts for b in seconds)
        return found

    def _least(self, sets: set[int]) -> tuple[int, ...]:
        least: list[int] = []
        for candidate in sorted(sets, key=lambda mask: (mask.bit_count(), mask)):
            if not any(other & candidate == other for other in least):
                least.append(candidate)
                if len(least) > self.most:
                    raise TooManySplitsError
        return tuple(least)


def _parts(stuff: tuple[int, ...]) -> set[tuple[int, ...]]:
    """Return every choice from some stuff."""
    parts: set[tuple[int, ...]] = {()}
    for one in stuff:
        parts |= {(*part, one) for part in parts}
    return parts


def _without(stuff: tuple[int, ...], part: tuple[int, ...]) -> tuple[int, ...]:
    left = list(stuff)
    for one in part:
        left.remove(one)
    return tuple(left)

"""Problems with a known plan, made by cutting sheets apart at random."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from hypothesis import strategies as st

from cutlist.nesting.problem import Bin, Item, Problem


@dataclass(frozen=True, slots=True)
class Feasible:
    """A problem, and what the plan that it was made from costs and uses."""

    problem: Problem
    cost: int
    sheets: int


def _pieces(random: Random, length: int, width: int, kerf: int, cuts: int) -> list[tuple[int, int]]:
    """Cut a rectangle apart edge to edge."""
    if cuts == 0:
        return [(length, width)]
    along = random.random() < 0.5
    extent = length if along else width
    if extent < kerf + 2:
        return [(length, width)]
    first = random.randint(1, extent - kerf - 1)
    second = extent - kerf - first
    share = random.randint(0, cuts - 1)
    if along:
        one, other = (first, width), (second, width)
    else:
        one, other = (length, first), (length, second)
    return [
        *_pieces(random, *one, kerf, share),
        *_pieces(random, *other, kerf, cuts - 1 - share),
    ]


def cut_apart(random: Random, bins: tuple[Bin, ...], kerf: int, cuts: int, most: int) -> Feasible:
    """Cut up to ``most`` of each kind of bin apart, and drop a few of the pieces."""
    items: list[Item] = []
    cost = sheets = 0
    for bin_ in bins:
        limit = most if bin_.available is None else min(most, bin_.available)
        for _ in range(random.randint(0, limit)):
            pieces = _pieces(random, bin_.length, bin_.width, kerf, cuts)
            kept = [p for p in pieces if random.random() < 0.9]
            if not kept:
                continue
            cost += bin_.cost
            sheets += 1 if bin_.cost > 0 else 0
            for length, width in kept:
                turnable = random.random() < 0.5
                if turnable and random.random() < 0.5:
                    length, width = width, length
                items.append(Item(length, width, 1, turnable))
    return Feasible(Problem(tuple(items), bins, kerf), cost, sheets)


@st.composite
def feasible_problems(draw: st.DrawFn, *, cuts: int = 6, most: int = 3) -> Feasible:
    """Return a problem with one to three kinds of bins, some free or limited, and its plan."""
    kerf = draw(st.sampled_from([0, 0, 1, 3]))
    bins = tuple(
        Bin(
            draw(st.integers(5, 150)),
            draw(st.integers(5, 150)),
            draw(st.sampled_from([0, 1, 7, 10, 13])),
            draw(st.sampled_from([None, 1, 2, 3])),
        )
        for _ in range(draw(st.integers(1, 3)))
    )
    random = Random(draw(st.integers(0, 2**32)))
    return cut_apart(random, bins, kerf, draw(st.integers(0, cuts)), most)

"""Stock that does not suffice: what would solve it, and the most valuable panels it gives."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd, lcm

from cutlist.model.job import Part
from cutlist.model.layout import Cell, Layout, Strip
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.bounds import lower_bound
from cutlist.nesting.problem import Nesting
from cutlist.nesting.search.knapsack import best_value
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps, FirstOf
from cutlist.planning.dividing.groups import Group
from cutlist.planning.terms.parameters import SEARCHES, USUAL, ShortageParameters


def missing_sheets(
    group: Group,
    *,
    seed: int,
    is_late: Callable[[], bool] = lambda: False,
    parameters: ShortageParameters = USUAL.shortage,
) -> dict[str, int]:
    """Return how many more of which sheets would do; empty where no limited sheet can be bought.

    It is what a short search with unlimited sheets buys beyond the stock, not a proven minimum.
    """
    bins = group.problem.bins
    if not any(piece.cost and piece.available is not None for piece in bins):
        return {}
    unlimited = tuple(replace(piece, available=None) if piece.cost else piece for piece in bins)
    stop = FirstOf(AfterSteps(parameters.steps), lambda _: is_late())
    found = nest(replace(group.problem, bins=unlimited), seed=seed, stop=stop)
    used = Counter[int]()
    for layout in found.layouts:
        used[layout.stock] += layout.copies
    more = {}
    for index, count in sorted(used.items()):
        available = bins[index].available
        if available is not None and count > available:
            more[group.stock[index].name] = count - available
    return more


@dataclass(frozen=True, slots=True)
class Selection:
    """The panels chosen of a group: their layouts, and for each item how many are left out."""

    nesting: Nesting
    left_out: tuple[int, ...]


def most_valuable(
    group: Group, parts: Sequence[Part], *, seed: int, allowance: Allowance
) -> Selection:
    """Choose the most valuable panels that the stock of a group gives.

    Parameters
    ----------
    group
        Its problem's stock is limited.
    parts
        The part behind each item of the problem.
    seed, allowance
        Of the search, which charges what it takes.
    """
    problem = group.problem
    # One search alone, with the steps of one of those that otherwise run side by side.
    rule = allowance.rule(SEARCHES)
    chosen = best_value(problem, values_of(parts), seed=seed, stop=rule)
    allowance.spend(chosen.steps)
    cut = Counter(part for layout in chosen.layouts for part in panels_of(layout))
    items = tuple(replace(item, qty=cut[index]) for index, item in enumerate(problem.items))
    bound = lower_bound(replace(problem, items=items))
    bought = [layout for layout in chosen.layouts if problem.bins[layout.stock].cost]
    nesting = Nesting(
        layouts=chosen.layouts,
        cost=sum(layout.copies * problem.bins[layout.stock].cost for layout in bought),
        bound=bound.cost,
        sheets=sum(layout.copies for layout in bought),
        sheets_bound=bound.sheets,
        steps=chosen.steps,
    )
    left_out = tuple(item.qty - cut[index] for index, item in enumerate(problem.items))
    return Selection(nesting, left_out)


def values_of(parts: Sequence[Part]) -> list[int]:
    """Return each part's worth in whole numbers of the same unit."""
    exact = [
        part.length * part.width if part.value is None else Fraction(part.value) for part in parts
    ]
    scale = lcm(*(value.denominator for value in exact))
    whole = [int(value * scale) for value in exact]
    common = gcd(*whole) or 1
    return [value // common for value in whole]


def panels_of(layout: Layout) -> Iterator[int]:
    """Yield the item of each panel of a layout, through its copies."""
    waiting: list[Strip | Cell] = [layout.root]
    while waiting:
        tree = waiting.pop()
        if isinstance(tree, Cell):
            yield from [tree.part] * layout.copies
        else:
            waiting.extend(tree.children)

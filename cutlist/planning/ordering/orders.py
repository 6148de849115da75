"""Layouts with the order of their cuts, and which of several is taken."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from cutlist.model.job import Goal
from cutlist.planning.dividing.groups import Division
from cutlist.planning.ordering.joint_search import Choice, stock_layouts
from cutlist.planning.ordering.supply import supply_of
from cutlist.sequencing.load import SetupLoad
from cutlist.sequencing.parameters import never
from cutlist.sequencing.sequence import Sequenced, sequence


@dataclass(frozen=True, slots=True)
class Ordered:
    """A choice of layouts with the order of its cuts."""

    choice: Choice
    sequenced: Sequenced

    @property
    def settings(self) -> int:
        """Number of settings."""
        return len(self.sequenced.settings)

    @property
    def load(self) -> SetupLoad:
        """What its set-ups come to."""
        return self.sequenced.load

    @property
    def cost(self) -> int:
        """Cost of all groups, in the problems' own unit."""
        return self.choice.rank.cost

    @property
    def is_proven(self) -> bool:
        """Whether no order of its layouts takes fewer settings, and all matches that has to."""
        return not self.load.apart and self.settings == self.sequenced.bound


def ordered(division: Division, choice: Choice, *, is_over: Callable[[], bool] = never) -> Ordered:
    """Put the cuts of a choice in order; once ``is_over`` says True, quickly."""
    layouts = stock_layouts(division.groups, choice.solutions)
    starts = supply_of(division.groups, choice.solutions).starts
    return Ordered(choice, sequence(layouts, division.fence, starts=starts, is_over=is_over))


def better(before: Ordered | None, after: Ordered) -> Ordered:
    """Return the later one of two unless its order turned out worse at no less cost."""
    if before is None or after.cost < before.cost:
        return after
    return after if after.load <= before.load else before


def unbeaten(found: Iterable[Ordered]) -> list[Ordered]:
    """Return those that nothing found beats, cheapest first, each with less time for set-ups.

    Time is not bought with panels that match less, nor with cuts that no saw may make.
    """
    kept: list[Ordered] = []
    for one in sorted(found, key=lambda one: (one.load.unsafe > 0, one.cost, one.load)):
        if not kept or one.load < kept[-1].load:
            kept.append(one)
    return kept


def taken(division: Division, trades: Sequence[Ordered]) -> Ordered:
    """Return the one that the job's goal asks for.

    Parameters
    ----------
    division
        The job, its goal and the price of its time, and what one unit of cost is worth.
    trades
        Cheapest first, each with less time for set-ups than the one before; not empty.
    """
    job = division.job
    if job.goal is Goal.SETUPS:
        return trades[-1]
    if job.goal is Goal.COST:
        return trades[0]
    price, money = job.price_of(Fraction(1, division.fence.minute)), division.money
    if price is not None and money is not None:
        unit, dear_time = money, price
        return min(trades, key=lambda one: one.cost * unit + one.load.weight * dear_time)
    dear, long = max(1, trades[0].cost), max(1, trades[0].load.weight)
    return min(trades, key=lambda one: one.cost * long + one.load.weight * dear)

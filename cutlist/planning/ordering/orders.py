"""Layouts with the order of their cuts, and which of several is taken."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from cutlist.model.job import Goal, Job
from cutlist.planning.dividing.groups import Division
from cutlist.planning.ordering.joint_search import Choice, stock_layouts
from cutlist.planning.ordering.supply import supply_of
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
    def cost(self) -> int:
        """Cost of all groups, in the problems' own unit."""
        return self.choice.rank.cost

    @property
    def is_proven(self) -> bool:
        """Whether no order of its layouts takes fewer settings, and all matches that has to."""
        return not self.sequenced.apart and self.settings == self.sequenced.bound


def ordered(division: Division, choice: Choice, *, is_over: Callable[[], bool] = never) -> Ordered:
    """Put the cuts of a choice in order; once ``is_over`` says True, quickly."""
    layouts = stock_layouts(division.groups, choice.solutions)
    starts = supply_of(division.groups, choice.solutions).starts
    return Ordered(choice, sequence(layouts, division.fence, starts=starts, is_over=is_over))


def better(before: Ordered | None, after: Ordered) -> Ordered:
    """Return the later one of two unless its order turned out worse at no less cost."""
    if before is None or after.cost < before.cost:
        return after
    figures = [(one.sequenced.apart, one.settings) for one in (before, after)]
    return after if figures[1] <= figures[0] else before


def unbeaten(found: Iterable[Ordered]) -> list[Ordered]:
    """Return those that nothing found beats, cheapest first, each with fewer settings.

    Fewer settings are not bought with panels that match less.
    """
    kept: list[Ordered] = []
    for one in sorted(found, key=lambda one: (one.cost, one.sequenced.apart, one.settings)):
        if not kept or (
            one.settings < kept[-1].settings and one.sequenced.apart <= kept[0].sequenced.apart
        ):
            kept.append(one)
    return kept


def taken(job: Job, money: Decimal | None, trades: Sequence[Ordered]) -> Ordered:
    """Return the one that the job's goal asks for.

    Parameters
    ----------
    job
        Its goal, and the price of a set-up.
    money
        What one unit of cost is worth; None where the job gives no prices.
    trades
        Cheapest first, each with fewer settings than the one before; not empty.
    """
    if job.goal is Goal.SETUPS:
        return trades[-1]
    if job.goal is Goal.COST:
        return trades[0]
    price = job.setup_price
    if price is not None and money is not None:
        unit = money
        return min(trades, key=lambda one: one.cost * unit + one.settings * price)
    dear, many = max(1, trades[0].cost), max(1, trades[0].settings)
    return min(trades, key=lambda one: one.cost * many + one.settings * dear)

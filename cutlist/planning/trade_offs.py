"""Cost against settings: what a sheet or two more would spare, and which plan the goal chooses."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from cutlist.model.job import Goal, Job
from cutlist.planning.groups import Division
from cutlist.planning.settings_search import Choice, JointSearch, cost_of, stock_layouts
from cutlist.planning.supply import supply_of
from cutlist.sequencing.sequence import Sequenced, sequence

#: Panels up to which dearer plans are looked for.
MOST_PANELS = 120
#: Sheets that a dearer plan may buy more.
_MORE = 2
#: Rounds without fewer settings before a search for a dearer plan ends.
_PATIENCE = 4
_SEED_STEP = 32452843


@dataclass(frozen=True, slots=True)
class Ordered:
    """A choice with the order of its cuts."""

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


def ordered(division: Division, choice: Choice) -> Ordered:
    """Put the cuts of a choice in order."""
    layouts = stock_layouts(division.groups, choice.solutions)
    starts = supply_of(division.groups, choice.solutions).starts
    return Ordered(choice, sequence(layouts, division.fence, starts=starts))


def better(before: Ordered | None, after: Ordered) -> Ordered:
    """Return the later one of two unless its order turned out worse at no less cost."""
    if before is None or after.cost < before.cost:
        return after
    figures = [(one.sequenced.apart, one.settings) for one in (before, after)]
    return after if figures[1] <= figures[0] else before


def dearer_choices(
    division: Division,
    cheapest: Choice,
    *,
    seed: int,
    keep: Sequence[tuple[int, int]],
    is_over: Callable[[], bool],
    spend: Callable[[int], int | None],
) -> list[Choice]:
    """Look for choices with fewer settings that buy a sheet or two more than the cheapest.

    Parameters
    ----------
    division, cheapest
        The job's groups, and the choice to begin with.
    seed, keep
        As of the :class:`JointSearch`.
    is_over
        Ends the search.
    spend
        Counts steps as spent and returns those left; None where steps are not counted.
    """
    found: list[Choice] = []
    for index, group in enumerate(division.groups):
        price = min((piece.cost for piece in group.problem.bins if piece.cost), default=0)
        if not price or sum(item.qty for item in group.problem.items) < 2:
            continue
        best = cheapest
        for more in range(1, _MORE + 1):
            if is_over():
                return found
            limits: list[int | None] = [None] * len(division.groups)
            limits[index] = cost_of(group, cheapest.solutions[index]) + more * price
            search = JointSearch(
                division.groups,
                division.fence,
                best.solutions,
                seed=seed + _SEED_STEP * more,
                keep=keep,
                most=limits,
            )
            _exhaust(search, is_over, spend)
            if search.best.rank.settings < best.rank.settings:
                best = search.best
                found.append(best)
    return found


def _exhaust(
    search: JointSearch, is_over: Callable[[], bool], spend: Callable[[int], int | None]
) -> None:
    """Search until some rounds in a row bring no fewer settings."""
    idle = 0
    left = spend(0)
    while idle < _PATIENCE and not is_over():
        before, spent = search.best.rank.settings, search.steps
        search.round(is_over, left)
        left = spend(search.steps - spent)
        idle = 0 if search.best.rank.settings < before else idle + 1


def front_of(found: Iterable[Ordered]) -> list[Ordered]:
    """Return those that nothing found beats, cheapest first, each with fewer settings.

    Fewer settings are not bought with panels that match less.
    """
    front: list[Ordered] = []
    for one in sorted(found, key=lambda one: (one.cost, one.sequenced.apart, one.settings)):
        if not front or (
            one.settings < front[-1].settings and one.sequenced.apart <= front[0].sequenced.apart
        ):
            front.append(one)
    return front


def chosen(job: Job, money: Decimal | None, front: Sequence[Ordered]) -> Ordered:
    """Return the plan of a front that the job's goal asks for.

    Parameters
    ----------
    job
        Its goal, and the price of a set-up.
    money
        What one unit of cost is worth; None where the job gives no prices.
    front
        Cheapest first, each with fewer settings than the one before; not empty.
    """
    if job.goal is Goal.SETUPS:
        return front[-1]
    if job.goal is Goal.COST:
        return front[0]
    price = job.setup_price
    if price is not None and money is not None:
        unit = money
        return min(front, key=lambda one: one.cost * unit + one.settings * price)
    dear, many = max(1, front[0].cost), max(1, front[0].settings)
    return min(front, key=lambda one: one.cost * many + one.settings * dear)

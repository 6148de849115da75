"""The fourth stage: what a sheet or two more would spare, and which plan the goal takes."""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.planning.dividing.groups import Division
from cutlist.planning.ordering.joint_search import Choice, JointSearch, cost_of
from cutlist.planning.ordering.least_cost import LeastCost
from cutlist.planning.ordering.orders import Ordered, ordered, taken, unbeaten
from cutlist.planning.packing.pack import Packed
from cutlist.planning.terms.terms import Terms


@dataclass(frozen=True, slots=True)
class Chosen:
    """The layouts and the order that are made, and what they were chosen from.

    Parameters
    ----------
    packed
        The groups, and what is proven of their cost.
    made
        What the goal takes.
    trades
        What no other found beats, cheapest first; ``made`` is one of them.
    is_told
        Whether anything dearer was found, so that the trades are told.
    """

    packed: Packed
    made: Ordered
    trades: tuple[Ordered, ...] = ()
    is_told: bool = False


def choose(found: LeastCost, terms: Terms) -> Chosen:
    """Look for plans with fewer settings that buy more, and take what the goal asks for.

    In a large job, and in one of which a part is left out, it is the cheapest.
    """
    packed, division = found.packed, found.packed.division
    dearer: list[Choice] = []
    if division.panels <= terms.parameters.trades.most_panels and not packed.left_out:
        dearer = dearer_choices(division, found.best.choice, terms)
    trades = unbeaten([found.best, *(ordered(division, choice) for choice in dearer)])
    made = taken(division, trades)
    return Chosen(packed, made, tuple(trades), is_told=bool(dearer))


def dearer_choices(division: Division, cheapest: Choice, terms: Terms) -> list[Choice]:
    """Look for choices with fewer settings that buy a sheet or two more than the cheapest.

    Parameters
    ----------
    division, cheapest
        The job's groups, and the choice to begin with.
    terms
        All that is left of their allowance may be spent.
    """
    found: list[Choice] = []
    parameters = terms.parameters.trades
    for index, group in enumerate(division.groups):
        price = min((piece.cost for piece in group.problem.bins if piece.cost), default=0)
        if not price or group.panels < 2:
            continue
        best = cheapest
        for more in range(1, parameters.more_sheets + 1):
            if terms.allowance.is_over():
                return found
            limits: list[int | None] = [None] * len(division.groups)
            limits[index] = cost_of(group, cheapest.solutions[index]) + more * price
            search = JointSearch(
                division.groups,
                division.fence,
                best.solutions,
                seed=terms.seed + parameters.seed_step * more,
                keep=division.least_kept,
                most=limits,
                parameters=terms.parameters.settings,
            )
            _exhaust(search, terms)
            if search.best.rank.load < best.rank.load:
                best = search.best
                found.append(best)
    return found


def _exhaust(search: JointSearch, terms: Terms) -> None:
    """Search until some rounds in a row bring no fewer settings."""
    idle = 0
    while idle < terms.parameters.trades.patience and not terms.allowance.is_over():
        before = search.best.rank.load
        search.round(terms.allowance)
        idle = 0 if search.best.rank.load < before else idle + 1

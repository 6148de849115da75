"""The third stage: of the layouts at the least cost those with the fewest settings."""

from __future__ import annotations

from dataclasses import dataclass, replace

from cutlist.planning.ordering.joint_search import Choice, JointSearch
from cutlist.planning.ordering.orders import Ordered, better, ordered
from cutlist.planning.packing.pack import Packed
from cutlist.planning.terms.terms import Terms


@dataclass(frozen=True, slots=True)
class LeastCost:
    """The cheapest layouts that were found, those with the fewest settings, in order.

    Parameters
    ----------
    packed
        The groups, and what is proven of their cost; cheaper where the search for fewer settings
        came upon something cheaper.
    best
        Their layouts and the order of their cuts.
    """

    packed: Packed
    best: Ordered


def fewest_settings(packed: Packed, terms: Terms) -> LeastCost:
    """Search the cheapest layouts for those with the fewest settings.

    It goes on until cost and settings are proven, nothing better was found for long, or the
    allowance is over. The cuts of a large job are put in order once, at the end.
    """
    return _Search(packed, terms).run()


class _Search:
    """One run of the search."""

    def __init__(self, packed: Packed, terms: Terms) -> None:
        self._packed = packed
        self._terms = terms
        self._division = packed.division
        self._is_small = self._division.panels <= terms.parameters.trades.most_panels
        self._joint = JointSearch(
            self._division.groups,
            self._division.fence,
            [nesting.layouts for nesting in packed.nestings],
            seed=terms.seed,
            keep=self._division.least_kept,
            parameters=terms.parameters.settings,
        )

    def run(self) -> LeastCost:
        """Search in rounds, and put in order what is best."""
        terms, joint = self._terms, self._joint
        parameters = terms.parameters.settings
        end = parameters.end(self._division.job.goal)
        allowance = terms.allowance.first(
            seconds=end if self._is_small else parameters.seconds_if_large, steps=end
        )
        best = self._ordered(joint.best) if self._is_small else None
        idle = rounds = 0
        while idle < parameters.patience and not allowance.is_over():
            is_done = best is not None and best.is_proven and self._packed.is_cheapest
            if is_done and rounds >= parameters.least_rounds:
                break
            rounds += 1
            before = joint.best.rank
            joint.round(allowance)
            rank = joint.best.rank
            idle += 1
            terms.reporter.tell()
            if (rank.cost, rank.load) < (before.cost, before.load):
                idle = 0
                self._note_costs()
                if self._is_small:
                    best = better(best, self._ordered(joint.best))
                    terms.reporter.ordered(best.settings, best.sequenced.bound)
        if best is None or best.choice is not joint.best:
            best = better(best, self._ordered(joint.best))
        return LeastCost(self._packed, best)

    def _ordered(self, choice: Choice) -> Ordered:
        if self._is_small:
            return ordered(self._division, choice)
        return ordered(self._division, choice, is_over=self._is_late)

    def _is_late(self) -> bool:
        allowance = self._terms.allowance
        return allowance.asked.was_asked or allowance.is_late()

    def _note_costs(self) -> None:
        """Take over what the search for settings made cheaper by chance."""
        nestings = list(self._packed.nestings)
        for index, (group, nesting) in enumerate(
            zip(self._division.groups, self._packed.nestings, strict=True)
        ):
            cost = self._joint.cost(index)
            if cost < nesting.cost:
                layouts = self._joint.best.solutions[index]
                sheets = sum(
                    layout.copies for layout in layouts if group.problem.bins[layout.stock].cost
                )
                nestings[index] = replace(nesting, layouts=layouts, cost=cost, sheets=sheets)
                self._terms.reporter.packed(index, nestings[index])
        self._packed = replace(self._packed, nestings=tuple(nestings))

"""The way through planning: from a job, stage by stage, to a plan that passed the audit.

Each stage is a function from the frozen value of the one before to its own::

    divide   Job → Division        one packing problem for each material and thickness
    pack     Division → Packed     layouts at the least cost that was found
    order    Packed → LeastCost    of these the ones with the fewest settings, in order
    choose   LeastCost → Chosen    what a sheet more would spare, and what the goal takes
    finish   Chosen → Plan         names, money and units again; weights, trips, trades
    instruct Plan → Plan           what is said at the saw
    audit    Plan → findings       nothing, or the plan is refused

Any of them can be replaced by another function, and any value made by hand, to go on from there: a
test does so, and so does whoever plans on from pieces that are there already.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeAlias

from cutlist.audit import audit
from cutlist.errors import AuditError
from cutlist.model.job import Job
from cutlist.model.plan import Plan
from cutlist.planning.assembling.finish import finish
from cutlist.planning.dividing.groups import Division, divide
from cutlist.planning.instructions.instruct import instructed
from cutlist.planning.ordering.least_cost import LeastCost, fewest_settings
from cutlist.planning.ordering.trade_offs import Chosen, choose
from cutlist.planning.packing.pack import Packed, pack
from cutlist.planning.terms.terms import Terms

#: Where planning can be entered.
Stage: TypeAlias = Job | Division | Packed | LeastCost | Chosen


@dataclass(frozen=True, slots=True)
class Stages:
    """The function of every stage; each is the usual one unless another is given."""

    divide: Callable[[Job], Division] = divide
    pack: Callable[[Division, Terms], Packed] = pack
    order: Callable[[Packed, Terms], LeastCost] = fewest_settings
    choose: Callable[[LeastCost, Terms], Chosen] = choose
    finish: Callable[[Chosen], Plan] = finish
    instruct: Callable[[Plan], Plan] = instructed
    audit: Callable[[Plan], tuple[object, ...]] = audit

    def plan(self, begin: Stage, terms: Terms) -> Plan:
        """Go on from a stage to the plan, and audit it.

        Raises
        ------
        CannotCutError
            If a part fits no stock, or the stock does not suffice and the plan may not be partial.
        AuditError
            If the audit refuses the plan.
        StoppedError
            If interrupted before any plan existed.
        """
        stage = begin
        if isinstance(stage, Job):
            stage = self.divide(stage)
        if isinstance(stage, Division | Packed):
            division = stage if isinstance(stage, Division) else stage.division
            terms = _with_time_to_finish(terms, division.panels)
        if isinstance(stage, Division):
            stage = self.pack(stage, terms)
        if isinstance(stage, Packed):
            stage = self.order(stage, terms)
        if isinstance(stage, LeastCost):
            stage = self.choose(stage, terms)
        plan = self.instruct(self.finish(stage))
        findings = self.audit(plan)
        if findings:
            raise AuditError([str(finding) for finding in findings])
        return plan


def _with_time_to_finish(terms: Terms, panels: int) -> Terms:
    """Set aside the time that all takes which comes after the search."""
    parameters = terms.parameters.finishing
    seconds = parameters.seconds + panels * parameters.seconds_a_panel
    return replace(terms, allowance=terms.allowance.less(seconds, least=parameters.least_search))

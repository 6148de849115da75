"""The fifth stage: the plan of what was chosen, whole but for what is said at the saw."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.matching import matched
from cutlist.model.job import Sheet
from cutlist.model.plan import Plan, Shortfall, Trade
from cutlist.planning.assembling.assemble import CostBound, assemble
from cutlist.planning.assembling.weights import with_charge, with_weights
from cutlist.planning.dividing.groups import Division
from cutlist.planning.ordering.orders import Ordered
from cutlist.planning.ordering.supply import supply_of
from cutlist.planning.ordering.trade_offs import Chosen


def finish(chosen: Chosen) -> Plan:
    """Return the plan, with names, money and the job's unit, weights, trips and trades."""
    packed, division = chosen.packed, chosen.packed.division
    bound = CostBound(
        cost=division.in_money(sum(nesting.bound for nesting in packed.nestings)),
        sheets=sum(nesting.sheets_bound for nesting in packed.nestings),
    )
    supply = supply_of(division.groups, chosen.made.choice.solutions)
    plan = assemble(division.job, division.grid, supply, chosen.made.sequenced, bound)
    ledger = read_ledger(plan)
    parts = division.job.parts
    plan = replace(
        plan,
        matches=matched(ledger),
        short=tuple(Shortfall(parts[index].name, count) for index, count in packed.left_out),
        trades=tuple(_trade(division, one, chosen.made) for one in chosen.trades)
        if chosen.is_told
        else (),
    )
    # None of this changes a piece: one ledger serves it all.
    return with_charge(with_weights(plan, replace(ledger, plan=plan)), ledger)


def _trade(division: Division, one: Ordered, made: Ordered) -> Trade:
    supply = supply_of(division.groups, one.choice.solutions)
    bought = (stock for _, stock in supply.workpieces if isinstance(stock, Sheet))
    prices = [stock.price or Decimal(0) for stock in bought]
    minutes = Fraction(one.load.weight, division.fence.minute)
    cost = sum(prices, Decimal(0))
    return Trade(len(prices), cost, one.settings, one is made, minutes)

"""Plans with all that a job may ask for besides: a second unit, matches, saws, trades, weights."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import cycle

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.matching import matched
from cutlist.model.job import Match, Saw, SawKind, Vehicle
from cutlist.model.plan import Place, Plan, Trade
from cutlist.model.sawing import Hazard
from cutlist.model.weights import Density
from cutlist.planning.assembling.weights import with_weights
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.drawing.tools import shop_figures

LONG = "the front edges of everything between the two outer walls"


def with_second_unit(plan: Plan) -> Plan:
    """Ask for each distance in the other unit as well."""
    other = Units.MM if plan.job.units is Units.INCH else Units.INCH
    return replace(plan, job=replace(plan.job, also_in=other))


def with_matches(plan: Plan) -> Plan:
    """Let all parts match the first ones of their size, in groups with short and long names."""
    sizes: dict[Fraction, list[str]] = {}
    for part in plan.job.parts:
        for side in {part.length, part.width}:
            sizes.setdefault(side, []).append(part.name)
    groups = sorted(sizes.items(), key=lambda one: -len(one[1]))[:5]
    matches = tuple(
        Match(LONG if number == 1 else f"match {number}", size, tuple(parts))
        for number, (size, parts) in enumerate(groups)
    )
    job = replace(plan.job, matches=matches)
    asked = replace(plan, job=job)
    return replace(asked, matches=matched(read_ledger(asked)))


def with_saws(plan: Plan) -> Plan:
    """Give the settings to saws of every kind in turn, and call every third cut unsafe."""
    kinds = tuple(SawKind)
    saws = tuple(
        Saw(plan.job.saw.kerf, name=f"{kind} by the window", kind=kind, repeats=True)
        for kind in kinds
    )
    turns = cycle(saws)
    settings = tuple(
        one if one.place is Place.STORE else replace(one, tool=saw.name, device=saw.device)
        for one, saw in zip(plan.settings, turns, strict=False)
    )
    hazards = cycle(Hazard)
    flagged = tuple(
        replace(
            setting,
            cuts=tuple(
                replace(cut, hazards=tuple(next(hazards) for _ in range(1 + cut.number % 2)))
                if cut.number % 3 == 1
                else cut
                for cut in setting.cuts
            ),
        )
        for setting in settings
    )
    job = replace(plan.job, saws=saws)
    totals = replace(plan.totals, **shop_figures(job, flagged))
    return instructed(replace(plan, job=job, setups=flagged, totals=totals))


def with_trades(plan: Plan) -> Plan:
    """Tell of dearer plans with fewer set-ups, the second being the one chosen."""
    setups = plan.totals.setups
    found = [(0, setups + 7), (1, setups), (2, setups // 3), (30, 1)]
    trades = tuple(
        Trade(
            plan.totals.sheets + more,
            plan.totals.cost + 1000 * more,
            count,
            more == 1,
            Fraction(3 * count),
        )
        for more, count in found
    )
    job = replace(plan.job, hourly_rate=Decimal("45.50"))
    return replace(plan, job=job, trades=trades)


def with_loads(plan: Plan) -> Plan:
    """Weigh all stock, some of it by a guess, tax it, and take it home a little at a time."""
    kinds = cycle((None, "hardwood plywood", "MDF"))
    sheets = tuple(
        replace(one, density=Density(Fraction(700), next(kinds))) for one in plan.job.sheets
    )
    offcuts = tuple(replace(one, density=Density(Fraction(700))) for one in plan.job.offcuts)
    bed = max(max(one.length, one.width) for one in plan.job.stock)
    job = replace(
        plan.job,
        sheets=sheets,
        offcuts=offcuts,
        vehicle=Vehicle(bed, bed, Fraction(30)),
        tax_percent=Decimal("8.875"),
    )
    return with_weights(replace(plan, job=job))


def with_all(plan: Plan) -> Plan:
    """Ask for all of it at once."""
    return with_trades(with_saws(with_matches(with_second_unit(with_loads(plan)))))

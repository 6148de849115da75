"""The stages of planning: each can be tested, replaced, or entered in the middle."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, replace
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.model.job import Store, Vehicle
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.problem import Nesting
from cutlist.output.plan_json import to_document
from cutlist.planning.dividing.groups import Division, divide
from cutlist.planning.instructions.instruct import instructed
from cutlist.planning.make import make_plan
from cutlist.planning.ordering.least_cost import LeastCost
from cutlist.planning.ordering.trade_offs import Chosen
from cutlist.planning.packing.pack import Packed, pack
from cutlist.planning.stages import Stages
from cutlist.planning.terms.terms import Terms
from tests.planning.jobs import job, part, planned, sheet
from tests.replay import replay

SHELVES = job([part("shelf", (600, 300), 6), part("side", (900, 300), 2)])


def test_the_stages_are_the_way_through() -> None:
    """Gone through by hand the stages come to the plan that is made at once."""
    stages = Stages()
    terms = Terms(Allowance(steps=400))
    chosen = stages.choose(stages.order(stages.pack(stages.divide(SHELVES), terms), terms), terms)
    plan = stages.instruct(stages.finish(chosen))
    assert stages.audit(plan) == ()
    assert plan == planned(SHELVES, 400)


def test_a_value_can_be_gone_on_from_again() -> None:
    """A stage leaves what it was given as it is: the same value leads to the same plan twice."""
    packed = pack(divide(SHELVES), Terms(Allowance(steps=300)))
    plans = [Stages().plan(packed, Terms(Allowance(steps=300))) for _ in range(2)]
    assert plans[0] == plans[1]
    with pytest.raises(FrozenInstanceError):
        packed.nestings = ()  # type: ignore[misc]


def test_planning_can_begin_with_layouts_made_by_hand() -> None:
    """Layouts that somebody drew are put in order, assembled and audited like any others.

    Four panels of 600 × 300 stand side by side along the sheet, 1220 wide, with 3 between.
    """
    asked = job([part("shelf", (600, 300), 4)])
    division = divide(asked)
    row = Strip(Axis.X, 2440, 300, tuple(Cell(0, 600, 300) for _ in range(4)))
    layouts = (Layout(0, Strip(Axis.Y, 2440, 1220, (row,))),)
    packed = Packed(division, (Nesting(layouts, 600, 0, 1, 1, 0),))
    plan = Stages().plan(packed, Terms(Allowance(steps=0)))
    assert replay(to_document(plan), asked) == []
    assert [setting.distance for setting in plan.settings] == [300, 600]
    assert not plan.bounds.cost_proven


def test_what_is_said_at_the_saw_is_decided_before_the_audit() -> None:
    """A stage that changes the plan last has its say audited, and is part of what is returned."""
    seen: list[Plan] = []

    def renamed(plan: Plan) -> Plan:
        return instructed(replace(plan, job=replace(plan.job, name="renamed")))

    def remember(plan: Plan) -> tuple[object, ...]:
        seen.append(plan)
        return audit(plan)

    stages = Stages(instruct=renamed, audit=remember)
    plan = make_plan(SHELVES, allowance=Allowance(steps=100), stages=stages)
    assert [one.job.name for one in seen] == ["renamed"]
    assert seen[0] is plan


def test_later_stages_get_what_the_earlier_ones_made() -> None:
    """Each function is called once, in turn, with the value before."""
    called: list[str] = []

    def note(name: str, kind: type, value: object) -> None:
        assert isinstance(value, kind)
        called.append(name)

    usual = Stages()

    def packing(division: Division, terms: Terms) -> Packed:
        note("pack", Division, division)
        return usual.pack(division, terms)

    def ordering(packed: Packed, terms: Terms) -> LeastCost:
        note("order", Packed, packed)
        return usual.order(packed, terms)

    def choosing(found: LeastCost, terms: Terms) -> Chosen:
        note("choose", LeastCost, found)
        return usual.choose(found, terms)

    stages = Stages(pack=packing, order=ordering, choose=choosing)
    make_plan(SHELVES, allowance=Allowance(steps=50), stages=stages)
    assert called == ["pack", "order", "choose"]


STORE = Store(Fraction(4), Fraction(2), 4)


@pytest.mark.parametrize("is_broken_down", [False, True])
def test_what_packing_takes_is_charged_once(is_broken_down: bool) -> None:
    """The steps charged are those of the searches: those on whole sheets are not counted again.

    So packing keeps to its part of the whole, and the rest is there for fewer settings.
    """
    asked = job([part("side", (1200, 590), 7), part("rail", (700, 130), 9)], [sheet()])
    if is_broken_down:
        asked = replace(asked, store=STORE, vehicle=Vehicle(Fraction(1230), Fraction(1230)))
    allowance = Allowance(steps=20_000)
    packed = pack(divide(asked), Terms(allowance))
    assert bool(packed.division.groups[0].sheets) == is_broken_down
    assert allowance.spent == sum(nesting.steps for nesting in packed.nestings) > 0


def test_panels_that_are_left_out_are_charged_for() -> None:
    """Where all panels were tried in vain, and then the most valuable, both searches count."""
    # Turned, three stand side by side on a sheet, so that two sheets hold six. By area they hold
    # seven, 5.88 m² of 5.95, so that it is not seen at once that one has no place.
    asked = job([part("wall", (1200, 700), 7)], [sheet(in_stock=2)])
    allowance = Allowance(steps=2000)
    packed = pack(divide(asked), Terms(allowance, is_partial=True))
    assert packed.left_out
    assert allowance.spent > sum(nesting.steps for nesting in packed.nestings)

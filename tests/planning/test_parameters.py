"""What planning is tuned by: an empty object is the defaults, and nothing can change them."""

from __future__ import annotations

import inspect
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace

import pytest

from cutlist.model.job import Goal
from cutlist.nesting.allowance import Allowance
from cutlist.planning.make import make_plan
from cutlist.planning.terms import parameters
from cutlist.planning.terms.parameters import USUAL, PlanningParameters
from tests.planning.jobs import job, part

COMPONENTS = [
    kind
    for _, kind in inspect.getmembers(parameters, is_dataclass)
    if inspect.isclass(kind) and kind is not PlanningParameters
]


def test_empty_is_the_defaults() -> None:
    """Parameters of which none is given are the usual ones, whole and component by component."""
    assert PlanningParameters() == USUAL
    for one in fields(PlanningParameters):
        component = getattr(USUAL, one.name)
        assert component == type(component)()
        assert replace(USUAL, **{one.name: type(component)()}) == USUAL


def test_every_component_has_its_place() -> None:
    """There is one place for each component, and none without."""
    there = [type(getattr(USUAL, one.name)) for one in fields(PlanningParameters)]
    assert sorted(there, key=lambda kind: kind.__name__) == COMPONENTS


@pytest.mark.parametrize("kind", COMPONENTS, ids=lambda kind: kind.__name__)
def test_each_is_frozen_and_told(kind: type) -> None:
    """No parameter can be changed in place, and its docstring tells what each one does."""
    made = kind()
    assert fields(made)
    for one in fields(made):
        with pytest.raises(FrozenInstanceError):
            setattr(made, one.name, 0)
        assert kind.__doc__
        assert one.name in kind.__doc__, one.name


def test_every_goal_has_its_end() -> None:
    """Each goal leaves something of the whole to look at dearer plans."""
    assert {goal for goal, _ in USUAL.settings.ends} == set(Goal)
    assert all(0 < USUAL.settings.end(goal) < 1 for goal in Goal)


def test_no_parameters_are_the_usual_ones() -> None:
    """A plan made without any is the one made with the usual ones, and others are heeded."""
    asked = job([part("shelf", (611, 307), 6), part("side", (907, 333), 3)])
    made = make_plan(asked, allowance=Allowance(steps=400))
    assert made == make_plan(asked, allowance=Allowance(steps=400), parameters=PlanningParameters())
    short = Allowance(steps=40_000)
    hasty = replace(
        USUAL,
        settings=replace(USUAL.settings, patience=1, least_rounds=0),
        trades=replace(USUAL.trades, most_panels=0),
    )
    make_plan(asked, allowance=short, parameters=hasty)
    usual = Allowance(steps=40_000)
    make_plan(asked, allowance=usual)
    assert short.spent < usual.spent

"""Any one figure or mark of a sound plan changed: the audit finds it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.audit import audit
from cutlist.model.job import Grain
from cutlist.model.plan import Plan
from cutlist.output.plan_json import to_document
from cutlist.planning.instructions.instruct import instructed
from tests.audit.edits import with_job
from tests.audit.plans import SOUND
from tests.replay import replay

Path = tuple[str | int, ...]
NAMED = {name: make() for name, make in SOUND.items()}


def leaves(value: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Walk a plan, but not its job, down to numbers, marks and names."""
    if dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            if field.name != "job":
                yield from leaves(getattr(value, field.name), (*path, field.name))
    elif isinstance(value, tuple):
        for index, item in enumerate(value):
            yield from leaves(item, (*path, index))
    elif isinstance(value, (int, Fraction, Decimal)) or type(value) is str:
        yield path, value


def put(value: Any, path: Path, leaf: Any) -> Any:
    """Return a copy of a plan with one leaf exchanged."""
    if not path:
        return leaf
    step, below = path[0], path[1:]
    if isinstance(step, int):
        return (*value[:step], put(value[step], below, leaf), *value[step + 1 :])
    changed: dict[str, Any] = {step: put(getattr(value, step), below, leaf)}
    return dataclasses.replace(value, **changed)


def is_harmless(plan: Plan, path: Path, new: Any) -> bool:
    """Tell if the format allows the new value.

    A weaker bound, another name for the store's saw, a square panel said to lie turned.
    """
    if path[0] == "panels" and path[-1] == "turned":
        part = next(p for p in plan.job.parts if p.name == plan.panels[int(path[1])].part)
        return part.length == part.width and part.grain is Grain.ANY
    if path[0] == "setups" and path[-1] == "tool":
        return plan.settings[int(path[1])].place.value == "store"
    if path == ("bounds", "order"):
        return bool(new <= plan.totals.setups)
    proven = {"cost": plan.bounds.cost_proven, "setups": plan.bounds.setups_proven, "sheets": False}
    if path[0] == "bounds" and path[1] in proven:
        is_weaker = bool(new <= getattr(plan.totals, str(path[1])))
        meets = bool(new == getattr(plan.totals, str(path[1])))
        return is_weaker and (path[1] == "sheets" or meets == proven[str(path[1])])
    return False


LEAVES = [(name, path, value) for name, plan in NAMED.items() for path, value in leaves(plan)]
STEPS = st.fractions(min_value=-50, max_value=50, max_denominator=64).filter(lambda step: step != 0)


@pytest.mark.slow
@settings(max_examples=400, deadline=None)
@given(chosen=st.sampled_from(LEAVES), step=STEPS)
def test_any_changed_figure_is_found(chosen: tuple[str, Path, Any], step: Fraction) -> None:
    """A figure moved by any amount, a mark turned over, a name altered: at least one finding."""
    name, path, value = chosen
    plan = NAMED[name]
    if isinstance(value, bool):
        new: Any = not value
    elif isinstance(value, int):
        new = value + (int(step) or 1)
    elif isinstance(value, Decimal):
        new = value + (Decimal(int(step)) or Decimal("0.01"))
    elif isinstance(value, Fraction):
        new = value + step
    else:
        new = value + "x"
    findings = audit(put(plan, path, new))
    assert bool(findings) != is_harmless(plan, path, new), (path, value, new)


CUT_SHAPES = [
    (name, path, value)
    for name, path, value in LEAVES
    if path[-1] in ("x", "y", "length", "width", "distance", "kerf") and path[0] == "setups"
]


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(chosen=st.sampled_from(CUT_SHAPES), step=STEPS)
def test_both_replays_find_a_changed_cut(chosen: tuple[str, Path, Any], step: Fraction) -> None:
    """A place or size of a cut moved by 1/64 or more is found by the audit and by the replay."""
    name, path, value = chosen
    plan = put(NAMED[name], path, value + step)
    assert audit(plan)
    assert replay(to_document(plan), plan.job)


@pytest.mark.parametrize("name", SOUND)
def test_order_of_lists_carries_no_meaning(name: str) -> None:
    """Panels, offcuts and lines of the shopping list may stand in any order."""
    plan = NAMED[name]
    turned_over = dataclasses.replace(
        plan, panels=plan.panels[::-1], leftovers=plan.leftovers[::-1], buy=plan.buy[::-1]
    )
    assert audit(turned_over) == ()


@pytest.mark.parametrize("name", SOUND)
@pytest.mark.parametrize("factor", [Fraction(254, 10), Fraction(1, 64), Fraction(7, 3)])
def test_other_unit_changes_nothing(name: str, factor: Fraction) -> None:
    """All lengths of job and plan times a factor, areas times its square: still sound."""
    plan = NAMED[name]
    # What is usual in a unit is said, so that it is turned into the other one.
    plan = _scaled(with_job(plan, saws=plan.job.tools), factor)
    totals = dataclasses.replace(
        plan.totals,
        part_area=plan.totals.part_area * factor,
        sheet_area=plan.totals.sheet_area * factor,
        kept_offcut_area=plan.totals.kept_offcut_area * factor,
        waste_percent=NAMED[name].totals.waste_percent,
    )
    assert audit(instructed(dataclasses.replace(plan, totals=totals))) == ()


def _scaled_field(name: str, value: Any, factor: Fraction) -> Any:
    """Leave weights and times as they are: what is larger is by so much less dense."""
    if name == "kg_per_m3":
        return value / factor**3
    stays = name in ("kg", "minutes") or name.endswith("_kg")
    return value if stays else _scaled(value, factor)


def _scaled(value: Any, factor: Fraction) -> Any:
    if isinstance(value, Fraction):
        return value * factor
    if isinstance(value, tuple):
        return tuple(_scaled(item, factor) for item in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        changed: dict[str, Any] = {
            field.name: _scaled_field(field.name, getattr(value, field.name), factor)
            for field in dataclasses.fields(value)
        }
        return dataclasses.replace(value, **changed)
    return value

"""The independent replay used by end-to-end tests can itself tell sound plans from broken ones."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.model.plan import Place, Setup
from cutlist.output.plan_json import to_document
from tests.audit.broken import BROKEN, Edit
from tests.audit.plans import SOUND
from tests.replay import replay

BEYOND_THE_CORE = {
    "name empty",
    "set-up of another kind",
    "leftover elsewhere",
    "keep mark missing",
    "offcut of another material",
    "turned mark",
    "bought on two lines",
    "waste",
    "cost proven",
    "sheets bound",
    "sliver below the trim",
}
"""Faults in what the core format leaves open, or (the waste) smaller than the replay's rounding."""


@pytest.mark.parametrize("name", SOUND)
def test_sound_plan_replays(name: str) -> None:
    """A plan worked out by hand replays without a fault."""
    plan = SOUND[name]()
    assert replay(to_document(plan), plan.job) == []


@pytest.mark.parametrize(
    ("plan", "edit"),
    [
        pytest.param(plan, edit, id=name)
        for name, plan, edit, _ in BROKEN
        if name not in BEYOND_THE_CORE
    ],
)
def test_broken_plan_has_faults(plan: str, edit: Edit) -> None:
    """A plan that breaks a rule of the core format has a fault."""
    broken = edit(SOUND[plan]())
    assert replay(to_document(broken), broken.job)


def test_missing_keys_are_faults() -> None:
    """A document without a key of the core format is refused by name."""
    plan = SOUND["plain"]()
    document = to_document(plan)
    del document["panels"][0]["x"]
    assert replay(document, plan.job) == ["panels: keys missing: ['x']"]


def test_set_ups_of_other_kinds_are_not_left_out_silently() -> None:
    """What the format has no words for is refused instead of being lost."""
    plan = SOUND["plain"]()
    router = replace(plan, setups=(*plan.setups, Setup(4, Place.SHOP, "router")))
    with pytest.raises(ValueError, match="saws only"):
        to_document(router)

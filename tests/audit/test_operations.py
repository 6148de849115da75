"""The audit's walk through operations, beside the ledger's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.audit import operations
from cutlist.audit.operations import sizes_of
from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.matching import matched
from cutlist.model.job import Match
from cutlist.model.plan import Direction, Plan, SawSetup
from tests.audit.plans import SOUND
from tests.ledger.test_operations import BenchSetup, routed_panel


def numbers(plan: Plan, piece: str, across: Direction) -> set[int]:
    """Return the numbers of the set-ups that set a size of a piece."""
    given = sizes_of(plan).get(piece, {}).get(across, ())
    return {one.setup.number for one in given if one is not None and one.is_set}


def test_a_routed_panel_has_the_sizes_of_its_blank(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a kind of set-up is followed, sizes are those of the piece that goes on."""
    monkeypatch.setattr(operations, "FOLLOWED", (SawSetup, BenchSetup))
    plan, routed = routed_panel()
    blank = plan.panels[0].piece.name
    found = [numbers(routed, "routed", way) for way in Direction]
    assert found == [numbers(plan, blank, way) for way in Direction]
    assert any(found)


def test_a_kind_without_rules_is_not_walked_through() -> None:
    """What a set-up makes that no rule knows has no sizes."""
    assert "routed" not in sizes_of(routed_panel()[1])


@pytest.mark.parametrize("name", sorted(SOUND))
def test_both_walks_agree(name: str) -> None:
    """Audit and ledger, which share no walk, say the same of what set the sizes of panels."""
    plan = SOUND[name]()
    sides = {panel.piece.width for panel in plan.panels}
    parts = tuple({panel.part: None for panel in plan.panels})
    asked = tuple(Match(str(side), side, parts) for side in sorted(sides))
    told = matched(read_ledger(replace(plan, job=replace(plan.job, matches=asked))))
    assert told
    for one in told:
        found: set[int] = set()
        for panel in plan.panels:
            for size, way in ((panel.piece.length, Direction.CROSSCUT),
                              (panel.piece.width, Direction.RIP)):  # fmt: skip
                if size == one.distance:
                    found |= numbers(plan, panel.piece.name, way)
        assert found == {*one.settings, *one.guided}

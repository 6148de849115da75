from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Direction, Plan
from tests.drawing.plans import all_plans, european, small


def test_every_piece_has_one_fate() -> None:
    """A piece is divided, a panel, or left over: exactly one of the three."""
    plans = all_plans().values()
    assert plans
    for plan in plans:
        ledger = read_ledger(plan)
        assert ledger.pieces
        for name in ledger.pieces:
            fates = (name in ledger.divided_by, name in ledger.panel_of, name in ledger.leftover_of)
            assert sum(fates) == 1, name


def test_a_cut_line_is_the_middle_of_its_kerf() -> None:
    """Half a kerf beyond what is kept, on the side away from the fence."""
    ledger = read_ledger(small())
    first = ledger.lines["A"][0]
    assert first.direction is Direction.RIP
    # Kept 196 mm from the edge, kerf 3.2 mm.
    assert first.middle == Fraction(196) + Fraction(16, 5) / 2
    assert (first.start, first.end, first.depth) == (Fraction(0), Fraction(600), 0)
    trimmed = read_ledger(european()).lines["A"][0]
    # 10 mm of factory edge come off at the origin: kept is the far side.
    assert trimmed.middle == trimmed.cut.kept.y - Fraction(16, 5) / 2


def _turned(plan: Plan) -> Plan:
    """Exchange what comes off and what is left, in every cut that leaves anything."""
    return replace(
        plan,
        setups=tuple(
            replace(
                setting,
                cuts=tuple(
                    replace(cut, kept=cut.rest, rest=cut.kept) if cut.rest else cut
                    for cut in setting.cuts
                ),
            )
            for setting in plan.settings
        ),
    )


def test_sizes_that_no_fence_sets_are_known() -> None:
    """Walking up from each panel finds the same cuts as walking down from what each cut leaves.

    The plans at hand set every size at the fence; with the sides of each cut exchanged none is.
    """
    found = 0
    for plan in [*all_plans().values(), *map(_turned, all_plans().values())]:
        ledger = read_ledger(plan)
        cuts = [cut for setting in plan.settings for cut in setting.cuts]
        made_by = {side.name: cut for cut in cuts for side in (cut.kept, cut.rest) if side}
        leaving: set[int] = set()
        for panel in plan.panels:
            for direction in Direction:
                name = panel.piece.name
                while name in made_by and made_by[name].direction is not direction:
                    name = made_by[name].piece
                if name in made_by and made_by[name].kept.name != name:
                    leaving.add(made_by[name].number)
        assert {cut.number for cut in cuts if ledger.sizes_panels(cut)} == leaving
        found += len(leaving)
    assert found

"""The same parts on each sheet size, and on the best mix."""

from __future__ import annotations

from cutlist.planning.budget import Budget
from cutlist.planning.compare import Variant, compare
from tests.planning.jobs import job, offcut, part, sheet


def compared(*args: object, **more: object) -> list[Variant]:
    """Compare with a small budget of steps."""
    asked = job(*args, **more)  # type: ignore[arg-type]
    return compare(asked, budget=lambda: Budget(seconds=None, steps=300))


SHEETS = (sheet("large", (2440, 1220), "50"), sheet("small", (1220, 610), "16"))


def test_each_sheet_and_the_mix() -> None:
    """Every sheet of a material stands alone once, then all together."""
    variants = compared([part("shelf", (1200, 300), 5)], SHEETS)
    assert [(v.sheets, v.is_mix) for v in variants] == [
        (("large",), False),
        (("small",), False),
        (("large", "small"), True),
    ]
    large, small, mix = (v.plan for v in variants)
    assert large
    assert small
    assert mix
    assert {line.sheet for line in large.buy} == {"large"}
    assert {line.sheet for line in small.buy} == {"small"}
    assert mix.totals.cost <= min(large.totals.cost, small.totals.cost)


def test_sheet_that_cannot_serve() -> None:
    """A sheet too small for a part is no error, it says why it cannot serve."""
    variants = compared([part("wall", (2000, 1000))], SHEETS)
    large, small, mix = variants
    assert small.plan is None
    assert small.reason.startswith("wall 2000 × 1000 mm cannot be cut from small")
    assert large.plan is not None
    assert mix.plan is not None
    assert mix.reason == ""


def test_one_sheet_is_not_told_twice() -> None:
    """A material with a single sheet has one variant."""
    variants = compared([part("shelf", (600, 300))], SHEETS[:1])
    assert [(v.sheets, v.is_mix) for v in variants] == [(("large",), True)]


def test_materials_one_by_one() -> None:
    """Each material is planned with its own parts, sheets and offcuts."""
    parts = [part("shelf", (600, 300)), part("back", (900, 500), material="mdf")]
    sheets = [sheet(), sheet("m", material="mdf", price="30")]
    first, second = compared(parts, sheets, [offcut("rack", (700, 400))])
    assert first.material == "birch ply"
    assert first.plan is not None
    assert [piece.stock for piece in first.plan.workpieces] == ["rack"]
    assert second.material == "mdf"
    assert second.plan is not None
    assert [panel.part for panel in second.plan.panels] == ["back"]


def test_offcuts_alone() -> None:
    """Parts with no sheet to buy are planned on offcuts."""
    (only,) = compared([part("shelf", (600, 300))], [], [offcut("rack", (700, 400))])
    assert only.sheets == ()
    assert only.plan is not None
    assert only.plan.buy == ()

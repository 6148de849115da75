"""Stock that does not suffice: what would solve it, and the partial plan."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Part, Saw, Sheet
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_document
from cutlist.planning.make import make_plan
from cutlist.units.system import Units
from tests.refusing import said
from tests.replay import replay

FULL = Sheet("full", "MDF", Fraction(18), Fraction(2440), Fraction(1220), Decimal(40))


def job(*parts: tuple[str, tuple[int, int], int, str | None], in_stock: int = 1) -> Job:
    """Return a job on so many full sheets, kerf 3 mm, no part turned."""
    return Job(
        name="short stock",
        units=Units.MM,
        saw=Saw(Fraction(3)),
        sheets=(replace(FULL, in_stock=in_stock),),
        parts=tuple(
            Part(
                name,
                "MDF",
                Fraction(18),
                Fraction(size[0]),
                Fraction(size[1]),
                qty,
                Grain.LENGTH,
                None if value is None else Decimal(value),
            )
            for name, size, qty, value in parts
        ),
    )


def allowance() -> Allowance:
    """Return an allowance that is the same on every machine."""
    return Allowance(steps=4000)


def test_says_what_would_solve_it() -> None:
    """Four sides of 1200 × 600 fill a sheet, so nine ask for two sheets beyond the one in stock."""
    with pytest.raises(CannotCutError) as caught:
        make_plan(job(("side", (1200, 600), 9, None)), allowance=allowance())
    (reason,) = said(caught.value)
    assert "2 more full would do" in reason


def test_partial_plan_is_sound_and_says_what_it_leaves_out() -> None:
    """Four of nine sides fit one sheet (2 × 2 with one kerf each way); five are left out."""
    asked = job(("side", (1200, 600), 9, None))
    plan = make_plan(asked, allowance=allowance(), partial=True)
    assert [(entry.part, entry.count) for entry in plan.short] == [("side", 5)]
    assert plan.totals.parts == 4
    assert replay(to_document(plan), asked) == []
    assert to_document(plan)["short"] == [{"part": "side", "count": 5}]


def test_value_decides_what_is_left_out() -> None:
    """Shelves worth more than their area displace sides, and the other way round."""
    parts = (("side", (1200, 600), 4, None), ("shelf", (1200, 600), 4, "2000000"))
    plan = make_plan(job(*parts), allowance=allowance(), partial=True)
    assert [(entry.part, entry.count) for entry in plan.short] == [("side", 4)]
    parts = (("side", (1200, 600), 4, None), ("shelf", (1200, 600), 4, "1"))
    plan = make_plan(job(*parts), allowance=allowance(), partial=True)
    assert [(entry.part, entry.count) for entry in plan.short] == [("shelf", 4)]


def test_partial_changes_nothing_where_the_stock_suffices() -> None:
    """With enough sheets a partial plan is the whole plan."""
    asked = job(("side", (1200, 600), 9, None), in_stock=3)
    plan = make_plan(asked, allowance=allowance(), partial=True)
    assert plan.short == ()
    assert plan == make_plan(asked, allowance=allowance())

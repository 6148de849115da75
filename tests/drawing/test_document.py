from __future__ import annotations

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.audit.plan_audit import audit
from cutlist.drawing.pages.document import record
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Rect, Role, Text
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_all
from tests.drawing.plans import all_plans
from tests.drawing.random_plans import random_plan

DAY = datetime.date(2026, 3, 1)


@pytest.mark.slow
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("name", sorted(all_plans()))
def test_every_page_is_legible(name: str, paper: Paper) -> None:
    """On no page of any plan lettering overlaps, leaves the frame or gets tiny."""
    pages = record(all_plans()[name], paper=paper, date=DAY).pages
    assert pages
    for page in pages:
        assert_legible(page)


@pytest.mark.slow
@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("name", sorted(all_plans()))
def test_every_page_with_all_extras_is_legible(name: str, paper: Paper) -> None:
    """So with a second unit, matching panels, saws of every kind and unsafe cuts."""
    pages = record(with_all(all_plans()[name]), paper=paper, date=DAY).pages
    assert pages
    for page in pages:
        assert_legible(page)


@pytest.mark.slow
@settings(max_examples=12, deadline=None)
@given(st.integers(0, 100_000), st.sampled_from([A4, LETTER]), st.booleans())
def test_random_plans_are_legible_and_whole(seed: int, paper: Paper, with_extras: bool) -> None:
    """Whatever is cut from whatever sheet: legible pages, every cut with its box to tick."""
    plan = random_plan(seed)
    assert audit(plan) == ()
    if with_extras:
        plan = with_all(plan)
    recording = record(plan, paper=paper, date=DAY)
    for page in recording.pages:
        assert_legible(page)
    numbers = [int(text.content) for text in recording.of_kind(Text, Role.CUT_NUMBER)]
    assert sorted(numbers) == list(range(1, plan.totals.cuts + 1))
    assert len(recording.of_kind(Rect, Role.TICK)) == plan.totals.cuts


@pytest.mark.slow
def test_a_thousand_panels_are_counted_beside_every_mark() -> None:
    """Four figures of four figures leave no room for the marks: the count stands alone."""
    plan = random_plan(3067)
    assert plan.totals.parts > 1000
    for page in record(plan, paper=A4, date=DAY).pages:
        assert_legible(page)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [12, 43])
def test_cautions_are_on_the_first_page(seed: int) -> None:
    """However long the lists, the cautions are not put off to a later page."""
    pages = record(random_plan(seed), paper=A4, date=DAY).pages
    assert "Before you switch the saw on" in [text.content for text in texts(pages[0])]
    assert "Parts, continued" in [text.content for text in texts(pages[1])]

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.drawing import theme
from cutlist.drawing.pages.document import compose
from cutlist.drawing.pages.shopping_page import shopping_pages
from cutlist.drawing.pages.summary import summary_pages
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Line, Page, Rect, Role
from cutlist.ledger.ledger import read_ledger
from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.job import Grain
from cutlist.model.plan import Plan
from cutlist.telling.edges import trim_words, unclean_words
from tests.audit.plans import SOUND
from tests.drawing.checks import texts
from tests.drawing.plans import all_plans, european
from tests.drawing.test_sequence_pages import pages_of
from tests.drawing.trips import confusing, crowded
from tests.ledger.following import followed_edges
from tests.planning.jobs import job, offcut, part, planned

PLANS = {
    **all_plans(),
    "store_and_vehicle": SOUND["store_and_vehicle"](),
    "crowded": crowded(),
    "confusing": confusing(),
}


@pytest.mark.parametrize("name", sorted(PLANS))
def test_edges_to_clean_are_those_that_the_rack_is_told(name: str) -> None:
    """Whatever stays has the edges that following every cut, also the store's, leaves unclean."""
    plan = PLANS[name]
    ledger = read_ledger(plan)
    followed = followed_edges(plan)
    for leftover in plan.leftovers:
        words = unclean_words(ledger, leftover.piece)
        found = set(Edge) if words == "all" else {Edge(one) for one in words.split(", ") if one}
        assert found == set(followed[leftover.piece.name])


def test_edges_that_the_store_cut_are_to_be_cleaned() -> None:
    """3 mm at the store: a spare blank and an offcut to keep tell the edges that it cut."""
    plan = crowded()
    ledger = read_ledger(plan)
    assert unclean_words(ledger, ledger.pieces["A4"]) == "left, upper"
    said = " ".join(t.content for page in shopping_pages(ledger, A4) for t in texts(page))
    assert "spare: no part is cut from it; edges to clean: left, upper" in said
    said = " ".join(t.content for page in summary_pages(ledger, A4) for t in texts(page))
    assert "edges to clean" in said
    assert "left, upper" in said
    assert plan.job.store
    true = replace(plan, job=replace(plan.job, store=replace(plan.job.store, accuracy=Fraction(0))))
    said = " ".join(
        t.content for page in shopping_pages(read_ledger(true), A4) for t in texts(page)
    )
    assert "edges to clean" not in said


def test_a_sheet_without_trim_has_no_factory_edge_to_speak_of() -> None:
    """The same piece has one where the sheet has a trim, and none where it has none."""
    plan = european()
    ledger = read_ledger(plan)
    piece = next(one.piece for one in plan.leftovers if unclean_words(ledger, one.piece))
    bare = tuple(replace(work, trim=work.trim * 0) for work in plan.workpieces)
    assert unclean_words(read_ledger(replace(plan, workpieces=bare)), piece) == ""


def test_all_four_edges_are_said_in_a_word() -> None:
    """A whole sheet has all four."""
    plan = SOUND["trimmed_edges"]()
    ledger = read_ledger(plan)
    assert unclean_words(ledger, ledger.pieces[plan.workpieces[0].piece]) == "all"
    strip = next(one.piece for one in plan.leftovers if unclean_words(ledger, one.piece))
    assert unclean_words(ledger, strip).split(", ")[0] in set(Edge)


def test_offcuts_to_keep_tell_their_edges_to_clean() -> None:
    """The closing list names them beside the size."""
    plan = european()
    kept = tuple(replace(one, keep=True) for one in plan.leftovers[:3])
    plan = replace(plan, leftovers=kept)
    ledger = read_ledger(plan)
    said = " ".join(t.content for page in pages_of(plan) for t in texts(page))
    for one in kept:
        words = unclean_words(ledger, one.piece)
        if words:
            assert f"(edges to clean: {words})" in said.replace("\u00a0", " ")
    assert any(unclean_words(ledger, one.piece) for one in kept)


def every_page(plan: Plan) -> tuple[Page, ...]:
    """Compose the whole document."""
    return compose(plan, paper=A4, date=datetime.date(2026, 1, 2))


def with_one_edge(edge: Edge, *, has_grain: bool = True) -> Plan:
    """Plan a panel on an offcut of which one edge is not clean."""
    edges = EdgeTrims(**{edge: Fraction(6)})
    piece = replace(offcut("rack 1", (500, 300)), edges=edges, has_grain=has_grain)
    asked = job([part("shelf", (400, 200), grain=Grain.LENGTH)], [], [piece])
    return planned(asked, 20)


@pytest.mark.parametrize(
    ("edge", "side"),
    [(Edge.LEFT, "x"), (Edge.RIGHT, "right"), (Edge.LOWER, "bottom"), (Edge.UPPER, "y")],
)
def test_a_single_edge_is_marked_and_said(edge: Edge, side: str) -> None:
    """Just inside the edge that is not clean lies a chain line, beside it alone; words name it."""
    plan = with_one_edge(edge)
    ledger = read_ledger(plan)
    (page,) = (p for p in every_page(plan) if any(i.role is Role.SHEET for i in p.items))
    (sheet,) = (i.box for i in page.items if isinstance(i, Rect) and i.role is Role.SHEET)
    chains = [i for i in page.items if isinstance(i, Line) and i.dash_mm == theme.CHAIN]
    inside = [i for i in chains if sheet.x <= min(i.x1, i.x2) and max(i.y1, i.y2) <= sheet.bottom]
    (line,) = (i for i in inside if i.x2 - i.x1 > 20 or i.y2 - i.y1 > 20)
    found = (line.x1, line.x2) if side in ("x", "right") else (line.y1, line.y2)
    assert found[0] == found[1]
    assert 0 < abs(found[0] - getattr(sheet, side)) < 4
    said = " ".join(t.content for t in texts(page)).replace("\u00a0", " ")
    assert f"clean off at least 6 mm: {edge}" in said
    assert f"edge to clean off, at least 6 mm: {edge}" in said
    assert trim_words(plan.workpieces[0], plan.job).replace("\u00a0", " ") == f"6 mm: {edge}"
    assert ledger.stock_of[plan.panels[0].piece.name].trims.at(edge) == 6


def test_no_grain_is_drawn_where_there_is_none() -> None:
    """The key says that the material has no grain; without that, that it runs left to right."""
    for has_grain in (True, False):
        pages = every_page(with_one_edge(Edge.LEFT, has_grain=has_grain))
        said = " ".join(t.content for page in pages for t in texts(page)).replace("\u00a0", " ")
        assert ("the material has no grain" in said) is not has_grain
        assert ("grain of the sheet: left to right" in said) is has_grain
        assert ("the grain must run this way" in said) is has_grain

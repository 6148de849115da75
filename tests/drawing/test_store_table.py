"""The store's cuts in the sequence of the shop."""

from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.pages.sequence_pages import sequence_pages
from cutlist.drawing.pages.sequence_rows import Progress
from cutlist.drawing.pages.store_table import add_store_table
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Role
from cutlist.ledger.ledger import read_ledger
from tests.audit.plans import SOUND
from tests.drawing.checks import assert_legible, texts
from tests.drawing.plans import broken_down, market_stall
from tests.drawing.trips import crowded


def test_nothing_is_said_where_the_store_cuts_nothing() -> None:
    """No table, and no page begun."""
    ledger = read_ledger(market_stall())
    flow = Flow(A4, "Cut sequence")
    add_store_table(flow, ledger, Progress(ledger))
    assert flow.finish() == ()


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_each_piece_says_where_it_goes_on(paper: Paper) -> None:
    """By setting and cut, as the tags on the layouts have them; offcuts say what they are."""
    ledger = read_ledger(crowded())
    flow = Flow(paper, "Cut sequence")
    add_store_table(flow, ledger, Progress(ledger))
    (page,) = flow.finish()
    assert_legible(page)
    said = [text.content for text in texts(page)]
    assert "A1…A4 2800 × 1253 mm, 2·2" in said
    assert "A6 1296 × 813 mm, offcut to keep" in said
    assert [text.content for text in texts(page, Role.CUT_NUMBER)] == ["1", "2", "3", "4", "5"]


def test_the_halves_of_a_board_go_on_in_the_shop() -> None:
    """The board halved at the store: its halves go on at settings 2 and 3."""
    ledger = read_ledger(SOUND["store_and_vehicle"]())
    said = [text.content for page in sequence_pages(ledger, A4) for text in texts(page)]
    assert 'A1 48" × 48", 2·2' in said
    assert 'A2 47 7/8" × 48", 3·4' in said


def test_panels_that_come_from_the_store_are_counted() -> None:
    """The first block of the shop begins with what is finished already."""
    plan = broken_down()
    ledger = read_ledger(plan)
    progress = Progress(ledger)
    add_store_table(Flow(A4, "Cut sequence"), ledger, progress)
    first = plan.settings[0]
    names = {piece.name for cut in first.cuts for piece in (cut.kept, cut.rest) if piece}
    assert progress.done == len(names & set(ledger.panel_of))

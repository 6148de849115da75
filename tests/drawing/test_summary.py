from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.drawing.pages.summary import summary_pages
from cutlist.drawing.paper import A4, Paper
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from tests.audit.plans import SOUND
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_saws
from tests.drawing.plans import all_plans, european, market_stall, small

NAMES = sorted(all_plans())


def said(plan: Plan, paper: Paper = A4) -> list[str]:
    """All text of the summary."""
    return [t.content for page in summary_pages(read_ledger(plan), paper) for t in texts(page)]


def test_the_three_figures_stand_out() -> None:
    """Cost, set-ups and what is left over, each in large figures with words on how good it is."""
    (page,) = summary_pages(read_ledger(market_stall()), A4)
    large = [t.content for t in texts(page) if t.size_pt >= 20]
    assert large == ["243.50", "26", "36.5 sq ft"]
    words = said(market_stall())
    assert "4 sheets; 4 are needed" in words
    assert "no plan costs less" in words
    # 10, 4 and 12 set-ups of 3, 2 and 5 minutes, and 45 cuts.
    assert "10 fence, 4 stop, 12 guide 2 h 23 min at the saws" in " ".join(words)


def test_what_to_buy_is_listed_with_its_price() -> None:
    """Sheets with count, size, price and cost."""
    words = said(european())
    for word in ("board 2800", "melamine board 18 mm", "2800 × 2070 mm", "118.90", "356.70"):
        assert word in words


def test_without_prices_sheets_are_counted() -> None:
    """A job without prices shows the number of sheets instead of a cost of nothing."""
    words = said(small())
    assert "sheets to buy" in words
    assert "cost" not in words
    assert "0.00" not in words


def test_parts_name_their_sheets() -> None:
    """The list of parts tells on which sheet how many panels are."""
    words = said(market_stall())
    assert "A (2), B (2), C (2)" in words
    assert "rack 3" in words
    assert "A1a3b, B1a3b, C1a3b" in words


def test_matching_panels_are_listed() -> None:
    """Each group with its size, its parts, and whether one setting serves it."""
    words = said(SOUND["matching"]())
    start = words.index("Panels that match")
    for word in ("depth", '14 1/2"', "end, shelf", "at setting 1"):
        assert word in words[start:]
    assert "Panels that match" not in said(SOUND["plain"]())


def test_cuts_that_are_not_safe_come_first() -> None:
    """They are listed above what is to be bought, with the saw and the reason."""
    words = said(with_saws(market_stall()))
    start = words.index("Beyond the limits of all your saws: find another way for these cuts")
    assert start < words.index("What to buy")
    assert "set-ups in the shop" in words


@pytest.mark.parametrize(
    "caution",
    [
        "Riving knife and guard",
        "Unplug the saw",
        "never reach over it",
        "under the fence",
        "push stick",
        "Never rip fence and mitre gauge together",
        "sled",
        "two people",
        "fine-dust mask",
        "maker's manual",
        "local codes",
        "qualified instruction",
    ],
)
def test_the_cautions_are_there(caution: str) -> None:
    """The usual cautions are printed once and defer to those who know the machine."""
    assert caution in " ".join(said(small()))


def test_a_list_a_little_too_long_gives_up_what_the_shopping_list_says() -> None:
    """The summary stays on one page: first what to buy goes, then some of the gaps."""
    plan = market_stall()
    kept = next(one for one in plan.leftovers if one.keep)
    listed = []
    for count in range(1, 30):
        more = tuple(
            replace(kept, piece=replace(kept.piece, length=kept.piece.length - number))
            for number in range(count)
        )
        pages = summary_pages(read_ledger(replace(plan, leftovers=more)), A4)
        words = [text.content for page in pages for text in texts(page)]
        assert "Before you switch the saw on" in [text.content for text in texts(pages[0])]
        for page in pages:
            assert_legible(page)
        if len(pages) > 1:
            break
        listed.append("What to buy" in words)
    assert listed == sorted(listed, reverse=True)
    assert listed.count(False) >= 3


def test_a_plan_of_offcuts_alone_keeps_its_figures() -> None:
    """Nothing to buy is no reason for a page more."""
    plan = replace(market_stall(), buy=())
    assert len(summary_pages(read_ledger(plan), A4)) == 1

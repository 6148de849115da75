"""Why a job cannot be cut, told in the words of the job."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.errors import CannotCutError
from cutlist.model.job import Grain
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.planning.remedies.reasons import refusal_of
from tests.planning.jobs import job, offcut, part, planned, sheet
from tests.refusing import because, said

ASKED = job(
    [part("shelf", (600, 300)), part("wall", (3000, 300), grain=Grain.LENGTH)],
    [sheet("full", in_stock=2), sheet("small", (900, 900))],
    [offcut("rack", (400, 300))],
)


def test_part_that_fits_nowhere() -> None:
    """The part, its size, its grain and all stock of its material are named."""
    error = refusal_of(ASKED, (1,), ItemFitsNowhereError([0]))
    assert said(error) == (
        "wall 3000 × 300 mm with the grain along its length cannot be cut from"
        " full 2440 × 1220 mm, small 900 × 900 mm, rack 400 × 300 mm",
    )


def test_every_part_that_fits_nowhere() -> None:
    """Each such part is a reason of its own."""
    error = refusal_of(ASKED, (0, 1), ItemFitsNowhereError([0, 1]))
    assert [reason.split(" ")[0] for reason in said(error)] == ["shelf", "wall"]


def test_reach_is_named_where_it_matters() -> None:
    """Only a part that lies within a sheet and yet cannot be cut from it hears of the fence."""
    close = part("close", (2438, 300), grain=Grain.LENGTH)
    asked = replace(ASKED, saw=job([], reach=1000).saw, parts=(close, *ASKED.parts))
    wall, close_by = (said(refusal_of(asked, (i,), ItemFitsNowhereError([0])))[0] for i in (2, 0))
    assert "the fence does not reach across it" in close_by
    assert "fence" not in wall


@pytest.mark.parametrize(
    ("proven", "verdict"),
    [
        (True, "cannot hold all panels: short of"),
        (False, "did not hold all panels in any layout found: short of"),
    ],
)
def test_short_stock(proven: bool, verdict: str) -> None:
    """What is left over is counted, proven or not, and only limited sheets can be raised."""
    error = refusal_of(ASKED, (0, 1), StockTooSmallError({0: 2, 1: 1}, proven=proven))
    assert said(error) == (
        f"the stock of birch ply 18 mm {verdict} 2 × shelf, 1 × wall;"
        " raise in_stock of full (2 in stock)",
    )


def test_short_stock_without_limits() -> None:
    """Where no sheet is limited another one is asked for."""
    asked = replace(ASKED, sheets=(sheet("small", (900, 900)),))
    (reason,) = said(refusal_of(asked, (0,), StockTooSmallError({0: 1}, proven=True)))
    assert reason.endswith("short of 1 × shelf; add a sheet to buy")


def test_other_errors_pass() -> None:
    """An error that is in words already stays as it is."""
    error = CannotCutError(because("nothing to be done"))
    assert refusal_of(ASKED, (0,), error) is error


def test_large_parts_run_out_beside_small_sheets() -> None:
    """A part that only a limited sheet or offcut holds runs out though small sheets do not."""
    asked = job(
        [part("wall", (2000, 1000), 3), part("shelf", (600, 300), 2)],
        [sheet("full", in_stock=2), sheet("small", (900, 900), "5")],
    )
    with pytest.raises(CannotCutError) as caught:
        planned(asked)
    (reason,) = said(caught.value)
    assert "short of 1 × wall" in reason
    assert reason.endswith("raise in_stock of full (2 in stock)")

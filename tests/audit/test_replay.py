"""The replay of cuts: edges through a sequence, clean-ups, and what is there after the store."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from cutlist.audit import Code
from cutlist.audit.findings import Report
from cutlist.audit.replay import Replay, replay
from cutlist.model.job import Job, Saw, Sheet, Store
from cutlist.model.plan import Cut, Place, Plan, SawSetup
from cutlist.units.system import Units
from tests.audit.edits import with_cut
from tests.audit.plans import BREAK_DOWN, CLEAN_UP, CROSSCUT, RIP, SOUND, bought, box, f, setting

SHEET = Sheet("board", "ash ply", f(12), f(100), f(100), Decimal(9), None, f(5))


def _run(accuracy: float, *settings: SawSetup) -> tuple[Replay, list[Code]]:
    """Replay settings on one board of 100 × 100 with a trim of 5, sawn with kerfs of 3."""
    job = Job("Shelf", Units.MM, Saw(f(3)), (SHEET,), (), store=Store(f(3), f(accuracy)))
    plan = replace(
        SOUND["plain"](), job=job, workpieces=bought(SHEET, "A"), setups=settings, panels=()
    )
    run, report = Replay(), Report()
    replay(plan, run, report)
    return run, [finding.code for finding in report.findings]


@pytest.mark.parametrize(
    ("accuracy", "distance", "codes"),
    [
        pytest.param(3, 93, [], id="the trim is the larger, met"),
        pytest.param(3, 93.5, [Code.CLEAN_UP_TOO_SMALL], id="the trim is the larger, missed"),
        pytest.param(6, 92, [], id="the accuracy is the larger, met"),
        pytest.param(6, 92.5, [Code.CLEAN_UP_TOO_SMALL], id="the accuracy is the larger, missed"),
    ],
)
def test_store_edge_within_the_trim_asks_for_the_larger(
    accuracy: float, distance: float, codes: list[Code]
) -> None:
    """An edge both store-cut and within the trim loses the larger of the two."""
    store = Cut(1, "A", RIP, BREAK_DOWN, box("B", 0, 0, 100, 98), None)
    shop = Cut(2, "B", RIP, CLEAN_UP, box("C", 0, 0, 100, distance), None)
    if 98 - distance > 3:
        shop = replace(shop, rest=box("D", 0, distance + 3, 100, 98 - distance - 3))
    settings = (setting(1, 98, 3, store, place=Place.STORE), setting(2, distance, 3, shop))
    assert _run(accuracy, *settings)[1] == codes


@pytest.mark.parametrize(
    ("sliver", "is_clean"), [pytest.param(2, True, id="all"), pytest.param(1.5, False, id="less")]
)
def test_kept_sliver_and_kerf_come_off_the_rest(sliver: float, is_clean: bool) -> None:
    """Where the factory edge rides the fence, kept and kerf together clean the rest's edge."""
    half = Cut(1, "A", RIP, CLEAN_UP, box("B", 0, 50, 100, 50), box("C", 0, 0, 100, 47))
    rest = box("E", 0, sliver + 3, 100, 44 - sliver)
    cut = Cut(2, "C", RIP, CLEAN_UP, box("D", 0, 0, 100, sliver), rest)
    run, codes = _run(0, setting(1, 50, 3, half), setting(2, sliver, 3, cut))
    assert codes == ([] if is_clean else [Code.CLEAN_UP_TOO_SMALL])
    edges = run.pieces["E"].edges
    assert (edges.y_low.clean, edges.y_high.clean, edges.x_low.clean) == (is_clean, True, False)


def test_pieces_at_home_are_those_after_the_last_store_cut() -> None:
    """Two cuts at the store are both done before the way home, cuts at the shop are not."""
    first = Cut(1, "A", RIP, BREAK_DOWN, box("B", 0, 0, 100, 48), box("C", 0, 51, 100, 49))
    second = Cut(2, "B", CROSSCUT, BREAK_DOWN, box("D", 0, 0, 50, 48), box("E", 53, 0, 47, 48))
    third = Cut(3, "C", CROSSCUT, CLEAN_UP, box("F", 0, 51, 40, 49), box("G", 43, 51, 57, 49))
    run, codes = _run(
        0,
        setting(1, 48, 3, first, place=Place.STORE),
        setting(2, 50, 3, second, place=Place.STORE),
        setting(3, 40, 3, third),
    )
    assert codes == []
    assert set(run.at_home) == {"C", "D", "E"}
    assert set(run.final) == {"D", "E", "F", "G"}


def test_pieces_of_an_unknown_piece_are_followed() -> None:
    """A cut of a piece that nothing made is one finding; what it makes is there for later cuts."""
    plan: Plan = with_cut(SOUND["store_and_vehicle"](), 1, piece="Q")
    run, report = Replay(), Report()
    replay(plan, run, report)
    assert [finding.code for finding in report.findings] == [Code.PIECE_UNKNOWN]
    assert run.pieces["H1"].workpiece is None
    assert set(run.final) >= {"A", "E1", "F1", "G1", "H1"}


def test_rest_without_width_is_found() -> None:
    """A piece needs both sizes."""
    cut = Cut(1, "A", RIP, CLEAN_UP, box("B", 0, 0, 100, 50), box("C", 0, 53, 100, 0))
    assert Code.PIECE_WITHOUT_SIZE in _run(0, setting(1, 50, 3, cut))[1]


def test_each_edge_asks_for_its_own_measure() -> None:
    """A factory edge asks for the trim of 5, a store edge clear of it for the accuracy alone."""
    factory = Cut(1, "A", RIP, CLEAN_UP, box("B", 0, 0, 100, 95), box("C", 0, 98, 100, 2))
    assert _run(8, setting(1, 95, 3, factory))[1] == []
    store = Cut(1, "A", RIP, BREAK_DOWN, box("B", 0, 0, 100, 90), box("C", 0, 93, 100, 7))
    shop = Cut(2, "B", RIP, CLEAN_UP, box("D", 0, 0, 100, 86), box("E", 0, 89, 100, 1))
    settings = (setting(1, 90, 3, store, place=Place.STORE), setting(2, 86, 3, shop))
    assert _run(4, *settings)[1] == []
    assert _run(4.5, *settings)[1] == [Code.CLEAN_UP_TOO_SMALL]

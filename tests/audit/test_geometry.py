"""Geometry through shapely: gaps of a kerf, its tolerance, and places it does not confuse."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.audit import Code
from cutlist.audit.findings import Report
from cutlist.audit.geometry import check_geometry
from cutlist.audit.replay import Replay, replay
from cutlist.model.plan import Panel, Plan
from tests.audit.edits import with_store
from tests.audit.plans import SOUND, box, f, panel


def _codes(plan: Plan, *panels: Panel) -> list[Code]:
    """Place panels on the first workpiece under the names of real pieces, and look at geometry."""
    run, report = Replay(), Report()
    replay(plan, run, report)
    report.findings.clear()
    check_geometry(replace(plan, panels=panels, leftovers=()), run, report)
    return [finding.code for finding in report.findings]


@pytest.mark.parametrize(
    ("x", "y", "codes"),
    [
        pytest.param(10.125, 0, [], id="a kerf apart in x"),
        pytest.param(0, 10.125, [], id="a kerf apart in y"),
        pytest.param(10.125, 10.125, [], id="a kerf apart in both"),
        pytest.param(10.125, 9, [], id="a kerf apart in x, beside each other in y"),
        pytest.param(10.0625, 30, [], id="near in x, far apart in y"),
        pytest.param(10.0625, 0, [Code.CLOSER_THAN_KERF], id="half a kerf apart in x"),
        pytest.param(10, 0, [Code.CLOSER_THAN_KERF], id="touching"),
        pytest.param(10.1, 10.1, [Code.CLOSER_THAN_KERF], id="corner within a kerf in both"),
        pytest.param(9, 9, [Code.OVERLAP], id="corners overlap"),
        pytest.param(0, 0, [Code.OVERLAP], id="same place"),
        pytest.param(10.1249999, 0, [], id="short by less than the tolerance"),
        pytest.param(10.12499, 0, [Code.CLOSER_THAN_KERF], id="short by more than it"),
    ],
)
def test_two_panels_lie_a_kerf_apart_in_x_or_in_y(x: float, y: float, codes: list[Code]) -> None:
    """One gap of a kerf, in either direction, is what a guillotine cut leaves."""
    plan = SOUND["plain"]()
    first, second = box("A1a", 0, 0, 10, 10), box("A2a1", x, y, 10, 10)
    assert _codes(plan, panel("end", 1, first), panel("end", 2, second)) == codes
    assert _codes(plan, panel("end", 2, second), panel("end", 1, first)) == codes


def test_panels_of_two_workpieces_do_not_meet() -> None:
    """The same place on two sheets is two places."""
    plan = SOUND["two_materials"]()
    first, second = box("A1a", 0, 0, 10, 10), box("B1", 0, 0, 10, 10)
    assert _codes(plan, panel("side", 1, first), panel("back", 1, second)) == []


@pytest.mark.parametrize(
    ("x", "y", "inside"),
    [(5, 5, True), (895, 395, True), (4.99, 5, False), (5, 395.01, False), (895.01, 5, False)],
)
def test_panel_lies_clear_of_the_trim(x: float, y: float, inside: bool) -> None:
    """A board of 1000 × 500 with a trim of 5 leaves 990 × 490 to panels."""
    codes = _codes(SOUND["trimmed_edges"](), panel("door", 1, box("D1", x, y, 100, 100)))
    assert codes == ([] if inside else [Code.OUTSIDE_USABLE_REGION])


def test_the_thinner_of_two_blades_sets_the_gap() -> None:
    """A store's blade of 1/4 in does not widen the gap that the shop's of 1/8 in leaves."""
    plan = with_store(SOUND["store_and_vehicle"](), kerf=f(0.25))
    first, second = box("E1", 0, 0, 10, 10), box("F1", 10.125, 0, 10, 10)
    assert _codes(plan, panel("side", 1, first), panel("side", 2, second)) == []

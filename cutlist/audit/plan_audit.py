"""The audit itself: every check run on a plan, every finding listed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Finding, Report
from cutlist.audit.geometry import check_geometry
from cutlist.audit.instructions import check_instructions
from cutlist.audit.matches import check_matches
from cutlist.audit.panels import check_leftovers, check_panels
from cutlist.audit.replay import Replay, replay
from cutlist.audit.safety import check_safety
from cutlist.audit.scale import check_scale
from cutlist.audit.settings import check_settings
from cutlist.audit.stock import check_stock
from cutlist.audit.totals import check_bounds, check_totals
from cutlist.audit.transport import check_store_cuts, check_vehicle
from cutlist.audit.weights import check_loads, check_trips, check_weights

if TYPE_CHECKING:
    from collections.abc import Callable

    from cutlist.model.plan import Plan


def audit(plan: Plan) -> tuple[Finding, ...]:
    """Replay a finished plan by the rules of the plan format and list all that is wrong with it.

    Nothing is taken over from the search: the cuts are replayed one by one in exact arithmetic,
    every figure is counted again, and the places of the panels are compared once more through
    shapely. The time grows about in line with the number of cuts and panels.

    Parameters
    ----------
    plan
        Any plan, however wrong; no content makes the audit raise.

    Returns
    -------
    tuple of Finding
        Empty for a sound plan; else in the order of codes, within a code in the plan's order.
    """
    report = Report()
    run = Replay()
    _guarded("the cuts", lambda: replay(plan, run, report), report)
    checks: tuple[tuple[str, Callable[[], None]], ...] = (
        ("the settings", lambda: check_settings(plan, report)),
        ("the safety of the cuts", lambda: check_safety(plan, run, report)),
        ("the scale", lambda: check_scale(plan, run, report)),
        ("the panels", lambda: check_panels(plan, run, report)),
        ("the offcuts", lambda: check_leftovers(plan, run, report)),
        ("the geometry", lambda: check_geometry(plan, run, report)),
        ("the stock", lambda: check_stock(plan, report)),
        ("the store", lambda: check_store_cuts(plan, run, report)),
        ("the vehicle", lambda: check_vehicle(plan, run, report)),
        ("the weights", lambda: check_weights(plan, run, report)),
        ("the loads", lambda: check_loads(plan, run, report)),
        ("the trips", lambda: check_trips(plan, run, report)),
        ("the matches", lambda: check_matches(plan, report)),
        ("the totals", lambda: check_totals(plan, report)),
        ("the bounds", lambda: check_bounds(plan, report)),
        ("the instructions", lambda: check_instructions(plan, run, report)),
    )
    for subject, check in checks:
        _guarded(subject, check, report)
    return tuple(sorted(report.findings, key=lambda finding: finding.code))


def _guarded(subject: str, check: Callable[[], None], report: Report) -> None:
    """Run one check; values that it cannot even compare become a finding of their own."""
    try:
        check()
    except Exception as error:
        message = f"could not be checked: {type(error).__name__}: {error}"
        report.add(Code.CHECK_FAILED, subject, message)

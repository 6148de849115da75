"""Cuts that a listed saw does not make safely: each has to be flagged, and no other.

The rules are those of the plan format (*Safe cuts*), worked out here from the places of the
pieces and the job's saws alone. They hold where the job lists its saws; of a table saw alone the
job says no limits to check by. That a piece longer across the fence than along it turns off the
fence is common practice; that too short an edge guides no workpiece stands in table-saw manuals.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report
from cutlist.audit.replay import spans
from cutlist.audit.settings import saw_of
from cutlist.model.job import SawKind
from cutlist.model.plan import Place
from cutlist.model.sawing import Hazard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.audit.replay import Replay
    from cutlist.model.job import Saw
    from cutlist.model.plan import Cut, Piece, Plan, SawSetup


def check_safety(plan: Plan, run: Replay, report: Report) -> None:
    """Hold the plan's flags against the cuts."""
    told = [
        (cut.number, one)
        for setting in plan.settings
        for cut in setting.cuts
        for one in cut.hazards
    ]
    flagged = set(told)
    unsafe = set(_unsafe(plan, run)) if plan.job.saws else set()
    for number, hazard in sorted(unsafe - flagged):
        message = f"{hazard.value}: this is not flagged"
        report.add(Code.UNSAFE_CUT_NOT_FLAGGED, f"cut {number}", message)
    for number, hazard in sorted(flagged - unsafe):
        message = f"is flagged without cause: {hazard.value}"
        report.add(Code.FLAG_WITHOUT_CAUSE, f"cut {number}", message)
    if len(told) > len(flagged):
        report.add(Code.FLAG_WITHOUT_CAUSE, "the flags", "some stand there more than once")


def _unsafe(plan: Plan, run: Replay) -> Iterator[tuple[int, Hazard]]:
    for setting in plan.settings:
        saw = saw_of(plan.job, setting) if setting.place is Place.SHOP else None
        if saw is None:
            continue
        for cut in setting.cuts:
            made = run.pieces.get(cut.piece)
            if made is not None:
                for hazard in _hazards(saw, setting, cut, made.piece):
                    yield cut.number, hazard


def _hazards(saw: Saw, setting: SawSetup, cut: Cut, piece: Piece) -> Iterator[Hazard]:
    """Yield what the saw's limits and its kind say against a cut."""
    across, along = spans(piece, cut.direction)[1::2]
    fenced = saw.kind is SawKind.TABLE_SAW
    stopped = saw.kind in (SawKind.SLED, SawKind.MITRE_GAUGE)
    if saw.longest_cut is not None and along > saw.longest_cut:
        yield Hazard.TOO_LONG
    if fenced and across > along:
        yield Hazard.UNSTEADY
    held = along if fenced else across if stopped else min(along, across)
    if held < saw.smallest_piece:
        yield Hazard.TOO_SMALL
    if fenced and setting.distance < saw.thinnest_strip:
        yield Hazard.TOO_THIN

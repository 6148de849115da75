"""Cuts beyond what their device may do: each has to be flagged, and no other.

The rules are those of the plan format (*Safe cuts*), worked out here from the places of the
pieces and the limits of the job's saws alone. That a piece longer across the fence than along it
turns off the fence is common practice, and so is what a sled carries; that too short an edge guides
no workpiece stands in table-saw manuals.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report
from cutlist.audit.replay import spans
from cutlist.audit.settings import DEVICES, saw_of
from cutlist.model.plan import Place
from cutlist.model.sawing import Device, Hazard

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from cutlist.audit.replay import Replay
    from cutlist.model.job import Saw
    from cutlist.model.plan import Cut, Piece, Plan, SawSetup


def check_safety(plan: Plan, run: Replay, report: Report) -> None:
    """Hold the plan's flags against the cuts, and the flagged cuts against the other saws."""
    told = [
        (cut.number, one)
        for setting in plan.settings
        for cut in setting.cuts
        for one in cut.hazards
    ]
    flagged = set(told)
    unsafe = set(_unsafe(plan, run))
    for number, hazard in sorted(unsafe - flagged):
        message = f"{hazard.value}: this is not flagged"
        report.add(Code.UNSAFE_CUT_NOT_FLAGGED, f"cut {number}", message)
    for number, hazard in sorted(flagged - unsafe):
        message = f"is flagged without cause: {hazard.value}"
        report.add(Code.FLAG_WITHOUT_CAUSE, f"cut {number}", message)
    if len(told) > len(flagged):
        report.add(Code.FLAG_WITHOUT_CAUSE, "the flags", "some stand there more than once")
    _check_others(plan, run, {number for number, _ in unsafe}, report)


def _unsafe(plan: Plan, run: Replay) -> Iterator[tuple[int, Hazard]]:
    for setting, cut, piece in _shop_cuts(plan, run):
        saw = saw_of(plan.job, setting)
        if saw is not None:
            for hazard in _hazards(saw, setting.distance, cut, piece):
                yield cut.number, hazard


def _shop_cuts(plan: Plan, run: Replay) -> Iterator[tuple[SawSetup, Cut, Piece]]:
    """Yield each cut at the shop with what it divides."""
    for setting in plan.settings:
        if setting.place is Place.SHOP:
            for cut in setting.cuts:
                made = run.pieces.get(cut.piece)
                if made is not None:
                    yield setting, cut, made.piece


def _check_others(plan: Plan, run: Replay, unsafe: set[int], report: Report) -> None:
    """Check that, where a guide is in the shop, no saw of it makes an unsafe cut within limits."""
    if not any(DEVICES[saw.kind] is Device.GUIDE for saw in plan.job.tools):
        return
    for setting, cut, piece in _shop_cuts(plan, run):
        if cut.number not in unsafe:
            continue
        for saw in plan.job.tools:
            if _could_set(saw, setting) and not any(_hazards(saw, setting.distance, cut, piece)):
                message = f"is not safe on the {setting.tool}; the {saw.name} makes it"
                report.add(Code.ANOTHER_SAW_MAKES_IT, f"cut {cut.number}", message)
                break


def _could_set(saw: Saw, setting: SawSetup) -> bool:
    """Tell whether a saw reaches a setting's distance, has it on its scale, and fits the kerf."""
    reaches = saw.max_rip is None or setting.distance <= saw.max_rip
    is_shown = saw.scale is None or setting.distance % saw.scale == 0
    return reaches and is_shown and saw.kerf == setting.kerf


def _hazards(saw: Saw, distance: Fraction, cut: Cut, piece: Piece) -> Iterator[Hazard]:
    """Yield what the saw's limits and its device say against a cut."""
    across, along = spans(piece, cut.direction)[1::2]
    device = DEVICES[saw.kind]
    is_fence = device is Device.FENCE
    if saw.longest_cut is not None and along > saw.longest_cut:
        yield Hazard.TOO_LONG
    is_steady = across <= along or (saw.steady_edge is not None and along >= saw.steady_edge)
    if is_fence and not is_steady:
        yield Hazard.UNSTEADY
    goes_on = any(across <= most[0] and along <= most[1] for most in saw.largest_pieces)
    if saw.largest_pieces and not goes_on:
        yield Hazard.TOO_LARGE
    held = {Device.FENCE: along, Device.STOP: across, Device.GUIDE: min(along, across)}[device]
    if held < saw.smallest_piece:
        yield Hazard.TOO_SMALL
    if is_fence and distance < saw.thinnest_strip:
        yield Hazard.TOO_THIN

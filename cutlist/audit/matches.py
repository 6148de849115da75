"""What the plan says of parts that have to match, held against its settings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report, show
from cutlist.audit.operations import sizes_of
from cutlist.audit.settings import serves_one_cut
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from cutlist.audit.operations import Sizes
    from cutlist.model.job import Match
    from cutlist.model.matches import Matched
    from cutlist.model.plan import Plan


def check_matches(plan: Plan, report: Report) -> None:
    """Check that each match of the job is told of, once, and as the settings have it."""
    asked = [match.name for match in plan.job.matches]
    told = [matched.name for matched in plan.matches]
    if asked != told:
        message = f"tells of {', '.join(told) or 'none'}, the job asks for {', '.join(asked)}"
        report.add(Code.MATCHES_UNTOLD, "the matches", message)
        return
    made = sizes_of(plan)
    anew = {one.number for one in plan.settings if serves_one_cut(plan.job, one)}
    for match, matched in zip(plan.job.matches, plan.matches, strict=True):
        _check(plan, match, matched, made, anew, report)


def _check(
    plan: Plan, match: Match, matched: Matched, made: Sizes, anew: set[int], report: Report
) -> None:
    where = f"match {match.name}"
    if matched.distance != match.distance:
        message = f"is told at {show(matched.distance)}, the parts share {show(match.distance)}"
        report.add(Code.MATCH_DISTANCE, where, message)
        return
    panels = [panel for panel in plan.panels if panel.part in match.parts]
    if matched.panels != len(panels):
        message = f"is told for {matched.panels} panels, the plan has {len(panels)}"
        report.add(Code.MATCH_PANELS, where, message)
    settings: set[int] = set()
    unset = 0
    for panel in panels:
        piece = panel.piece
        for size, direction in ((piece.length, Direction.CROSSCUT), (piece.width, Direction.RIP)):
            if size != match.distance:
                continue
            given = made.get(piece.name, {}).get(direction, (None,))
            settings |= {one.setup.number for one in given if one is not None and one.is_set}
            unset += any(one is None or not one.is_set for one in given)
    guided = settings & anew
    for told, numbers in ((matched.settings, settings - anew), (matched.guided, guided)):
        if told != tuple(sorted(numbers)):
            kind = "settings of a guide" if numbers is guided else "settings"
            found = ", ".join(map(str, told)) or "none"
            message = f"is told to come from {kind} {found}, the cuts say {sorted(numbers)}"
            report.add(Code.MATCH_SETTINGS, where, message)
    if matched.unset != unset:
        message = f"is told with {matched.unset} sides that no setting gave, the cuts say {unset}"
        report.add(Code.MATCH_UNSET, where, message)

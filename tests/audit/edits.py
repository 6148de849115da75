"""Ways to change one thing in a plan, for tests that break it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from cutlist.model.plan import Cut, Piece, Plan, SawSetup
from tests.audit.plans import f


def with_setting(plan: Plan, number: int, /, **changes: Any) -> Plan:
    """Change the setting at a place, counted from 1."""
    settings = list(plan.settings)
    settings[number - 1] = replace(settings[number - 1], **changes)
    return replace(plan, setups=tuple(settings))


def cut_of(plan: Plan, number: int) -> Cut:
    """Return the cut with a number."""
    return next(c for s in plan.settings for c in s.cuts if c.number == number)


def with_cut(plan: Plan, number: int, /, **changes: Any) -> Plan:
    """Change the cut with a number."""
    settings = tuple(
        replace(s, cuts=tuple(replace(c, **changes) if c.number == number else c for c in s.cuts))
        for s in plan.settings
    )
    return replace(plan, setups=settings)


def moved(piece: Piece, x: float = 0, y: float = 0, length: float = 0, width: float = 0) -> Piece:
    """Return a piece with something added to its place and size."""
    return replace(
        piece,
        x=piece.x + f(x),
        y=piece.y + f(y),
        length=piece.length + f(length),
        width=piece.width + f(width),
    )


def with_kept(plan: Plan, number: int, **added: float) -> Plan:
    """Move or stretch what a cut keeps."""
    return with_cut(plan, number, kept=moved(cut_of(plan, number).kept, **added))


def with_rest(plan: Plan, number: int, **added: float) -> Plan:
    """Move or stretch the rest of a cut."""
    rest = cut_of(plan, number).rest
    assert rest is not None
    return with_cut(plan, number, rest=moved(rest, **added))


def with_item(plan: Plan, field: str, index: int, **changes: Any) -> Plan:
    """Change one item of ``buy``, ``workpieces``, ``panels`` or ``leftovers``."""
    items = list(getattr(plan, field))
    items[index] = replace(items[index], **changes)
    changed: dict[str, Any] = {field: tuple(items)}
    return replace(plan, **changed)


def without(plan: Plan, field: str, index: int) -> Plan:
    """Leave one item out."""
    items = list(getattr(plan, field))
    del items[index]
    changed: dict[str, Any] = {field: tuple(items)}
    return replace(plan, **changed)


def with_totals(plan: Plan, **changes: Any) -> Plan:
    """Change totals."""
    return replace(plan, totals=replace(plan.totals, **changes))


def with_bounds(plan: Plan, **changes: Any) -> Plan:
    """Change bounds."""
    return replace(plan, bounds=replace(plan.bounds, **changes))


def with_job(plan: Plan, **changes: Any) -> Plan:
    """Change the job that the plan is for."""
    return replace(plan, job=replace(plan.job, **changes))


def with_saw(plan: Plan, **changes: Any) -> Plan:
    """Change the job's saw, or the first of those that it lists."""
    if plan.job.saws:
        first, *others = plan.job.saws
        return with_job(plan, saws=(replace(first, **changes), *others))
    return with_job(plan, saw=replace(plan.job.saw, **changes))


def with_store(plan: Plan, **changes: Any) -> Plan:
    """Change the job's store."""
    assert plan.job.store is not None
    return with_job(plan, store=replace(plan.job.store, **changes))


def with_part(plan: Plan, index: int, **changes: Any) -> Plan:
    """Change one part of the job."""
    parts = list(plan.job.parts)
    parts[index] = replace(parts[index], **changes)
    return with_job(plan, parts=tuple(parts))


def with_sheet(plan: Plan, index: int, **changes: Any) -> Plan:
    """Change one sheet of the job."""
    sheets = list(plan.job.sheets)
    sheets[index] = replace(sheets[index], **changes)
    return with_job(plan, sheets=tuple(sheets))


def renumbered(plan: Plan, settings: list[SawSetup]) -> Plan:
    """Put settings in another order or number, numbering settings and cuts anew."""
    result, number = [], 0
    for position, setting in enumerate(settings, start=1):
        cuts = []
        for cut in setting.cuts:
            number += 1
            cuts.append(replace(cut, number=number))
        result.append(replace(setting, number=position, cuts=tuple(cuts)))
    return replace(plan, setups=tuple(result))

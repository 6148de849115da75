"""The same parts on each sheet size that could serve, and on the best mix."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from cutlist.errors import CannotCutError
from cutlist.model.job import Job, Sheet
from cutlist.model.plan import Plan
from cutlist.planning.budget import Budget
from cutlist.planning.make import make_plan


@dataclass(frozen=True, slots=True)
class Variant:
    """The parts of one material planned on some of its sheets.

    Parameters
    ----------
    material, thickness
        Of the parts.
    sheets
        Names of the sheets allowed; empty for offcuts alone.
    is_mix
        Whether all sheets of the material are allowed.
    plan
        The plan, audited; None where these sheets cannot serve.
    reason
        Why they cannot.
    """

    material: str
    thickness: Fraction
    sheets: tuple[str, ...]
    is_mix: bool
    plan: Plan | None
    reason: str = ""


def compare(job: Job, *, seed: int = 0, budget: Callable[[], Budget] = Budget) -> list[Variant]:
    """Plan every material of a job on each of its sheets alone, and on all of them.

    Offcuts on hand are allowed throughout. ``budget`` makes a fresh budget for each plan.
    """
    return [
        _planned(job, seed, budget(), key, sheets, is_mix)
        for key in dict.fromkeys((part.material, part.thickness) for part in job.parts)
        for sheets, is_mix in _choices(job, key)
    ]


def _choices(job: Job, key: tuple[str, Fraction]) -> Iterator[tuple[tuple[Sheet, ...], bool]]:
    sheets = tuple(sheet for sheet in job.sheets if (sheet.material, sheet.thickness) == key)
    if len(sheets) > 1:
        for sheet in sheets:
            yield (sheet,), False
    yield sheets, True


def _planned(
    job: Job,
    seed: int,
    budget: Budget,
    key: tuple[str, Fraction],
    sheets: tuple[Sheet, ...],
    is_mix: bool,
) -> Variant:
    parts = tuple(part for part in job.parts if (part.material, part.thickness) == key)
    offcuts = tuple(cut for cut in job.offcuts if (cut.material, cut.thickness) == key)
    variant = Variant(*key, tuple(sheet.name for sheet in sheets), is_mix, None)
    try:
        plan = make_plan(
            replace(job, parts=parts, sheets=sheets, offcuts=offcuts), seed=seed, budget=budget
        )
    except CannotCutError as error:
        return replace(variant, reason="; ".join(error.reasons))
    return replace(variant, plan=plan)

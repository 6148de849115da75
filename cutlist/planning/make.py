"""The main job: from what is asked for to a plan that passed the audit."""

from __future__ import annotations

from cutlist.model.job import Job
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.planning.stages import Stages
from cutlist.planning.terms.parameters import PlanningParameters
from cutlist.planning.terms.progress import Reporter, Watcher
from cutlist.planning.terms.terms import DEFAULT_SECONDS, Terms


def make_plan(
    job: Job,
    *,
    seed: int = 0,
    allowance: Allowance | None = None,
    watcher: Watcher | None = None,
    partial: bool = False,
    parameters: PlanningParameters | None = None,
    stages: Stages | None = None,
) -> Plan:
    """Plan a job, and audit the plan.

    Parameters
    ----------
    job
        What is asked for.
    seed
        With equal seeds and an allowance of steps alone, equal jobs get equal plans.
    allowance
        How long to search; :data:`DEFAULT_SECONDS` where left out. The search ends by itself once
        cost and settings are proven.
    watcher
        Hears of progress.
    partial
        Where the stock does not suffice, plan the most valuable panels instead of raising.
    parameters
        What the searches are tuned by.
    stages
        The way there; the usual one where left out.

    Raises
    ------
    CannotCutError
        If a part fits no stock, or the stock does not suffice and the plan may not be partial.
    AuditError
        If the audit refuses the plan.
    StoppedError
        If interrupted before any plan existed.
    """
    terms = Terms(
        allowance or Allowance(DEFAULT_SECONDS),
        seed,
        partial,
        parameters or PlanningParameters(),
        Reporter(watcher),
    )
    return (stages or Stages()).plan(job, terms)

"""What every stage of planning is given beside the stage before it."""

from __future__ import annotations

from dataclasses import dataclass, field

from cutlist.nesting.allowance import Allowance
from cutlist.planning.terms.parameters import PlanningParameters
from cutlist.planning.terms.progress import Reporter

#: Search budget where none is given.
DEFAULT_SECONDS = 5.0
#: The part of a budget of time that is searched in, however long making the documents takes.
LEAST_SEARCH = 0.2


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms on which a job is planned.

    Parameters
    ----------
    allowance
        Time and steps of all searches together; whoever searches charges it.
    seed
        With equal seeds and an allowance of steps alone, equal jobs get equal plans.
    is_partial
        Whether, where the stock does not suffice, the most valuable panels are planned.
    parameters
        What the searches are tuned by.
    reporter
        Hears of progress.
    """

    allowance: Allowance = field(default_factory=lambda: Allowance(DEFAULT_SECONDS))
    seed: int = 0
    is_partial: bool = False
    parameters: PlanningParameters = field(default_factory=PlanningParameters)
    reporter: Reporter = field(default_factory=Reporter)

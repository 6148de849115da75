"""What planning is tuned by, in one place: a frozen object for each component.

An empty one is the defaults, and these are what every figure of the documentation was measured
with. None of them is a rule of the trade: another value makes plans that are as sound, found sooner
or later.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from cutlist.model.job import Goal

#: Searches that run side by side. Their number is fixed: with a budget in steps the plan depends on
#: the seed alone, not on the machine.
SEARCHES = 2


@dataclass(frozen=True, slots=True)
class PackingParameters:
    """The first layouts of each group.

    Parameters
    ----------
    steps, seconds
        The parts of all steps and of all time by which packing ends; what comes after looks for
        fewer settings. Of time it may take more, since that search rarely needs a second.
    seconds_if_large
        The same part of the time in a large job, whose search for settings goes slowly.
    partial
        The part of a group's share in which all its panels are tried, where some may be left out.
    idle_offcuts
        The part of what is left for packing that one try to do without an offcut gets.
    most_tries
        Offcuts tried singly, largest first, where not all can be spared.
    whole
        The part of a group's share in which sheets that the store breaks down are laid out whole.
    broken_down
        The part of it that the break-down gets: the rest goes to fewer settings, which blanks make
        hard.
    seed_step
        From the seed of one search to that of the next beside it.
    """

    steps: float = 0.65
    seconds: float = 0.65
    seconds_if_large: float = 0.5
    partial: float = 0.5
    idle_offcuts: float = 0.1
    most_tries: int = 3
    whole: float = 0.2
    broken_down: float = 0.75
    seed_step: int = 104729


@dataclass(frozen=True, slots=True)
class PartialParameters:
    """The most valuable panels on blanks of a stock that does not suffice.

    Parameters
    ----------
    patience
        Looks in a row that bring nothing before the search ends.
    glances
        Ways glanced at for one that is looked at.
    plain
        Ways of breaking all sheets down plainly to begin with.
    for_left_out
        The chance that a sheet is changed for a panel that is left out.
    all_alike
        The chance that all sheets broken down alike are changed with it.
    least_charge
        A look counts for this part of a usual one at least.
    """

    patience: int = 60
    glances: int = 12
    plain: int = 4
    for_left_out: float = 0.5
    all_alike: float = 0.3
    least_charge: float = 1 / 16


@dataclass(frozen=True, slots=True)
class ShortageParameters:
    """What would have to be bought beyond the stock.

    Parameters
    ----------
    steps
        Of the search with unlimited sheets.
    """

    steps: int = 4000


@dataclass(frozen=True, slots=True)
class SettingsParameters:
    """The search at the least cost for fewer settings.

    Parameters
    ----------
    patience
        Rounds of searching without fewer settings before the search ends.
    least_rounds
        Rounds even where cost and settings are proven already: leftovers may still become larger.
    ends
        By goal, the part of all time and steps by which it ends; the rest looks at what a sheet
        more would spare.
    seconds_if_large
        The part of the time by which it ends in a large job, whose order is worked out last.
    round_steps
        Steps of each search in one round, shared out among the groups by their panels.
    least_steps
        Steps that a group gets in a round at least.
    most_looked_at
        Panels up to which candidates are compared by a look at the order of all cuts; with more of
        them that takes too long, and a quicker count has to do.
    return_every
        Every so many rounds all searches go on from the best layouts; between, only the first does.
    larger_every
        Of so many rounds the last looks for larger leftovers and fewer cuts.
    seed_step
        From the seed of one search to that of the next beside it.
    """

    patience: int = 32
    least_rounds: int = 6
    ends: tuple[tuple[Goal, float], ...] = (
        (Goal.COST, 0.95),
        (Goal.BALANCED, 0.88),
        (Goal.SETUPS, 0.88),
    )
    seconds_if_large: float = 0.8
    round_steps: int = 12000
    least_steps: int = 250
    most_looked_at: int = 300
    return_every: int = 4
    larger_every: int = 4
    seed_step: int = 15485863

    def end(self, goal: Goal) -> float:
        """Return the part of all time and steps by which the search ends."""
        return dict(self.ends)[goal]


@dataclass(frozen=True, slots=True)
class TradeParameters:
    """What a sheet more would spare.

    Parameters
    ----------
    most_panels
        Panels up to which dearer plans are looked for, and orders worked out in between.
    more_sheets
        Sheets that a dearer plan may buy more.
    patience
        Rounds without fewer settings before a search for a dearer plan ends.
    seed_step
        From the seed of one search to that with one sheet more.
    """

    most_panels: int = 120
    more_sheets: int = 2
    patience: int = 4
    seed_step: int = 32452843


@dataclass(frozen=True, slots=True)
class FinishingParameters:
    """Time set aside for what comes after the search.

    Parameters
    ----------
    seconds
        For whatever job.
    seconds_a_panel
        For each panel beside: putting its cuts together and replaying them.
    least_search
        The part of the time that is searched in however little is left.
    """

    seconds: float = 0.1
    seconds_a_panel: float = 0.0003
    least_search: float = 0.1


@dataclass(frozen=True, slots=True)
class PlanningParameters:
    """The parameters of all of planning, component by component."""

    packing: PackingParameters = field(default_factory=PackingParameters)
    partial: PartialParameters = field(default_factory=PartialParameters)
    shortage: ShortageParameters = field(default_factory=ShortageParameters)
    settings: SettingsParameters = field(default_factory=SettingsParameters)
    trades: TradeParameters = field(default_factory=TradeParameters)
    finishing: FinishingParameters = field(default_factory=FinishingParameters)


#: The parameters where none are given.
USUAL = PlanningParameters()

"""What the room of sequencing is tuned by, in one place: a frozen object for each component.

An empty one is the defaults, and these are what every figure of the documentation was measured
with. None of them is a rule of the trade: another value gives orders that are as sound.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class OrderParameters:
    """The search for an order of settings.

    Parameters
    ----------
    exact_states
        States that the exact search may open: a second at most, milliseconds on a usual job.
    exact_effort
        What it may do before it has to end, in looks at a node: about a second.
    exact_state_effort
        A state costs as much as so many nodes, beside its own.
    exact_settings
        More settings than that it never gets in order: there it does not begin.
    width
        Most states that are followed side by side where the exact search finds nothing.
    beam_effort, beam_state_effort
        The same as of the exact search, which say how many they are in a large job.
    beam_states
        States looked at, in all searches of a large job together.
    least_states
        States looked at however little time there is, a tenth of a second's worth.
    hurried_choices
        Settings looked at in a state where there is no time for all, the likeliest ones.
    states_between_looks, states_between_looks_exactly
        States looked at between two looks at the clock, here and in the exact search.
    most_paired
        Settings up to which states are ranked by the settings that are bound to an order, too.
    """

    exact_states: int = 1500
    exact_effort: int = 1_500_000
    exact_state_effort: int = 100
    exact_settings: int = 160
    width: int = 60
    beam_effort: int = 16_000_000
    beam_state_effort: int = 30
    beam_states: int = 1_500_000
    least_states: int = 20_000
    hurried_choices: int = 32
    states_between_looks: int = 2_000
    states_between_looks_exactly: int = 50
    most_paired: int = 3_000


@dataclass(frozen=True, slots=True)
class TrialParameters:
    """Ways to build the cut trees that are tried, and what they are compared by.

    Parameters
    ----------
    glance_states, glance_width
        States of the exact search, and states side by side, in a quick look at layouts.
    """

    glance_states: int = 60
    glance_width: int = 4


@dataclass(frozen=True, slots=True)
class TidyParameters:
    """The order that is pleasant to work by.

    Parameters
    ----------
    looks
        Settings looked at, in all orders together: some tenths of a second.
    """

    looks: int = 200_000


@dataclass(frozen=True, slots=True)
class TreeBoundParameters:
    """The bound on settings over all cut trees.

    Parameters
    ----------
    cuts
        What may be looked at of all runs together.
    sets
        Sets of distances of each run.
    runs
        How many of the runs are looked at by themselves, the simplest first, beside all of them.
    states, starts
        Runs with more choices of pieces and of what lies beside them are left out.
    places
        Distinct sizes of a column up to which it is told where it can be divided.
    solver_effort
        Allowance of the solver, in its own measure of time, which no load of the machine changes.
    solver_sets
        With more sets than this it would prove less than the relaxation does.
    """

    cuts: int = 200_000
    sets: int = 200
    runs: tuple[int, ...] = (40, 80, 160)
    states: int = 256
    starts: int = 64
    places: int = 12
    solver_effort: float = 0.3
    solver_sets: int = 1000


@dataclass(frozen=True, slots=True)
class SequencingParameters:
    """The parameters of all of sequencing, component by component."""

    order: OrderParameters = field(default_factory=OrderParameters)
    trials: TrialParameters = field(default_factory=TrialParameters)
    tidy: TidyParameters = field(default_factory=TidyParameters)
    bound: TreeBoundParameters = field(default_factory=TreeBoundParameters)


def never() -> bool:
    """Say that there is no end to the time."""
    return False


#: The parameters where none are given.
USUAL = SequencingParameters()

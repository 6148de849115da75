"""What the search for a break-down is tuned by, in one place: a frozen object for each component.

An empty one is the defaults, set by trial on random jobs with small cars. None is a rule of the
trade: another value makes plans that are as sound, found sooner or later.
"""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class CutCountParameters:
    """How the fewest cuts that get a sheet in are counted.

    Parameters
    ----------
    equal, few
        Numbers of equal pieces that a too heavy one is cut into, where it takes at most so many
        cuts.
    most_pieces
        Sizes of pieces for which all distances are tried.
    slender
        Openings up to so many kerfs wide are slender.
    """

    equal: tuple[int, ...] = (2, 3, 4)
    few: int = 12
    most_pieces: int = 20_000
    slender: int = 4


@dataclass(frozen=True, slots=True)
class SplittingParameters:
    """Patterns made for one size of sheet.

    Parameters
    ----------
    cuts
        How the fewest cuts are counted.
    seeds
        Plain patterns looked for.
    most_copies
        Copies of a part in the sums that are looked at along an axis.
    most_places
        Places along an axis that are told apart.
    """

    cuts: CutCountParameters = field(default_factory=CutCountParameters)
    seeds: int = 6
    most_copies: int = 6
    most_places: int = 1 << 18


@dataclass(frozen=True, slots=True)
class PatternPoolParameters:
    """What patterns are worth at given prices of the panels.

    Parameters
    ----------
    extents
        Extents that a filling looks at along an axis; the time grows with the third power.
    labels, much_work
        Sets of panels kept for each sub-rectangle of a filling that is soon done; from so many
        pairs of sub-rectangles on one set, and one try, has to do.
    fresh
        Patterns drawn at random before each look.
    moved, passes, places
        Patterns whose cuts are moved in one look, passes over the cuts of each, and places where
        one cut is tried, drawn by chance among more.
    filled, filled_if_slow
        Patterns worth most that one look returns; of them where a filling takes long.
    lucky, near
        Others that it returns by chance, drawn from so many.
    telling
        Patterns that tell which panels are scarce.
    most
        Patterns kept.
    stray, stray_tries
        Tries to fill the blanks of a pattern at values that are off by up to so much of them.
    recut_steps
        Steps of a search for another tree where the fence does not reach.
    steps_a_move
        Steps of the search that take as long as moving a cut. Measured.
    """

    extents: int = 90
    labels: int = 3
    much_work: int = 200_000
    fresh: int = 16
    moved: int = 6
    passes: int = 3
    places: int = 250
    filled: int = 10
    filled_if_slow: int = 6
    lucky: int = 8
    near: int = 100
    telling: int = 3
    most: int = 4000
    stray: float = 0.4
    stray_tries: int = 3
    recut_steps: int = 512
    steps_a_move: int = 60


@dataclass(frozen=True, slots=True)
class SheetChoiceParameters:
    """Sheets with what lies on their blanks: priced, generated and chosen.

    Parameters
    ----------
    pool
        The patterns.
    first_patterns
        Patterns drawn at random to begin with.
    taken
        Columns taken from one look.
    scarcer
        Looks at prices, each with less worth for what there is too little of.
    idle
        Rounds without a new column before the search ends.
    labels
        Sets of panels kept for each sub-rectangle of an offcut.
    little
        Part of the dearest bin that the largest panel is worth at least.
    stray, nearly
        Prices are off by up to so much, up or down, in a look of which a column is taken that is
        worth so much of its cost.
    choice_work
        Nodes of the solver times columns, at most.
    """

    pool: PatternPoolParameters = field(default_factory=PatternPoolParameters)
    first_patterns: int = 200
    taken: int = 4
    scarcer: int = 3
    idle: int = 2
    labels: int = 4
    little: float = 1e-5
    stray: float = 0.25
    nearly: float = 0.9
    choice_work: int = 15_000


@dataclass(frozen=True, slots=True)
class FirstAnswerParameters:
    """A first answer to what to buy.

    Parameters
    ----------
    guided
        Chance that a pattern is drawn for the panels that are left.
    tries, try_steps
        Looks at one purchase: so many, or as many as take so many steps.
    """

    guided: float = 0.5
    tries: int = 3
    try_steps: int = 16_384


@dataclass(frozen=True, slots=True)
class BreakDownParameters:
    """Break-down and layout together.

    Parameters
    ----------
    splitting, choice, first
        The patterns of one sheet, the choice of sheets, the first answer.
    long_try
        How much longer than usual it is looked for the panels that a choice of sheets leaves over.
    first_rounds
        Rounds of pricing before sheets are chosen for the first time; twice as many each time
        after.
    goals
        Goals set to one relaxed choice.
    misses
        Choices in a row that save nothing, once no more columns are found, before none is expected
        to.
    hopeless
        What one counts for where even the relaxed choice costs as much.
    choice_nodes
        Nodes of the solver in one choice.
    tidy_tries, least_tidy_tries
        Tries in a row for fewer cuts at the store before nothing more is expected, and at least.
    """

    splitting: SplittingParameters = field(default_factory=SplittingParameters)
    choice: SheetChoiceParameters = field(default_factory=SheetChoiceParameters)
    first: FirstAnswerParameters = field(default_factory=FirstAnswerParameters)
    long_try: int = 24
    first_rounds: int = 2
    goals: int = 4
    misses: int = 10
    hopeless: int = 4
    choice_nodes: int = 300
    tidy_tries: int = 24
    least_tidy_tries: int = 8


#: The defaults.
USUAL_BREAKDOWN = BreakDownParameters()

"""How the compiled searches change what they have: the numbers that a single step is tuned by.

They are named tuples, so that they go into a kernel as they are. Chances are in 1024, since the
kernels draw whole numbers. See :mod:`cutlist.nesting.parameters` for all others.
"""

from __future__ import annotations

from typing import NamedTuple


class SheetStepParameters(NamedTuple):
    """One step of the search for fewer sheets: what is lifted, and how it is put back.

    Parameters
    ----------
    whole
        Chance in 1024 that the sheets of a step are emptied, not only thinned out.
    most_sheets
        Sheets ruined in one step, at most.
    most_nodes
        Panels or strips lifted from each of them, at most.
    widen
        Chance in 1024 of lifting the strip around a node instead of the node, asked again at each
        strip.
    overlook
        Chance in 1024 of overlooking a better place for a panel; keeps equal fillings from coming
        again.
    noise
        The measure that panels are sorted by is up to so many 1024ths too large.
    strips
        Chance in 1024 that a step cuts all strips along one axis.
    measures
        How many measures of size panels may be sorted by: 6 for those of the panel itself, 8 with
        its worth, and its worth for its area, where what waits is not valued by area.
    """

    whole: int = 100
    most_sheets: int = 3
    most_nodes: int = 3
    widen: int = 400
    overlook: int = 16
    noise: int = 300
    strips: int = 60
    measures: int = 6


class SettingsStepParameters(NamedTuple):
    """One step of the search for fewer settings, and what a state's mark counts beside them.

    Parameters
    ----------
    whole, most_sheets, most_nodes, widen, overlook, noise
        As in :class:`SheetStepParameters`.
    alike
        Chance in 1024 that a step which empties no sheet lifts what has one of a part's sides.
    alike_each
        Chance in 1024 for each panel or strip of that side of being lifted then.
    match
        Chance in 1024 that a step puts panels where their distances are set anyway.
    strips
        Chance in 1024 that a step cuts all strips along one axis.
    fresh
        Chance in 1024 of beginning a step with a fresh sheet; for where there is money to spare.
    rare
        Weight of distances that few cuts share: each counts 1000 times n / (n + 1) for n cuts.
    cuts, skims
        Weight of a cut, and of one that does nothing but clean an edge beside that.
    leftover
        Weight of leftovers: 1000 times the sum of the squares of their parts of a sheet, for those
        worth keeping, taken off the mark. A minute weighs a million, and a set-up three: none of
        these outweighs one.
    """

    whole: int = 100
    most_sheets: int = 4
    most_nodes: int = 5
    widen: int = 400
    overlook: int = 16
    noise: int = 300
    alike: int = 200
    alike_each: int = 700
    match: int = 700
    strips: int = 400
    fresh: int = 0
    rare: int = 150
    cuts: int = 1000
    skims: int = 20_000
    leftover: int = 0

"""The strong bound: pairs of functions tried in full, then column generation."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from cutlist.nesting.bounds.bound import Bound, bound_of, lower_bound, whole_stock
from cutlist.nesting.bounds.columns import column_steps, fractional_cost
from cutlist.nesting.bounds.grown import grow
from cutlist.nesting.bounds.pairs import pair_rows
from cutlist.nesting.bounds.patterns import Patterns
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from cutlist.nesting.bounds.cover import CoverRow
    from cutlist.nesting.bounds.grown import Grown
    from cutlist.nesting.parameters import BoundParameters
    from cutlist.nesting.problem import Problem


def improved_bound(
    problem: Problem,
    seconds: float | None = None,
    *,
    rounds: int | None = None,
    upper: int | None = None,
    parameters: BoundParameters = USUAL_NESTING.bounds,
) -> Bound:
    """Bound cost and sheets as well as can be done in a given time.

    Parameters
    ----------
    problem
        What is to be bounded.
    seconds
        Stop after about so long; None for no limit. A single round is never cut short, so that a
        problem of many different sizes can overrun by some tenths of a second.
    rounds
        Stop after so many rounds of column generation; with ``seconds`` None the result does not
        depend on the machine's speed.
    upper
        Cost of a known plan: a cost bound that reaches it needs no more work.
    parameters
        What both bounds are tuned by.

    Returns
    -------
    Bound
        Never below what :func:`~cutlist.nesting.bounds.bound.lower_bound` proves.
    """
    deadline = float("inf") if seconds is None else time.monotonic() + seconds
    grown = grow(problem)
    if grown.counts.size == 0:
        return Bound(0, 0)
    if not grown.feasible:
        return whole_stock(grown)
    rows = pair_rows(grown, parameters.rows // 2, parameters.strong)
    bound = _better(lower_bound(problem, parameters), bound_of(grown, rows, parameters.nodes))
    paid = tuple(1 if c > 0 else 0 for c in grown.costs)
    goals = [grown.costs]
    if len({c for c in grown.costs if c > 0}) > 1:
        goals.append(paid)
    patterns: Patterns | None = None
    for goal in goals:
        proven = bound.sheets if goal is paid else bound.cost
        if proven == 0 or (goal is grown.costs and upper is not None and proven >= upper):
            continue
        if patterns is None:
            patterns = Patterns(grown, parameters)
            if not patterns.usable:
                break
        enough = upper if goal is grown.costs else None
        rows += _generate(grown, goal, patterns, proven, enough, rounds, deadline, parameters)
    return _better(bound, bound_of(grown, rows, parameters.nodes))


def _better(one: Bound, other: Bound) -> Bound:
    """Return the larger of each figure: both bounds are true."""
    return Bound(max(one.cost, other.cost), max(one.sheets, other.sheets))


def _generate(
    grown: Grown,
    goal: tuple[int, ...],
    patterns: Patterns,
    proven: int,
    upper: int | None,
    rounds: int | None,
    deadline: float,
    parameters: BoundParameters,
) -> list[CoverRow]:
    """Return the strongest rows of column generation towards one goal, as many as are kept."""
    ranked: list[tuple[float, int, CoverRow]] = []
    start = (grown.lengths * grown.widths).astype(float)
    for number, step in enumerate(column_steps(grown, goal, patterns, start, parameters)):
        strength, _ = fractional_cost(step.row, goal, grown.available)
        ranked.append((strength, number, step.row))
        ranked.sort(reverse=True)
        del ranked[parameters.rows :]
        reached = max(float(proven), ranked[0][0] - 1e-6)
        if step.ceiling <= proven + 1e-6 or (upper is not None and reached > upper - 1):
            break
        # whole numbers: what lies between two of them counts as the upper one
        if -(-step.ceiling // 1) <= -(-reached // 1):
            break
        if time.monotonic() >= deadline or (rounds is not None and number + 1 >= rounds):
            break
    return [row for _, _, row in ranked]

"""The fewest distances that serve everybody: one set for each strip, all of them put together."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from ortools.sat.python import cp_model

#: Allowance of the solver, in its own measure of time, which no load of the machine changes.
_EFFORT = 0.5


def fewest_elements(families: Sequence[Sequence[int]]) -> int:
    """Return how many elements the union of one set from each family has at least.

    Parameters
    ----------
    families
        Each with one set or more, as bit masks.

    Returns
    -------
    int
        The fewest elements; or a number proven to be not above it, where the search is cut short.
    """
    certain = 0
    for family in families:
        certain |= _common(family)
    open_ones = []
    for family in families:
        left = {each & ~certain for each in family}
        if 0 not in left:
            open_ones.append(sorted(left))
    return certain.bit_count() + (_solved(open_ones) if open_ones else 0)


def _common(family: Sequence[int]) -> int:
    common = -1
    for each in family:
        common &= each
    return common


def _solved(families: Sequence[Sequence[int]]) -> int:
    model = cp_model.CpModel()
    taken: dict[int, cp_model.IntVar] = {}
    for family in families:
        holders: dict[int, list[cp_model.IntVar]] = {}
        choices = []
        for each in family:
            choice = model.new_bool_var("")
            choices.append(choice)
            for element in _bits(each):
                holders.setdefault(element, []).append(choice)
        model.add_exactly_one(choices)
        for element, those in holders.items():
            if element not in taken:
                taken[element] = model.new_bool_var("")
            # One at most of those is chosen: their sum makes a tighter relaxation than each alone.
            model.add(sum(those) <= taken[element])
    model.minimize(sum(taken.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = _EFFORT
    solver.solve(model)
    return max(0, ceil(solver.best_objective_bound - 1e-6))


def _bits(mask: int) -> list[int]:
    return [bit for bit in range(mask.bit_length()) if mask >> bit & 1]

"""The fewest distances that serve everybody: one set for each strip, all of them put together."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from ortools.linear_solver import pywraplp
from ortools.sat.python import cp_model

from cutlist.sequencing.parameters import USUAL, TreeBoundParameters

_TOLERANCE = 1e-4


def fewest_elements(
    families: Sequence[Sequence[int]], parameters: TreeBoundParameters = USUAL.bound
) -> int:
    """Return how many elements the union of one set from each family has at least.

    Parameters
    ----------
    families
        Each with one set or more, as bit masks.
    parameters
        What the solver may do.

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
    if not open_ones:
        return certain.bit_count()
    bound = _relaxed(open_ones)
    if sum(map(len, open_ones)) <= parameters.solver_sets:
        bound = max(bound, _solved(open_ones, parameters.solver_effort))
    return certain.bit_count() + bound


def _common(family: Sequence[int]) -> int:
    common = -1
    for each in family:
        common &= each
    return common


def _relaxed(families: Sequence[Sequence[int]]) -> int:
    """Return the bound of the linear relaxation: sets and elements taken in fractions."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    objective = solver.Objective()
    objective.SetMinimization()
    taken: dict[int, pywraplp.Variable] = {}
    for family in families:
        holders: dict[int, list[pywraplp.Variable]] = {}
        exactly_one = solver.Constraint(1, 1)
        for each in family:
            choice = solver.NumVar(0, 1, "")
            exactly_one.SetCoefficient(choice, 1)
            for element in _bits(each):
                holders.setdefault(element, []).append(choice)
        for element, those in holders.items():
            if element not in taken:
                taken[element] = solver.NumVar(0, 1, "")
                objective.SetCoefficient(taken[element], 1)
            enough = solver.Constraint(0, solver.infinity())
            enough.SetCoefficient(taken[element], 1)
            for choice in those:
                enough.SetCoefficient(choice, -1)
    if solver.Solve() != pywraplp.Solver.OPTIMAL:
        return 0
    value: float = objective.Value()
    return max(0, ceil(value - _TOLERANCE))


def _solved(families: Sequence[Sequence[int]], effort: float) -> int:
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
    solver.parameters.max_deterministic_time = effort
    # Else the solver takes Ctrl-C over, and leaves the process without the caller's way with it.
    solver.parameters.catch_sigint_signal = False
    solver.solve(model)
    return max(0, ceil(solver.best_objective_bound - _TOLERANCE))


def _bits(mask: int) -> list[int]:
    return [bit for bit in range(mask.bit_length()) if mask >> bit & 1]

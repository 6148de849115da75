"""Tidy alternatives of a plan: as cheap, with fewer distances and larger leftovers."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.nesting import kernel
from cutlist.nesting.engine import PLACING
from cutlist.nesting.tree import distances, gathered, layouts_of

if TYPE_CHECKING:
    from cutlist.model.layout import Layout
    from cutlist.nesting.engine import Engine
    from cutlist.nesting.problem import Problem
    from cutlist.nesting.state import State

_ROUNDS = 24
_STEPS = 400
_MANY = 400  # panels


def tidied(problem: Problem, engine: Engine, best: State) -> tuple[State, list[tuple[Layout, ...]]]:
    """Return the cheapest state met, and distinct plans of its cost, the tidiest first."""
    plans = {layouts_of(problem, best): None}
    state = _afresh(engine, best)
    for number in range(_ROUNDS if len(state.wait) <= _MANY else 2):
        tune = PLACING.copy()
        tune[kernel.STRIPS] = (60, 900, 400)[number % 3]
        tune[kernel.FEWER] = (0, 1000, 700, 1024)[number % 4]
        if number % 6 == 0:
            state = _afresh(engine, best)
        engine.forget(state)
        engine.search(state, tune, _STEPS)
        kept = engine.kept(state)
        if kept is None:
            continue
        if kept.cost < best.cost:
            best = kept
            plans.clear()
        if kept.cost == best.cost:
            plans[layouts_of(problem, kept)] = None
    kerf = problem.kerf
    return best, sorted(plans, key=lambda plan: (len(distances(plan)), -gathered(plan, kerf)))


def _afresh(engine: Engine, best: State) -> State:
    """Return the best state set up for tidying."""
    state = best.compacted(engine.tables, 0)
    state.purse[1] = state.cost
    state.run[kernel.AIM] = kernel.TIDY
    return state

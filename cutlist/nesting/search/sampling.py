"""A first plan for thousands of panels: sheets of a sample, used as often as all panels need.

A sample of the job with the same mixture of parts is searched; the sheets seen there serve the
whole job in copies, and only what rounding leaves over is laid out singly. Effort depends on the
kinds of parts, hardly on their quantities.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.generation import ColumnSearch
from cutlist.nesting.columns.starting_states import state_of
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Callable

    from cutlist.nesting.parameters import NestingParameters
    from cutlist.nesting.problem import Problem


def plan_from_samples(
    problem: Problem,
    engine: Engine,
    seed: int,
    first: State,
    ended: Callable[[], bool],
    parameters: NestingParameters = USUAL_NESTING,
) -> State:
    """Return a state in which all or nearly all panels lie on sheets, many of them copies.

    ``first`` is any plan; its sheets serve parts that no sample drew.
    The steps spent on samples are added to those of ``engine``.
    """
    tables, tuned = engine.tables, parameters.sampling
    columns = ColumnSearch(
        problem,
        tables,
        pricing=ColumnSearch.suits(problem, parameters.columns),
        parameters=parameters.columns,
    )
    columns.take_sheets(first)
    rng = np.random.default_rng(seed)
    spent = 0
    while spent < tuned.steps and not ended():
        spent += _search_sample(problem, tables, rng, columns, ended, parameters)
    engine.steps += spent
    columns.generate(ended, tuned.effort)
    sheets = columns.rounded()
    state = state_of(tables, sheets, parameters.engine.memory)
    rooms = int((tables.bins[:, 0] * tables.bins[:, 1]).min())
    waiting = state.wait[: state.run[kernel.WAITING]]
    spare = min(len(waiting), 2 * int(tables.types[waiting, 3].sum()) // rooms + 8)
    state = state.compacted(tables, len(state.meta) + spare)
    engine.weigh(state)
    for _ in range(tuned.tries):
        if state.complete:
            break
        engine.search(state, tuned.try_steps)
    return state


def _search_sample(
    problem: Problem,
    tables: Tables,
    rng: np.random.Generator,
    columns: ColumnSearch,
    ended: Callable[[], bool],
    parameters: NestingParameters,
) -> int:
    """Search one sample, file its sheets with ``columns``, and return the steps spent."""
    tuned = parameters.sampling
    mean = tables.demand * (tuned.sample / float(tables.demand.sum()))
    some = np.minimum(tables.demand, np.floor(mean + rng.random(len(mean))).astype(np.int64))
    kept = np.flatnonzero(some)
    items = tuple(replace(i, qty=int(q)) for i, q in zip(problem.items, some, strict=True))
    sample = Tables.of(replace(problem, items=items))
    engine = Engine(sample, int(rng.integers(1 << 31)), parameters=parameters.engine)
    state = State.empty(sample, int(some.sum()), parameters.engine.memory)
    engine.search(state, 1)
    rooms = sample.bins[:, 0] * sample.bins[:, 1]
    while len(kept) and state.complete and not ended():
        used = [int(b) for b in state.meta[:, nodes.BIN] if b >= 0]
        full = float(sample.types[:, 3] @ sample.demand) / float(rooms[used].sum())
        engine.pool.floors[:] = np.maximum(1, rooms * (tuned.full * full)).astype(np.int64)
        goal = engine.steps + tuned.goal_steps
        if state.cost == 0:
            break
        state = state.compacted(sample, len(used) if len(rooms) == 1 else 2 * len(used))
        state.aim_at(state.cost - 1, sample)
        engine.weigh(state)
        while not (state.complete or engine.steps >= goal or ended()):
            engine.search(state, parameters.engine.round_steps)
        columns.take(engine.pool, tuned.most_sheets)
        engine.pool.clear()
    return max(1, engine.steps)

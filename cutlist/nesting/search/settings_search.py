"""Layouts of equal cost that need fewer settings: the search that the compiled kernel is run by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.resuming import planted, rows_of
from cutlist.nesting.kernels import fewer_settings as regroup
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels import setting_count as saw
from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.state import State, Tables
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import loose_layout, merged

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from numpy.typing import NDArray

    from cutlist.model.layout import Layout
    from cutlist.nesting.problem import Problem

#: Steps between two questions whether the search is over.
ROUND = 250
_MEMORY = 200  # steps that late acceptance looks back
_FAR = 1 << 62
_MANY = 300  # panels

# whole sheets, alike, climbing, overlooking, matching, strips, most sheets, most panels a sheet,
# noise, weights of rare distances, of cuts, of leftovers, a fresh sheet; chances in 1024
_FEWER = (100, 200, 400, 16, 700, 400, 3, 3, 300, 50, 0, 0, 0)
_BOLDER = (300, 400, 400, 16, 700, 400, 3, 3, 300, 50, 0, 0, 0)
_LARGER = (100, 200, 400, 16, 700, 400, 3, 3, 300, 0, 200, 200, 0)
_FRESH = 200  # the chance of a fresh sheet where there is money to spare


@dataclass(frozen=True, slots=True)
class Work:
    """The cuts of some sheets as the compiled count reads them; see ``saw``."""

    strips: NDArray[np.int32]
    tasks: NDArray[np.int32]
    roots: NDArray[np.int32]
    sizes: NDArray[np.int64]

    @classmethod
    def of(
        cls, problems: Iterable[tuple[Problem, Sequence[Layout]]], *, keeps_remainders: bool = True
    ) -> Work:
        """Return the cuts of the layouts of several problems, each layout once."""
        sheets = [
            (problem, layout.stock, rows_of(layout.root, problem.kerf))
            for problem, layouts in problems
            for layout in layouts
        ]
        work = cls.empty(sum(_room(len(rows)) for _, _, rows in sheets))
        for problem, stock, rows in sheets:
            blade = _blade(problem, keeps_remainders)
            stack = np.empty((len(rows) + 1, 4), np.int32)
            trim = problem.bins[stock].trim
            saw.write_down(
                rows, trim, blade, work.strips, work.tasks, work.roots, work.sizes, stack
            )
        return work

    @classmethod
    def empty(cls, rows: int) -> Work:
        """Return no cuts, with room for so many."""
        return cls(
            np.empty((rows, 3), np.int32),
            np.empty((rows, saw.TASK_FIELDS), np.int32),
            np.empty(rows, np.int32),
            np.zeros(3, np.int64),
        )

    def settings(self) -> int:
        """Return the settings of a quick order of the cuts; the fewest are no more."""
        _, _, index, rows, tally = regroup.scratch(1, len(self.tasks))
        rng = np.array([1], np.uint64)
        return int(
            saw.count_settings(
                self.strips, self.tasks, self.roots, self.sizes, index, rows, rng, tally
            )
        )

    def enlarged(self, rows: int) -> Work:
        """Return a copy with room for so many cuts more."""
        strips, tasks, roots = (int(n) for n in self.sizes)
        copy = Work.empty(max(strips, tasks, roots) + rows)
        copy.strips[:strips] = self.strips[:strips]
        copy.tasks[:tasks] = self.tasks[:tasks]
        copy.roots[:roots] = self.roots[:roots]
        copy.sizes[:] = self.sizes
        return copy


def _blade(problem: Problem, keeps_remainders: bool) -> NDArray[np.int64]:
    """Return what the count of settings knows of the saw; see ``saw.write_down``."""
    limit = 0 if problem.reach is None else problem.reach + problem.kerf
    return np.array([limit, problem.kerf, int(not keeps_remainders)], np.int64)


def _room(nodes_used: int) -> int:
    """Return how many cuts a sheet of so many nodes has at most."""
    return 2 * nodes_used + 8


class SharingSearch:
    """Searches layouts of one problem that need fewer settings.

    Parameters
    ----------
    problem
        The problem.
    layouts
        A complete solution to begin with.
    seed
        Any whole number; equal seeds and steps give equal layouts.
    keep
        The longer and the shorter side of the least leftover worth keeping.
    most
        What the layouts may cost; by default as much as those to begin with.
    scale
        What distances should be multiples of.
    keeps_remainders
        Whether a panel may be what is left of a strip.
    """

    def __init__(
        self,
        problem: Problem,
        layouts: Sequence[Layout],
        *,
        seed: int,
        keep: tuple[int, int],
        most: int | None = None,
        scale: int = 1,
        keeps_remainders: bool = True,
    ) -> None:
        self.problem = problem
        self.steps = 0
        self._most = most
        sides = {side for item in problem.items for side in (item.length, item.width)}
        self._wanted = {side for side in sides if side % scale == 0}
        self._tables = Tables.of(problem)
        self._blade = _blade(problem, keeps_remainders)
        self._keep = np.array([side + problem.kerf for side in keep], np.int64)
        self._rng = np.array([(seed * 0x9E3779B97F4A7C15 + 0x7654321) % 2**64 or 1], np.uint64)
        for _ in range(8):
            draw(self._rng, 2)
        self._run = np.zeros(regroup.RUNS, np.int64)
        self._history = np.full(_MEMORY, _FAR, np.int64)
        self.restart(layouts)

    def restart(self, layouts: Sequence[Layout]) -> None:
        """Go on from other layouts of the problem."""
        kerf = self.problem.kerf
        sheets = [
            (layout.stock, rows_of(layout.root, kerf))
            for layout in layouts
            for _ in range(layout.copies)
        ]
        state = planted(self._tables, sheets, 1)
        spare = 0 if len(self.problem.bins) == 1 and self._most is None else 2
        self._state = state.compacted(self._tables, len(sheets) + spare)
        self._state.purse[1] = state.cost if self._most is None else max(state.cost, self._most)
        self._kept = self._state.copy()

    @property
    def cost(self) -> int:
        """Return the cost of the best layouts."""
        return self._kept.cost

    def search(
        self,
        others: Work,
        steps: int,
        is_over: Callable[[], bool],
        *,
        larger: bool = False,
        slack: int = 0,
    ) -> tuple[Layout, ...]:
        """Search for so many steps and return the best layouts met.

        Parameters
        ----------
        others
            The cuts of the job's other materials, made with the same settings.
        steps
            How many; fewer where ``is_over`` says so.
        is_over
            Asked now and then.
        larger
            Look for larger leftovers and fewer cuts beside few settings.
        slack
            How many settings more the search may walk through at first; with any it also lifts
            more at a time.
        """
        tune = np.array(_LARGER if larger else _BOLDER if slack else _FEWER, np.int64)
        tune[regroup.FRESH] = 0 if self._most is None else _FRESH
        most = len(self._state.wait) * 12 + 64 * len(self._state.meta)
        work = others.enlarged(_room(most))
        self._kept = self._state.copy()
        mark = self._mark(self._kept, work, tune)
        self._run[[regroup.MARK, regroup.BEST]] = mark
        self._history[:] = mark + slack * regroup.SETTING
        done = 0
        while done < steps and not is_over():
            count = min(ROUND, steps - done)
            self._regroup(work, tune, count)
            done += count
        self.steps += done
        self._settle(work, tune)
        drawn = []
        for slot in self._open(self._kept):
            drawn.append(self._loose(self._kept, slot))
        return merged(drawn)

    def _regroup(self, work: Work, tune: NDArray[np.int64], steps: int) -> None:
        state, tables = self._state, self._tables
        regroup.regroup(
            state.tree,
            state.meta,
            tables.bins,
            state.left,
            state.purse,
            tables.types,
            self._blade,
            self._keep,
            len(state.wait),
            self._run,
            self._history,
            tune,
            self._rng,
            self._kept.tree,
            self._kept.meta,
            work.strips,
            work.tasks,
            work.roots,
            work.sizes,
            steps,
        )

    def _mark(self, state: State, work: Work, tune: NDArray[np.int64]) -> int:
        return int(
            regroup.marked(
                state.tree,
                state.meta,
                self._tables.bins,
                self._blade,
                self._keep,
                tune,
                self._rng,
                work.strips,
                work.tasks,
                work.roots,
                work.sizes,
                *regroup.scratch(state.tree.shape[1], len(work.tasks)),
            )
        )

    def _settle(self, work: Work, tune: NDArray[np.int64]) -> None:
        """Count what the best state costs, and draw its strips tight where that does no harm.

        A strip stays wider than its panels only where that spares a setting, and then only at a
        part's own size or where it uses up what is left of the strip around it.
        """
        tune = tune.copy()
        tune[regroup.RARE], tune[regroup.LEFTOVER] = 0, 200
        is_large = len(self._state.wait) > _MANY
        for slot in self._open(self._kept):
            table = self._kept.tree[slot]
            # What is drawn tight may leave room beside a strip that used it up.
            while any(
                self._draw_tight(slot, n, None if is_large else (work, tune))
                for n in _inner_strips(table)
            ):
                pass
        used = [int(self._kept.meta[slot, nodes.BIN]) for slot in self._open(self._kept)]
        self._kept.purse[0] = int(self._tables.bins[used, 3].sum())

    def _draw_tight(self, slot: int, n: int, judge: tuple[Work, NDArray[np.int64]] | None) -> bool:
        """Draw a strip tight where it may not stay as it is, or where that does no harm.

        In a large problem a look at all cuts for each strip would take too long: without
        ``judge`` a strip stays as it is if it may.
        """
        table, meta = self._kept.tree[slot], self._kept.meta[slot]
        parent = int(table[n, nodes.PARENT])
        axis = int(table[parent, nodes.ANGLE])
        if not nodes.slack(table, n, axis) or meta[nodes.USED] + 1 > len(table):
            return False
        size = int(table[n, nodes.EXT + axis]) - self.problem.kerf
        is_remainder = table[parent, nodes.FREE] < 0 and not self._has_trim(slot, parent)
        may_stay = is_remainder or size in self._wanted
        if may_stay and judge is None:
            return False
        before = table.copy(), meta.copy()
        mark = 0 if judge is None else self._mark(self._kept, *judge)
        nodes.tighten(table, meta, n)
        is_better = not may_stay or (judge is not None and self._mark(self._kept, *judge) <= mark)
        if is_better and is_reachable(self.problem, self._loose(self._kept, slot)):
            return True
        table[:], meta[:] = before
        return False

    def _has_trim(self, slot: int, n: int) -> bool:
        """Say whether a strip ends at edges of its sheet that have to be cleaned."""
        table = self._kept.tree[slot]
        is_outer = n == 0 or table[n, nodes.PARENT] == 0
        return bool(is_outer and self._tables.bins[self._kept.meta[slot, nodes.BIN], 2] > 0)

    def _loose(self, state: State, slot: int) -> Layout:
        return loose_layout(self.problem, state, slot)

    @staticmethod
    def _open(state: State) -> list[int]:
        return [int(slot) for slot in np.flatnonzero(state.meta[:, nodes.BIN] >= 0)]


def _inner_strips(table: NDArray[np.int32]) -> list[int]:
    """Return the strips of a sheet below its root, children before their parents."""
    order = [0]
    for n in order:
        if table[n, nodes.KIND] == nodes.STRIP:
            child = int(table[n, nodes.FIRST])
            while child >= 0:
                order.append(child)
                child = int(table[child, nodes.NEXT])
    return [n for n in reversed(order[1:]) if table[n, nodes.KIND] == nodes.STRIP]

"""Layouts of equal cost that need fewer set-ups: the search that the compiled kernel is run by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.starting_states import node_table, state_of
from cutlist.nesting.kernels import fewer_settings as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.cut_forest import CutForest, WritingRules
from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.records import Copies, Walk
from cutlist.nesting.kernels.setting_count import (
    SETUPS,
    SKIMS,
    UNSAFE_CUTS,
    WEIGHS,
    count_room,
    count_settings,
)
from cutlist.nesting.kernels.settings_mark import SETUP, WEIGHED, Judged, mark_of, mark_room
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import loose_layout, merged
from cutlist.nesting.parameters import USUAL_NESTING
from cutlist.nesting.search.layout_cuts import cuts_of_layouts, room_for_cuts

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from numpy.typing import NDArray

    from cutlist.model.layout import Layout
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.parameters import SettingsSearchParameters
    from cutlist.nesting.problem import Problem
    from cutlist.nesting.step_parameters import SettingsStepParameters

_FAR = 1 << 62  # a mark worse than any
_USUAL_MINUTES = 3  # of a set-up, for the slack that a search walks through


@dataclass(frozen=True, slots=True)
class Shop:
    """What the search knows of the shop.

    Parameters
    ----------
    bench
        What its devices may do.
    minute
        What a minute of a set-up weighs there.
    keeps_remainders
        Whether a panel may be what is left of a strip.
    """

    bench: Bench
    minute: int
    keeps_remainders: bool = True

    def rules(self, *, whole: bool) -> WritingRules:
        """Return how cuts are written down; ``whole`` cleans edges on whole sheets."""
        return WritingRules(self.keeps_remainders, self.keeps_remainders, whole)


@dataclass(frozen=True, slots=True)
class Tally:
    """What was counted: cuts no device may make, minutes (as weighed), set-ups, mere skims."""

    unsafe: int
    weight: int
    setups: int
    skims: int


def cut_forest(
    problems: Iterable[tuple[Problem, Sequence[Layout]]], shop: Shop, *, whole: bool = True
) -> CutForest:
    """Return the cuts of the layouts of several problems, each layout once.

    ``whole`` says whether edges are cleaned on whole sheets.
    """
    sheets = [
        (layout, trims[layout.stock])
        for problem, layouts in problems
        for trims in (Tables.of(problem).bins[:, 4:8],)
        for layout in layouts
    ]
    return cuts_of_layouts(sheets, shop.bench, shop.rules(whole=whole))


def quick_settings(forest: CutForest, shop: Shop) -> Tally:
    """Return what a quick order of some cuts comes to; the best is no worse."""
    room = count_room(len(forest.tasks))
    count_settings(forest, shop.bench, room, np.array([1], np.uint64))
    tally = room.tally
    counted = (tally[entry] for entry in (UNSAFE_CUTS, WEIGHS, SETUPS, SKIMS))
    return Tally(*(int(n) for n in counted))


class SettingsSearch:
    """Searches layouts of one problem that need fewer settings.

    Parameters
    ----------
    problem
        The problem.
    layouts
        A complete solution to begin with.
    shop
        What its devices may do.
    seed
        Any whole number; equal seeds and steps give equal layouts.
    keep
        The longer and the shorter side of the least leftover worth keeping.
    most
        What the layouts may cost; by default as much as those to begin with.
    scale
        What distances should be multiples of.
    whole
        Whether edges are cleaned on whole sheets, or on the strips.
    parameters
        What it is tuned by.
    """

    def __init__(
        self,
        problem: Problem,
        layouts: Sequence[Layout],
        shop: Shop,
        *,
        seed: int,
        keep: tuple[int, int],
        most: int | None = None,
        scale: int = 1,
        whole: bool = True,
        parameters: SettingsSearchParameters = USUAL_NESTING.settings,
    ) -> None:
        self.problem = problem
        self._parameters = parameters
        self.steps = 0
        self._most = most
        sides = {side for item in problem.items for side in (item.length, item.width)}
        self._wanted = {side for side in sides if side % scale == 0}
        self._tables = Tables.of(problem)
        self._shop = shop
        self.whole = whole
        self._keep = (keep[0] + problem.kerf, keep[1] + problem.kerf)
        self._rng = np.array([(seed * 0x9E3779B97F4A7C15 + 0x7654321) % 2**64 or 1], np.uint64)
        for _ in range(8):
            draw(self._rng, 2)
        self._walk = Walk(
            np.zeros(kernel.RUNS, np.int64), np.full(parameters.memory, _FAR, np.int64)
        )
        self.restart(layouts)

    def restart(self, layouts: Sequence[Layout]) -> None:
        """Go on from other layouts of the problem."""
        kerf = self.problem.kerf
        sheets = [
            (layout.stock, node_table(layout.root, kerf))
            for layout in layouts
            for _ in range(layout.copies)
        ]
        state = state_of(self._tables, sheets, 1)
        spare = 0 if len(self.problem.bins) == 1 and self._most is None else 2
        self._state = state.compacted(self._tables, len(sheets) + spare)
        self._state.limit_cost(state.cost if self._most is None else max(state.cost, self._most))
        self._kept = self._state.copy()

    @property
    def cost(self) -> int:
        """Return the cost of the best layouts."""
        return self._kept.cost

    def search(
        self,
        others: CutForest,
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
        tuned = self._parameters
        tune = tuned.larger if larger else tuned.bolder if slack else tuned.fewer
        tune = tune._replace(fresh=0 if self._most is None else tuned.fresh)
        most = len(self._state.wait) * 12 + 64 * len(self._state.meta)
        shop = self._shop
        rules = shop.rules(whole=self.whole)
        judged = Judged(
            others.enlarged(room_for_cuts(most)), shop.bench, rules, shop.minute, self._keep
        )
        self._kept = self._state.copy()
        mark = self._mark(self._kept, judged, tune)
        self._walk.run[[kernel.MARK, kernel.BEST]] = mark
        self._walk.history[:] = mark + slack * _USUAL_MINUTES * (WEIGHED + SETUP)
        done = 0
        while done < steps and not is_over():
            count = min(tuned.round_steps, steps - done)
            self._run_kernel(judged, tune, count)
            done += count
        self.steps += done
        self._settle(judged, tune)
        drawn = []
        for slot in self._open(self._kept):
            drawn.append(self._loose(self._kept, slot))
        return merged(drawn)

    def _run_kernel(self, judged: Judged, tune: SettingsStepParameters, steps: int) -> None:
        kernel.search_settings(
            self._state.sheets,
            self._tables.sizes,
            judged,
            len(self._state.wait),
            self._walk,
            tune,
            Copies(self._kept.tree, self._kept.meta),
            self._rng,
            steps,
        )

    def _mark(self, state: State, judged: Judged, tune: SettingsStepParameters) -> int:
        room = mark_room(state.sheets, judged)
        return int(mark_of(state.sheets, self._tables.sizes, judged, room, tune, self._rng))

    def _settle(self, judged: Judged, tune: SettingsStepParameters) -> None:
        """Count what the best state costs, and draw its strips tight where that does no harm.

        A strip stays wider than its panels only where that spares a setting, and then only at a
        part's own size or where it uses up what is left of the strip around it.
        """
        tune = tune._replace(rare=0, leftover=self._parameters.settling_leftover)
        is_large = len(self._state.wait) > self._parameters.most_judged
        for slot in self._open(self._kept):
            table = self._kept.tree[slot]
            # What is drawn tight may leave room beside a strip that used it up.
            while any(
                self._draw_tight(slot, n, None if is_large else (judged, tune))
                for n in _inner_strips(table)
            ):
                pass
        self._kept.count_cost(self._tables)

    def _draw_tight(
        self, slot: int, n: int, judge: tuple[Judged, SettingsStepParameters] | None
    ) -> bool:
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
        return bool(is_outer and self._tables.bins[self._kept.meta[slot, nodes.BIN], 4:8].any())

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

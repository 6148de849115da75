"""The entrance: layouts in, cuts grouped by setting out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from collections.abc import Sequence as SequenceOf
from dataclasses import dataclass, replace
from functools import partial

from cutlist.model.edges import ALL_CLEAN, EdgeTrims
from cutlist.model.layout import Layout
from cutlist.model.plan import Purpose
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.cleaning import Way, ways
from cutlist.sequencing.cutting import FinishedPiece, SettingStep, Start, make_cuts
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.order import Order, order_settings
from cutlist.sequencing.parameters import USUAL, SequencingParameters, TrialParameters, never
from cutlist.sequencing.strips import sizes_on_mark
from cutlist.sequencing.tidy import tidied
from cutlist.sequencing.together import apart
from cutlist.sequencing.tools import tool_and_distance
from cutlist.sequencing.tree_bound import bound_over_trees
from cutlist.sequencing.trees import Trees
from cutlist.sequencing.widening import on_marks, widened


@dataclass(frozen=True, slots=True)
class StockLayout:
    """A layout with its copies, and what there is to clean off the edges of its stock.

    Where one end of an axis is clean it is the low one.
    """

    layout: Layout
    trims: EdgeTrims[int] = ALL_CLEAN


@dataclass(frozen=True, slots=True)
class Sequenced:
    """Cuts grouped by setting.

    Parameters
    ----------
    settings
        In order, each with its cuts.
    pieces
        What is left at the end: panels and waste. Sheets count through the layouts' copies.
    bound
        A lower bound on settings over all orders and equivalent cut trees of the layouts.
    order_bound
        A lower bound on settings over all orders of the cut trees chosen, ``bound`` where panels
        have to match.
    apart
        What keeps panels from matching, counted; 0 where all do, or none has to.
    """

    settings: tuple[SettingStep, ...]
    pieces: tuple[FinishedPiece, ...]
    bound: int
    order_bound: int
    apart: int = 0


def glance(
    layouts: SequenceOf[StockLayout], fence: Fence, parameters: SequencingParameters = USUAL
) -> int:
    """Return how many settings a quick look at the layouts finds, to compare them by.

    What keeps panels from matching weighs more than any number of settings, and a cut that no saw
    makes safely more than a few.
    """
    trials = parameters.trials
    look = partial(
        order_settings,
        expansions=trials.glance_states,
        width=trials.glance_width,
        parameters=parameters.order,
    )
    return _Trials(layouts, fence, look, parameters).best(is_quick=True).weight(trials)


def sequence(
    layouts: SequenceOf[StockLayout],
    fence: Fence,
    *,
    starts: SequenceOf[Start] = (),
    expansions: int | None = None,
    is_over: Callable[[], bool] = never,
    parameters: SequencingParameters = USUAL,
) -> Sequenced:
    """Order all cuts of the layouts and carry them out.

    Every setting is used for every cut that is possible at that moment. Where panels have to match
    the order is taken that comes nearest to it, and of several the one with the fewest settings.

    Parameters
    ----------
    layouts, fence
        What is cut, and the shop.
    starts
        For each piece of stock, through the layouts' copies, what it is called and where it lies;
        left out, each is a whole one and has the next letter.
    expansions
        States that the exact search of an order may open; left out, those of the parameters.
    is_over
        Asked now and then; once it says True what is left is done quickly. Where it never does,
        equal layouts get equal cuts.
    parameters
        What the room is tuned by.
    """
    search = partial(
        order_settings, expansions=expansions, is_over=is_over, parameters=parameters.order
    )
    trial = _Trials(layouts, fence, search, parameters, is_over).best()
    if not fence.together:
        tidy = tidied(
            trial.forest,
            trial.roots,
            trial.order.settings,
            is_over=is_over,
            parameters=parameters.tidy,
        )
        trial = replace(trial, order=replace(trial.order, settings=tidy))
    settings, pieces = trial.cut(layouts, fence, starts)
    # Where there is something to cut one setting is needed. Blades of several widths leave pieces
    # of several sizes where one was counted, and nothing more is proven.
    bound = min(1, len(settings))
    if fence.has_one_kerf:
        stock = [(entry.layout, entry.trims) for entry in layouts]
        least = bound_over_trees(stock, fence, is_over=is_over, parameters=parameters.bound)
        bound = max(bound, least)
    order_bound = bound if fence.together else max(bound, trial.order.bound)
    return Sequenced(settings, pieces, bound, order_bound, trial.apart)


@dataclass(frozen=True, slots=True)
class _Trial:
    """The layouts' cut trees in a forest, and the order found for them.

    ``unsafe`` counts kinds of cuts that no saw makes safely, ``apart`` what keeps panels from
    matching.
    """

    forest: Forest
    roots: list[int]
    order: Order
    unsafe: int = 0
    apart: int = 0

    def weight(self, parameters: TrialParameters) -> int:
        """Return what trees and orders are compared by."""
        extra = parameters.unsafe * self.unsafe + parameters.apart * self.apart
        return len(self.order.settings) + extra

    def cut(
        self, layouts: SequenceOf[StockLayout], fence: Fence, starts: SequenceOf[Start] = ()
    ) -> tuple[tuple[SettingStep, ...], tuple[FinishedPiece, ...]]:
        """Carry the order out."""
        sheets = []
        for entry, root in zip(layouts, self.roots, strict=True):
            tree, trims = entry.layout.root, entry.trims
            size = (tree.length + sum(trims.x), tree.width + sum(trims.y))
            sheets += [(root, *size)] * entry.layout.copies
        return make_cuts(self.forest, sheets, self.order.settings, fence, starts)


class _Trials:
    """Builds cut trees for layouts and orders them, in every way worth trying.

    Parameters
    ----------
    layouts, fence
        What is cut, and the shop.
    search
        Searches a forest's roots for an order, some settings held back.
    parameters
        What the room is tuned by.
    is_over
        Once it says True no further way is tried.
    """

    def __init__(
        self,
        layouts: SequenceOf[StockLayout],
        fence: Fence,
        search: Callable[..., Order],
        parameters: SequencingParameters,
        is_over: Callable[[], bool] = never,
    ) -> None:
        self._layouts = layouts
        self._fence = fence
        self._search = search
        self._parameters = parameters
        self._is_over = is_over

    def best(self, *, is_quick: bool = False) -> _Trial:
        """Try all ways to clean edges, and return the best."""
        parameters = self._parameters.trials
        best: _Trial | None = None
        ends = [end for entry in self._layouts for end in (entry.trims.left, entry.trims.lower)]
        for way in ways(self._fence, is_trimmed=any(ends), is_quick=is_quick):
            if best is not None:
                if way.thrifty and len(best.forest) > parameters.most_nodes:
                    continue
                if self._is_over():
                    break
            for trial in self._of(way):
                if best is None or trial.weight(parameters) < best.weight(parameters):
                    best = trial
        assert best is not None
        return best

    def _of(self, way: Way) -> Iterator[_Trial]:
        """Yield an order, and others as long as panels do not match in it.

        What has to match is held back until one visit does all of it, and then cut to size as well
        where it would be a remainder.
        """
        fence = self._fence
        to_size = replace(fence, keeps_remainders=False)
        for shop in dict.fromkeys((fence, to_size)) if fence.together else (fence,):
            forest, roots, unsafe = _forest_of(self._layouts, shop, way, self._parameters)
            for held in ((), _matching(forest, fence)) if fence.together else ((),):
                trial = _Trial(forest, roots, self._search(forest, roots, held=held), unsafe)
                if fence.together:
                    cuts = trial.cut(self._layouts, fence)
                    trial = replace(trial, apart=apart(fence.together, *cuts))
                yield trial
                if not trial.apart:
                    return


def _matching(forest: Forest, fence: Fence) -> tuple[int, ...]:
    """Return the settings of a forest at sizes that have to match."""
    sizes = {one.distance for one in fence.together}
    settings = {branch.setting for node in forest.nodes for branch in node.branches}
    return tuple(sorted(one for one in settings if tool_and_distance(one)[1] in sizes))


def _forest_of(
    layouts: SequenceOf[StockLayout], fence: Fence, way: Way, parameters: SequencingParameters
) -> tuple[Forest, list[int], int]:
    """Return the forest, each layout's node, and how many kinds of cuts no saw makes safely."""
    stock = [
        (
            replace(entry.layout, root=on_marks(entry.layout.root, fence, entry.trims)),
            entry.trims,
        )
        for entry in layouts
    ]
    if not fence.keeps_remainders:
        sizes = sizes_on_mark((layout for layout, _ in stock), fence.common_mark)
        stock = [
            (replace(layout, root=widened(layout.root, sizes, fence)), trims)
            for layout, trims in stock
        ]
    chooser = Chooser(fence)
    used = frozenset[int]()
    if len(fence.tools) > 1:
        # Once to hear which cuts there are at each distance, and again to share them out.
        _rehearsed(stock, fence, chooser)
        chooser = Chooser(fence, chooser)
        used = _rehearsed(stock, fence, chooser)
        chooser.unsafe.clear()
    forest = Forest()
    trees = Trees(forest, fence, stock, chooser, way, used, parameters.cleaning)
    roots = [trees.root(layout, trims) for layout, trims in stock]
    return forest, roots, len(chooser.unsafe)


def _rehearsed(
    stock: SequenceOf[tuple[Layout, EdgeTrims[int]]], fence: Fence, chooser: Chooser
) -> frozenset[int]:
    """Build plain trees for the chooser's sake; return the settings that parts ask for."""
    forest = Forest()
    trees = Trees(forest, fence, stock, chooser, Way())
    for layout, trims in stock:
        trees.root(layout, trims)
    return frozenset(
        branch.setting
        for node in forest.nodes
        for branch in node.branches
        if branch.purpose is Purpose.PART
    )

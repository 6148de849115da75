"""The entrance: layouts in, cuts grouped by setting out."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from collections.abc import Sequence as SequenceOf
from dataclasses import dataclass, replace
from functools import partial

from cutlist.model.edges import ALL_CLEAN, EdgeTrims
from cutlist.model.layout import Layout
from cutlist.sequencing.cut_trees import CutTrees, cut_trees
from cutlist.sequencing.cutting import FinishedPiece, SettingStep, Start, make_cuts
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.load import SetupLoad
from cutlist.sequencing.order import Order, order_settings
from cutlist.sequencing.parameters import USUAL, SequencingParameters, never
from cutlist.sequencing.strips import sizes_on_mark
from cutlist.sequencing.tidy import tidied
from cutlist.sequencing.together import apart
from cutlist.sequencing.tools import tool_and_distance
from cutlist.sequencing.tree_bound import bound_over_trees
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
    load
        What they come to.
    """

    settings: tuple[SettingStep, ...]
    pieces: tuple[FinishedPiece, ...]
    bound: int
    order_bound: int
    load: SetupLoad


def glance(
    layouts: SequenceOf[StockLayout], fence: Fence, parameters: SequencingParameters = USUAL
) -> SetupLoad:
    """Return what a quick look at the layouts finds that their set-ups come to."""
    trials = parameters.trials
    look = partial(
        order_settings,
        expansions=trials.glance_states,
        width=trials.glance_width,
        parameters=parameters.order,
    )
    return _Trials(layouts, fence, look, parameters).best().load(fence)


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
    the order is taken that comes nearest to it, and of several the one whose set-ups take least.

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
            trial.trees.forest,
            trial.trees.roots,
            trial.order.settings,
            is_over=is_over,
            parameters=parameters.tidy,
        )
        trial = replace(trial, order=replace(trial.order, settings=tidy))
    settings, pieces = trial.cut(fence, starts)
    # Where there is something to cut one setting is needed. Blades of several widths leave pieces
    # of several sizes where one was counted, and nothing more is proven.
    bound = min(1, len(settings))
    if fence.has_one_kerf:
        stock = [(entry.layout, entry.trims) for entry in layouts]
        least = bound_over_trees(stock, fence, is_over=is_over, parameters=parameters.bound)
        bound = max(bound, least)
    guided = len(settings) - len(trial.order.settings)
    order_bound = bound if fence.together else max(bound, trial.order.bound + guided)
    # While layouts are compared, what a device may do is asked of each strip as it begins; now that
    # all is cut, of each piece as it is.
    unsafe = sum(bool(cut.hazards) for step in settings for cut in step.cuts)
    load = replace(trial.load(fence), unsafe=unsafe)
    return Sequenced(settings, pieces, bound, order_bound, load)


@dataclass(frozen=True, slots=True)
class _Trial:
    """The layouts' cut trees, and the order found for them.

    ``apart`` counts what keeps panels from matching.
    """

    layouts: SequenceOf[StockLayout]
    trees: CutTrees
    order: Order
    apart: int = 0

    def load(self, fence: Fence) -> SetupLoad:
        """Return what the set-ups come to."""
        guided = [
            setting
            for entry, settings in zip(self.layouts, self.trees.guided, strict=True)
            for setting in settings * entry.layout.copies
        ]
        weights = [tool.weight for tool in fence.bench]
        made = [*self.order.settings, *guided]
        weight = sum(weights[tool_and_distance(setting)[0]] for setting in made)
        return SetupLoad(self.trees.unsafe, self.apart, weight, len(made), self.trees.skims)

    def cut(
        self, fence: Fence, starts: SequenceOf[Start] = ()
    ) -> tuple[tuple[SettingStep, ...], tuple[FinishedPiece, ...]]:
        """Carry the order out."""
        sheets = []
        for entry, root in zip(self.layouts, self.trees.roots, strict=True):
            tree, trims = entry.layout.root, entry.trims
            size = (tree.length + sum(trims.x), tree.width + sum(trims.y))
            sheets += [(root, *size)] * entry.layout.copies
        return make_cuts(self.trees.forest, sheets, self.order.settings, fence, starts)


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

    def best(self) -> _Trial:
        """Try edges cleaned on whole pieces of stock and on strips, and return the best."""
        best: _Trial | None = None
        ends = [end for entry in self._layouts for end in (entry.trims.left, entry.trims.lower)]
        for whole in (True, False) if any(ends) else (True,):
            if best is not None and self._is_over():
                break
            for trial in self._of(whole=whole):
                if best is None or trial.load(self._fence) < best.load(self._fence):
                    best = trial
        assert best is not None
        return best

    def _of(self, *, whole: bool) -> Iterator[_Trial]:
        """Yield an order, and others as long as panels do not match in it.

        What has to match is held back until one visit does all of it, and then cut to size as well
        where it would be a remainder.
        """
        fence = self._fence
        to_size = replace(fence, keeps_remainders=False)
        for shop in dict.fromkeys((fence, to_size)) if fence.together else (fence,):
            trees = _trees_of(self._layouts, shop, whole=whole)
            for held in ((), _matching(trees.forest, fence)) if fence.together else ((),):
                order = self._search(trees.forest, trees.roots, held=held)
                trial = _Trial(self._layouts, trees, order)
                if fence.together:
                    cuts = trial.cut(fence)
                    trial = replace(trial, apart=apart(fence.together, *cuts))
                yield trial
                if not trial.apart:
                    return


def _matching(forest: Forest, fence: Fence) -> tuple[int, ...]:
    """Return the settings of a forest at sizes that have to match."""
    sizes = {one.distance for one in fence.together}
    return tuple(sorted(one for one in forest.settings if tool_and_distance(one)[1] in sizes))


def _trees_of(layouts: SequenceOf[StockLayout], fence: Fence, *, whole: bool) -> CutTrees:
    """Return the cut trees of layouts, their strips on marks and wide enough."""
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
    return cut_trees(stock, fence, whole=whole)

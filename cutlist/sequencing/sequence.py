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
from cutlist.sequencing.strips import sizes_on_mark
from cutlist.sequencing.tidy import tidied
from cutlist.sequencing.together import apart
from cutlist.sequencing.tools import tool_and_distance
from cutlist.sequencing.tree_bound import bound_over_trees
from cutlist.sequencing.trees import Trees
from cutlist.sequencing.widening import on_marks, widened

#: States the exact search may open: a second at most, milliseconds on a usual job.
EXPANSIONS = 1500
_GLANCE = 60
_GLANCE_WIDTH = 4
#: Cuts of so many kinds take a second to order: there the plain way to clean edges has to do.
_MOST_NODES = 250
#: A cut that no saw makes safely weighs as much as so many settings: it is the last resort.
_UNSAFE = 20
#: A panel that does not match weighs as much as so many settings.
_APART = 1000


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


def glance(layouts: SequenceOf[StockLayout], fence: Fence) -> int:
    """Return how many settings a quick look at the layouts finds, to compare them by.

    What keeps panels from matching weighs more than any number of settings, and a cut that no saw
    makes safely more than a few.
    """
    look = partial(order_settings, expansions=_GLANCE, width=_GLANCE_WIDTH)
    return _planted(layouts, fence, look, is_quick=True).weight


def sequence(
    layouts: SequenceOf[StockLayout],
    fence: Fence,
    *,
    starts: SequenceOf[Start] = (),
    expansions: int = EXPANSIONS,
) -> Sequenced:
    """Order all cuts of the layouts and carry them out.

    ``starts`` tells of each piece of stock, through the layouts' copies, what it is called and
    where it lies; left out, each is a whole one and has the next letter.

    Every setting is used for every cut that is possible at that moment. Where panels have to match
    the order is taken that comes nearest to it, and of several the one with the fewest settings.
    """
    planted = _planted(layouts, fence, partial(order_settings, expansions=expansions))
    if not fence.together:
        tidy = tidied(planted.forest, planted.roots, planted.order.settings)
        planted = replace(planted, order=replace(planted.order, settings=tidy))
    settings, pieces = planted.cut(layouts, fence, starts)
    bound = _bound(layouts, fence, len(settings))
    order_bound = bound if fence.together else max(bound, planted.order.bound)
    return Sequenced(settings, pieces, bound, order_bound, planted.apart)


@dataclass(frozen=True, slots=True)
class _Planted:
    """The layouts' cut trees in a forest, and the order found for them.

    ``unsafe`` counts kinds of cuts that no saw makes safely, ``apart`` what keeps panels from
    matching.
    """

    forest: Forest
    roots: list[int]
    order: Order
    unsafe: int = 0
    apart: int = 0

    @property
    def weight(self) -> int:
        """What trees and orders are compared by."""
        return len(self.order.settings) + _UNSAFE * self.unsafe + _APART * self.apart

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


#: Searches a forest's roots for an order, some settings held back.
_Search = Callable[..., Order]


def _planted(
    layouts: SequenceOf[StockLayout], fence: Fence, search: _Search, *, is_quick: bool = False
) -> _Planted:
    """Plant and order in every way to clean edges, and take the best."""
    best: _Planted | None = None
    is_trimmed = any(low for entry in layouts for low, _ in (entry.trims.x, entry.trims.y))
    for way in ways(fence, is_trimmed=is_trimmed, is_quick=is_quick):
        if best is not None and way.thrifty and len(best.forest) > _MOST_NODES:
            continue
        for planted in _tries(layouts, fence, search, way):
            if best is None or planted.weight < best.weight:
                best = planted
    assert best is not None
    return best


def _tries(
    layouts: SequenceOf[StockLayout], fence: Fence, search: _Search, way: Way
) -> Iterator[_Planted]:
    """Yield an order, and others as long as panels do not match in it.

    What has to match is held back until one visit does all of it, and then cut to size as well
    where it would be a remainder.
    """
    to_size = replace(fence, keeps_remainders=False)
    for shop in dict.fromkeys((fence, to_size)) if fence.together else (fence,):
        forest, roots, unsafe = _plant(layouts, shop, way)
        for held in ((), _matching(forest, fence)) if fence.together else ((),):
            planted = _Planted(forest, roots, search(forest, roots, held=held), unsafe)
            if fence.together:
                planted = replace(
                    planted, apart=apart(fence.together, *planted.cut(layouts, fence))
                )
            yield planted
            if not planted.apart:
                return


def _matching(forest: Forest, fence: Fence) -> tuple[int, ...]:
    """Return the settings of a forest at sizes that have to match."""
    sizes = {one.distance for one in fence.together}
    settings = {branch.setting for node in forest.nodes for branch in node.branches}
    return tuple(sorted(one for one in settings if tool_and_distance(one)[1] in sizes))


def _plant(
    layouts: SequenceOf[StockLayout], fence: Fence, way: Way
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
    trees = Trees(forest, fence, stock, chooser, way, used)
    roots = [trees.root(layout, trims) for layout, trims in stock]
    return forest, roots, len(chooser.unsafe)


def _rehearsed(
    stock: SequenceOf[tuple[Layout, EdgeTrims[int]]], fence: Fence, chooser: Chooser
) -> frozenset[int]:
    """Plant in the plain way for the chooser's sake; return the settings that parts ask for."""
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


def _bound(layouts: SequenceOf[StockLayout], fence: Fence, settings: int) -> int:
    # Where there is something to cut one setting is needed. Blades of several widths leave pieces
    # of several sizes where one was counted, and nothing more is proven.
    bound = min(1, settings)
    if fence.has_one_kerf:
        bound = max(bound, bound_over_trees([(e.layout, e.trims) for e in layouts], fence))
    return bound

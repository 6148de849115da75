"""Whether the compiled search for an order is in the cache; filling it."""

from __future__ import annotations

from cutlist.sequencing.kernel_cache import CACHE


def is_compiled() -> bool:
    """Say whether an earlier run left compiled kernels of this version behind."""
    return CACHE.holds(("side_by_side",))


def prepare_kernels() -> None:
    """Compile the search for an order, or load it from the cache, so that no budget pays for it."""
    from cutlist.model.layout import Axis
    from cutlist.sequencing.beam import Beam
    from cutlist.sequencing.forest import Branch, Forest

    forest = Forest()
    panels = [forest.panel(part) for part in range(2)]
    inner = forest.work(Axis.X, [Branch(1, panels[0]), Branch(2, panels[1])], forest.waste)
    root = forest.work(Axis.Y, [Branch(2, inner), Branch(1, panels[1])], forest.waste)
    Beam(forest, [root], width=2).run(lambda: False)

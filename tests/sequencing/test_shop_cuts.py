"""Random layouts in random shops, replayed: sizes, edges, and what each device may do."""

from __future__ import annotations

from random import Random

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from tests.sequencing.shop_replay import ShopReplay
from tests.sequencing.shops import guide, random_shop, random_work, table_saw


@pytest.mark.slow
@pytest.mark.parametrize("keeps", [True, False])
@pytest.mark.parametrize("kerfs_alike", [True, False])
@pytest.mark.parametrize("has_guide", [True, False])
def test_random_work_replays(has_guide: bool, kerfs_alike: bool, keeps: bool) -> None:
    """No cut breaks a rule, and no cut beyond its device goes uncounted."""
    faults = {}
    for seed in range(150):
        random = Random(seed)
        fence = random_shop(random, has_guide=has_guide, kerfs_alike=kerfs_alike, keeps=keeps)
        work = random_work(random, fence)
        made = sequence(work.layouts, work.fence, expansions=200)
        run = ShopReplay(work, made)
        found = list(run.faults)
        if made.load.unsafe != len(run.outside):
            found.append(f"{made.load.unsafe} counted of {run.outside}")
        assert made.load.setups == len(made.settings), seed
        assert made.bound <= made.order_bound <= len(made.settings), seed
        if found:
            faults[seed] = found
    assert faults == {}


def test_each_guided_cut_is_a_setup() -> None:
    """Two halves of a sheet too large for a short fence: a guide is laid for every copy."""
    fence = Fence(3, tools=(table_saw(3, 300), guide(3)))
    root = Strip(Axis.X, 2440, 1220, (Cell(0, 1220, 1220), Cell(1, 1217, 1220)))
    for copies in (1, 2, 5):
        made = sequence([StockLayout(Layout(0, root, copies))], fence)
        assert len(made.settings) == made.load.setups == copies
        assert all(len(step.cuts) == 1 for step in made.settings)
        assert made.load.weight == 5 * copies

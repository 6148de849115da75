"""Tests of the cut trees in flat arrays, through random placing and lifting."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    EXT,
    FIELDS,
    FIRST,
    FREE,
    ITEM,
    KIND,
    METAS,
    NEXT,
    PARENT,
    PREV,
    STRIP,
    TOP,
    UNUSED,
    USED,
)

LENGTH, WIDTH = 60, 40
MOST = 400


class Sheet:
    """One sheet with its tables, and the panels that should lie on it."""

    def __init__(self) -> None:
        self.tree = np.full((MOST, FIELDS), -1, np.int32)
        self.meta = np.full(METAS, -1, np.int64)
        nodes.clear(self.tree, self.meta, 5, LENGTH, WIDTH)
        self.kinds = list[int]()
        self.sizes = list[tuple[int, int]]()

    def nodes_of(self, kind: int) -> list[int]:
        """Return all nodes of a kind."""
        return [n for n in range(int(self.meta[TOP])) if self.tree[n, KIND] == kind]

    def place(self, free: int, dx: int, dy: int, axis: int) -> list[int]:
        """Put a panel of a new item on a free node and return the free nodes left of it."""
        rest = np.full(4, -1, np.int32)
        kind = len(self.sizes)
        self.sizes.append((dx, dy))
        self.kinds.append(kind)
        number = nodes.place(self.tree, self.meta, free, kind, dx, dy, axis, rest)
        return [int(n) for n in rest[:number]]

    def lift(self, node: int) -> list[int]:
        """Take a node off and return the items that lay on it."""
        lifted = np.empty(MOST, np.int32)
        stack = np.empty(MOST, np.int32)
        count = nodes.lift(self.tree, self.meta, node, lifted, 0, stack)
        gone = [int(k) for k in lifted[:count]]
        for kind in gone:
            self.kinds.remove(kind)
        return gone

    def check(self) -> None:
        """Hold the tables to the tree that they stand for."""
        seen = set[int]()
        panels = list[int]()

        def visit(n: int) -> int:
            seen.add(n)
            row = self.tree[n]
            size = int(row[EXT]) * int(row[EXT + 1])
            assert row[EXT] > 0
            assert row[EXT + 1] > 0
            if row[KIND] == ITEM:
                panels.append(int(row[ANGLE]))
                assert (int(row[EXT]), int(row[EXT + 1])) == self.sizes[row[ANGLE]]
                return size
            if row[KIND] == BLANK:
                return size
            assert row[KIND] == STRIP
            along, across = EXT + row[ANGLE], EXT + 1 - row[ANGLE]
            total = 0
            before = -1
            child = int(row[FIRST])
            assert child >= 0
            members = []
            while child >= 0:
                assert self.tree[child, PREV] == before
                assert self.tree[child, KIND] != BLANK
                members.append(child)
                before, child = child, int(self.tree[child, NEXT])
            if row[FREE] >= 0:
                assert self.tree[row[FREE], KIND] == BLANK
                members.append(int(row[FREE]))
            for member in members:
                assert self.tree[member, PARENT] == n
                assert self.tree[member, across] == row[across]
                kind, angle = self.tree[member, KIND], self.tree[member, ANGLE]
                assert not (kind == STRIP and angle == row[ANGLE])
                total += int(self.tree[member, along])
            assert total == row[along]
            assert sum(visit(member) for member in members) == size
            return size

        assert visit(0) == LENGTH * WIDTH
        assert sorted(panels) == sorted(self.kinds)
        assert self.meta[BIN] == 5
        assert self.meta[USED] == len(seen)
        unused = set(self.nodes_of(UNUSED))
        assert seen | unused == set(range(int(self.meta[TOP])))
        released = set[int]()
        n = int(self.meta[nodes.HEAD])
        while n >= 0:
            released.add(n)
            n = int(self.tree[n, NEXT])
        assert released == unused


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(30))
def test_random_placing_and_lifting_keeps_the_tree_whole(seed: int) -> None:
    """After each change extents add up, links agree, and released nodes are found again."""
    random = Random(seed)
    sheet = Sheet()
    sheet.check()
    for _ in range(80):
        free = sheet.nodes_of(BLANK)
        if free and random.random() < 0.65:
            node = random.choice(free)
            room = (int(sheet.tree[node, EXT]), int(sheet.tree[node, EXT + 1]))
            dx, dy = (random.choice((random.randint(1, most), most)) for most in room)
            for rest in sheet.place(node, dx, dy, random.randint(0, 1)):
                assert sheet.tree[rest, KIND] == BLANK
        elif sheet.kinds:
            sheet.lift(random.choice(sheet.nodes_of(ITEM) + sheet.nodes_of(STRIP)))
        sheet.check()


def test_a_panel_as_large_as_the_sheet_leaves_nothing() -> None:
    """Lifting it gives the whole sheet back."""
    sheet = Sheet()
    assert sheet.place(0, LENGTH, WIDTH, 0) == []
    assert sheet.meta[USED] == 1
    sheet.check()
    assert sheet.lift(0) == [0]
    assert sheet.nodes_of(BLANK) == [0]
    sheet.check()


@pytest.mark.parametrize("axis", [0, 1])
def test_the_first_cut_decides_which_rest_is_long(axis: int) -> None:
    """A crosscut first leaves a rest as wide as the sheet, a rip first one as long as it."""
    sheet = Sheet()
    rest = sheet.place(0, 20, 10, axis)
    sizes = {(int(sheet.tree[n, EXT]), int(sheet.tree[n, EXT + 1])) for n in rest}
    assert sizes == ({(40, 40), (20, 30)} if axis == 0 else {(60, 30), (40, 10)})
    sheet.check()


def test_lifting_all_panels_leaves_one_blank() -> None:
    """The room of neighbours is joined again, however it was divided."""
    random = Random(4)
    sheet = Sheet()
    for _ in range(30):
        free = sheet.nodes_of(BLANK)
        if not free:
            break
        node = random.choice(free)
        dx = random.randint(1, int(sheet.tree[node, EXT]))
        dy = random.randint(1, int(sheet.tree[node, EXT + 1]))
        sheet.place(node, dx, dy, random.randint(0, 1))
    while sheet.kinds:
        sheet.lift(random.choice(sheet.nodes_of(ITEM)))
        sheet.check()
    assert sheet.nodes_of(BLANK) == [0]
    assert sheet.tree[0, EXT : EXT + 2].tolist() == [LENGTH, WIDTH]

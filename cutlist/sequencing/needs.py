"""How often each setting must still be visited, counted for every node of a forest once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from cutlist.sequencing.forest import NONE, Forest, Node

Row = NDArray[np.int16]


class Needs:
    """Counts and sets for each node; settings are numbered, sets of them are bit masks.

    The count of a node and a setting is the largest number of separate visits to the setting that
    one chain of tasks through the node asks for. Two tasks in a chain that follow each other at
    the same setting need one visit.
    """

    def __init__(self, forest: Forest) -> None:
        self._forest = forest
        self.settings = sorted(forest.settings)
        self.index = {setting: index for index, setting in enumerate(self.settings)}
        shape = (2 * len(forest) + 16, len(self.settings))
        self._visits: Row = np.zeros(shape, np.int16)
        self._after: Row = np.zeros(shape, np.int16)
        self._known: set[int] = set()
        #: For each node the settings at its top, those of them that must be visited, those below
        #: the top, and for a spare node those of which all but one must be visited.
        self.top: dict[int, int] = {}
        self.must: dict[int, int] = {}
        self.deep: dict[int, int] = {}
        self.spare: dict[int, int] = {}
        #: For each node and setting in it the settings that have to follow in some chain.
        self.before: dict[int, dict[int, int]] = {}

    def visits(self, numbers: list[int]) -> Row:
        """Return the visits needed for each setting (columns) by each of the nodes (rows)."""
        for number in numbers:
            if number not in self._known:
                self._learn(number)
        return self._visits[numbers]

    def learn(self, number: int) -> None:
        """Make sure that the node's masks are known."""
        if number not in self._known:
            self._learn(number)

    def _learn(self, number: int) -> None:
        node = self._forest.nodes[number]
        children = [branch.child for branch in node.branches]
        for child in (*children, node.then):
            if child != NONE:
                self.learn(child)
        while number >= len(self._visits):
            self._visits = np.concatenate((self._visits, np.zeros_like(self._visits)))
            self._after = np.concatenate((self._after, np.zeros_like(self._after)))
        if node.is_free:
            self._learn_free(number, [child for child in (*children, node.then) if child != NONE])
            return
        top = 0
        deep = 0
        for branch in node.branches:
            top |= 1 << self.index[branch.setting]
            deep |= self.top[branch.child] | self.deep[branch.child]
        visits, after = self._of_branches(node)
        self.before[number] = self._precedences(node)
        if node.then != NONE:
            deep |= self.top[node.then] | self.deep[node.then]
            self._add_following(node, visits, after)
        self._visits[number] = visits
        self._after[number] = after
        self.top[number] = top
        self.deep[number] = deep
        self.must[number] = top & as_mask(visits > 0)
        self.spare[number] = top if node.is_spare else 0
        self._known.add(number)

    def _learn_free(self, number: int, children: list[int]) -> None:
        """Let a free node need what its pieces need: they are there as soon as it is.

        But no visit that releases the node goes on with them, since another device was taken.
        """
        before: dict[int, int] = {}
        for child in children:
            np.maximum(self._visits[number], self._visits[child], out=self._visits[number])
            np.maximum(self._after[number], self._visits[child], out=self._after[number])
            for setting, mask in self.before[child].items():
                before[setting] = before.get(setting, 0) | mask
        self.before[number] = before
        self.top[number] = self.deep[number] = 0
        for child in children:
            self.top[number] |= self.top[child]
            self.deep[number] |= self.deep[child]
        self.must[number] = self.top[number] & as_mask(self._visits[number] > 0)
        self.spare[number] = 0
        self._known.add(number)

    def _of_branches(self, node: Node) -> tuple[Row, Row]:
        visits: Row = np.zeros(len(self.settings), np.int16)
        after: Row = np.zeros(len(self.settings), np.int16)
        tops = [branch.setting for branch in node.branches]
        for branch in node.branches:
            setting = self.index[branch.setting]
            chain = self._visits[branch.child].copy()
            merged = self._after[branch.child][setting]
            # A spare branch may come free as the remainder, without a visit of its own.
            is_skippable = node.is_spare and tops.count(branch.setting) == 1
            if not is_skippable:
                chain[setting] = 1 + merged
            np.maximum(visits, chain, out=visits)
            chain[setting] = merged
            others = list(tops)
            others.remove(branch.setting)
            if node.is_spare and len(set(others)) == 1:
                # The setting that takes all others off leaves this branch free in the same visit.
                other = self.index[others[0]]
                chain[other] = self._after[branch.child][other]
            np.maximum(after, chain, out=after)
        return visits, after

    def _add_following(self, node: Node, visits: Row, after: Row) -> None:
        """Count what the remainder of the piece still needs once all branches are done."""
        tops = {self.index[branch.setting] for branch in node.branches}
        chain = self._visits[node.then].copy()
        chain_after = chain.copy()
        for setting in tops:
            chain[setting] = 1 + self._after[node.then][setting]
            if len(tops) == 1:
                chain_after[setting] = self._after[node.then][setting]
        np.maximum(visits, chain, out=visits)
        np.maximum(after, chain_after, out=after)

    def _precedences(self, node: Node) -> dict[int, int]:
        tops = [branch.setting for branch in node.branches]
        before: dict[int, int] = {}

        def follow(setting: int, mask: int) -> None:
            others = mask & ~(1 << setting)
            if others:
                before[setting] = before.get(setting, 0) | others

        for branch in node.branches:
            if not (node.is_spare and tops.count(branch.setting) == 1):
                follow(self.index[branch.setting], self._firm(branch.child))
        if node.then != NONE:
            for top in set(tops):
                follow(self.index[top], self._firm(node.then))
        for child in {*(branch.child for branch in node.branches), node.then} - {NONE}:
            for setting, mask in self.before[child].items():
                follow(setting, mask)
        return before

    def _firm(self, number: int) -> int:
        """Return the settings that the node cannot do without."""
        return as_mask(self._visits[number] > 0)


def as_mask(flags: NDArray[np.bool_]) -> int:
    """Return an array of flags as a bit mask, the first flag being the lowest bit."""
    return int.from_bytes(np.packbits(flags, bitorder="little").tobytes(), "little")

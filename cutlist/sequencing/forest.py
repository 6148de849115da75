"""The forest of cuts: what each piece still needs, and what each cut releases.

A node says what has to happen to one piece. It is *final* (a panel or waste, nothing to do) or it
has *branches*: tasks that may be done in any order, each at one setting and each releasing a
further node. When all branches are done, the remainder of the piece goes on as ``then``. A node
without ``then`` is *spare*: its last branch needs no task of its own, since what remains is exactly
that branch's piece.

A node is *free* where a guide divides its piece, which is laid anew for every cut: that waits for
no setting and serves none, so it is done as soon as the piece is there.

Nodes are interned: equal nodes share one number, so identical sheets are one sheet to the search.
Settings are whole numbers (a distance in grid units here; any numbering of tools serves). The same
engine orders bench work: an operation with what must come before it is a branch.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from cutlist.model.layout import Axis
from cutlist.model.plan import Purpose

NONE = -1


class End(StrEnum):
    """The end of the piece at which ``kept`` lies: low is where the axis starts."""

    LOW = "low"
    HIGH = "high"


@dataclass(frozen=True, slots=True, order=True)
class Branch:
    """One task: at ``setting`` a piece comes off at ``end`` and goes on as node ``child``."""

    setting: int
    child: int
    end: End = End.LOW
    purpose: Purpose = Purpose.PART


@dataclass(frozen=True, slots=True)
class Node:
    """What one piece needs.

    Parameters
    ----------
    part
        For a final node the index of the panel's part, :data:`NONE` for waste.
    axis
        The axis along which the tasks divide the piece; None for a final node.
    branches
        Tasks in any order, sorted; empty for a final node.
    then
        The node that the remainder becomes after all branches; :data:`NONE` for a spare node.
    is_free
        Whether its one branch needs no setting that others could share.
    """

    part: int = NONE
    axis: Axis | None = None
    branches: tuple[Branch, ...] = ()
    then: int = NONE
    is_free: bool = False

    @property
    def is_spare(self) -> bool:
        """Whether the last branch needs no task of its own."""
        return bool(self.branches) and self.then == NONE


class Forest:
    """A store of interned nodes, addressed by number."""

    def __init__(self) -> None:
        self.nodes: list[Node] = []
        self._number: dict[Node, int] = {}
        self._advanced: dict[tuple[int, int], frozenset[int]] = {}
        self.waste = self._intern(Node())

    def _intern(self, node: Node) -> int:
        number = self._number.get(node)
        if number is None:
            number = self._number[node] = len(self.nodes)
            self.nodes.append(node)
        return number

    def panel(self, part: int) -> int:
        """Return the final node of a panel of ``part``."""
        return self._intern(Node(part=part))

    def work(self, axis: Axis, branches: list[Branch], then: int = NONE) -> int:
        """Return the node with these branches; without ``then`` the last branch is the remainder.

        A spare node with a single branch is that branch's child, and a node without branches is
        its ``then``.
        """
        if not branches:
            return then
        if then == NONE and len(branches) == 1:
            return branches[0].child
        return self._intern(Node(axis=axis, branches=tuple(sorted(branches)), then=then))

    def guided(self, axis: Axis, branch: Branch, then: int) -> int:
        """Return the free node of a piece that a guide divides."""
        return self._intern(Node(axis=axis, branches=(branch,), then=then, is_free=True))

    @property
    def settings(self) -> set[int]:
        """The settings that there are, but for those that serve one cut alone."""
        return {
            branch.setting for node in self.nodes if not node.is_free for branch in node.branches
        }

    def opened(self, roots: Iterable[int]) -> frozenset[int]:
        """Return the open nodes that work on some roots begins with."""
        return frozenset[int]().union(*(self.released(number) for number in roots))

    def released(self, number: int) -> frozenset[int]:
        """Return the open nodes there are once all is done that waits for no setting."""
        if number == NONE:
            return frozenset()
        node = self.nodes[number]
        if node.is_free:
            return self.released(node.branches[0].child) | self.released(node.then)
        return frozenset((number,)) if node.branches else frozenset()

    def without(self, number: int, branch: Branch) -> int:
        """Return the node that remains of ``number`` once one branch is done."""
        node = self.nodes[number]
        rest = list(node.branches)
        rest.remove(branch)
        assert node.axis is not None
        return self.work(node.axis, rest, node.then)

    def advance(self, number: int, setting: int) -> frozenset[int]:
        """Return the open nodes left of ``number`` once everything at ``setting`` is done.

        Doing everything that a setting can do never hurts: it only releases more.
        """
        key = (number, setting)
        known = self._advanced.get(key)
        if known is None:
            known = self._advanced[key] = self._advance(number, setting)
        return known

    def _advance(self, number: int, setting: int) -> frozenset[int]:
        node = self.nodes[number]
        if node.axis is None:
            return frozenset()
        if node.is_free:
            # Another device is taken for it: what it releases waits for the next visit.
            return self.released(number)
        rest = [branch for branch in node.branches if branch.setting != setting]
        if len(rest) == len(node.branches):
            return frozenset((number,))
        left: set[int] = set()
        for branch in node.branches:
            if branch.setting == setting:
                left |= self.advance(branch.child, setting)
        if rest or node.then != NONE:
            left |= self.advance(self.work(node.axis, rest, node.then), setting)
        return frozenset(left)

    def __len__(self) -> int:
        return len(self.nodes)

"""Edges: what has still to come off, cut by cut."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cutlist.audit.edges import AuditedEdge, Side, after_cut, new_edges
from cutlist.model.edges import EdgeTrims
from cutlist.model.plan import Direction
from tests.audit.plans import f


def test_factory_edge_without_trim_is_clean() -> None:
    """Stock with nothing to trim has four clean edges."""
    assert all(edge.clean for _, edge in new_edges(EdgeTrims()).each())


@pytest.mark.parametrize(
    ("taken", "left"), [("1/8", "1/8"), ("1/4", "0"), ("3", "0"), ("15/64", "1/64")]
)
def test_cut_brings_an_edge_nearer_to_clean(taken: str, left: str) -> None:
    """What comes off a factory edge is taken from what has to come off."""
    edge = AuditedEdge(f("1/4")).cut_back(f(taken), f(0))
    assert (edge.factory, edge.clean) == (Fraction(left), left == "0")


def test_store_cut_leaves_a_rough_edge_that_a_later_cut_removes() -> None:
    """The store's accuracy has to come off; a trim not yet reached stays besides."""
    rough = AuditedEdge(f(5)).cut_back(f(2), f(4))
    assert (rough.factory, rough.store, rough.kind) == (f(3), f(4), "a store-cut")
    assert rough.cut_back(f(3), f(0)) == AuditedEdge(f(0), f(1))
    assert rough.cut_back(f(4), f(0)).clean


@pytest.mark.parametrize(
    ("direction", "side", "sawn"),
    [
        (Direction.RIP, Side.LOW, 2),
        (Direction.RIP, Side.HIGH, 3),
        (Direction.CROSSCUT, Side.LOW, 0),
        (Direction.CROSSCUT, Side.HIGH, 1),
    ],
)
def test_only_the_sawn_edge_changes(direction: Direction, side: Side, sawn: int) -> None:
    """A rip changes an edge across y, a crosscut one across x; the others stay."""
    edges = after_cut(new_edges(EdgeTrims.of(f(5))), direction, side, f(10), f(0))
    assert [edge.clean for _, edge in edges.each()] == [index == sawn for index in range(4)]

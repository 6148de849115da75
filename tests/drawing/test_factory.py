from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.drawing.factory import factory_edges, factory_words
from cutlist.drawing.story import read_story
from cutlist.model.rack import Edge
from cutlist.rack.edges import unclean_edges
from tests.audit.plans import SOUND
from tests.drawing.checks import texts
from tests.drawing.plans import all_plans, european
from tests.drawing.test_sequence_pages import pages_of


@pytest.mark.parametrize("name", sorted(all_plans()))
def test_factory_edges_are_those_that_no_cut_made(name: str) -> None:
    """Whatever stays has the edges on the border that following every cut leaves unclean."""
    plan = replace(all_plans()[name], job=replace(all_plans()[name].job, store=None))
    story = read_story(plan)
    followed = unclean_edges(plan)
    for leftover in plan.leftovers:
        found = factory_edges(story, leftover.piece)
        assert set(found) == set(followed[leftover.piece.name])


def test_a_sheet_without_trim_has_no_factory_edge_to_speak_of() -> None:
    """The same piece has one where the sheet has a trim, and none where it has none."""
    plan = european()
    story = read_story(plan)
    piece = next(one.piece for one in plan.leftovers if factory_edges(story, one.piece))
    bare = tuple(replace(work, trim=work.trim * 0) for work in plan.workpieces)
    assert factory_edges(read_story(replace(plan, workpieces=bare)), piece) == ()


def test_all_four_edges_are_said_in_a_word() -> None:
    """A whole sheet has all four."""
    plan = SOUND["trimmed_edges"]()
    story = read_story(plan)
    assert factory_words(story, story.pieces[plan.workpieces[0].piece]) == "all"
    strip = next(one.piece for one in plan.leftovers if factory_edges(story, one.piece))
    assert factory_words(story, strip).split(", ")[0] in set(Edge)


def test_offcuts_to_keep_tell_their_factory_edges() -> None:
    """The closing list names them beside the size."""
    plan = european()
    kept = tuple(replace(one, keep=True) for one in plan.leftovers[:3])
    plan = replace(plan, leftovers=kept)
    story = read_story(plan)
    said = " ".join(t.content for page in pages_of(plan) for t in texts(page))
    for one in kept:
        words = factory_words(story, one.piece)
        if words:
            assert f"(factory edge: {words})" in said.replace("\u00a0", " ")
    assert any(factory_words(story, one.piece) for one in kept)

"""Which edge lies at the fence, in words where it matters."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.drawing.riding import riding_words, to_come_off
from cutlist.drawing.story import read_story
from cutlist.model.edges import Edge
from cutlist.model.job import Saw, SawKind
from cutlist.model.plan import Plan
from tests.audit.plans import SOUND
from tests.drawing.plans import market_stall, small


def said(plan: Plan) -> dict[int, str]:
    """Return the words of each cut by its number."""
    story = read_story(plan)
    return {
        cut.number: riding_words(story, setting, cut)
        for setting in plan.settings
        for cut in setting.cuts
    }


def test_clean_stock_may_lie_either_way() -> None:
    """Without trim and without rough cuts both edges are alike: nothing is said."""
    assert set(said(small()).values()) == {""}


def test_a_blank_from_the_store_has_one_rough_end() -> None:
    """The board halved at 48 in; 1/8 in comes off where it was cut, nothing elsewhere.

    Cut 2 cleans the left half from its own left end; cut 4 takes the right half by its own right
    end, and leaves the store's edge on what is left over.
    """
    plan = SOUND["store_and_vehicle"]()
    story = read_story(plan)
    assert to_come_off(story, story.pieces["A1"]) == {Edge.RIGHT: Fraction(1, 8)}
    assert to_come_off(story, story.pieces["A2"]) == {Edge.LEFT: Fraction(1, 8)}
    assert to_come_off(story, story.pieces["B1"]) == {}
    words = said(plan)
    assert words[1] == ""
    assert words[2] == "clean left end to the fence"
    assert words[4] == "clean right end to the fence"
    assert words[5] == words[6] == ""


def test_each_device_has_its_words() -> None:
    """Fence and stop are set against an edge, a guide is measured from it."""
    plan = SOUND["store_and_vehicle"]()
    ends = {
        SawKind.TABLE_SAW: "clean left end to the fence",
        SawKind.SLED: "clean left end to the stop",
        SawKind.TRACK_SAW: "from the clean left end",
    }
    for kind, words in ends.items():
        saw = Saw(plan.job.saw.kerf, name="table saw", kind=kind)
        saws = tuple(replace(one, tool=saw.name) for one in plan.settings[1:])
        job = replace(plan.job, saws=(saw,))
        turned = replace(plan, job=job, settings=(plan.settings[0], *saws))
        assert said(turned)[2] == words


def test_a_factory_edge_is_named() -> None:
    """Sheets with 1/4 in of trim: the first clean-up takes one edge, the next cut the other."""
    plan = market_stall()
    story = read_story(plan)
    whole = story.pieces["A"]
    assert to_come_off(story, whole) == dict.fromkeys(Edge, Fraction(1, 4))
    words = said(plan)
    first = plan.settings[0].cuts[0]
    assert words[first.number] == ""
    named = {word for word in words.values() if word}
    assert named
    assert all(word.startswith(("clean ", "factory ")) for word in named)
    for setting in plan.settings:
        for cut in setting.cuts:
            rough = to_come_off(story, story.pieces[cut.piece])
            edges = (Edge.LOWER, Edge.UPPER) if cut.direction == "rip" else (Edge.LEFT, Edge.RIGHT)
            differ = (edges[0] in rough) != (edges[1] in rough)
            assert bool(words[cut.number]) is differ

"""Which edge lies at the fence, in words where it matters."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.ledger.edges import unclean
from cutlist.ledger.ledger import read_ledger
from cutlist.model.edges import Edge
from cutlist.model.job import Saw, SawKind
from cutlist.model.plan import Plan, Purpose
from cutlist.planning.instructions.edges import edge_off
from cutlist.planning.instructions.instruct import instructed
from cutlist.telling.edges import mark_words, riding_words, takes_words
from tests.audit.plans import SOUND
from tests.drawing.plans import market_stall, small
from tests.drawing.remainders import remainder


def said(plan: Plan) -> dict[int, str]:
    """Return the words of each cut by its number."""
    ledger = read_ledger(plan)
    return {
        cut.number: riding_words(ledger, setting, cut)
        for setting in plan.settings
        for cut in setting.cuts
    }


def left_of_rough() -> Plan:
    """Cut the board's right half from its store-cut left end: the side is what stays."""
    plan = SOUND["store_and_vehicle"]()
    first, second, third, last = plan.settings
    cut = third.cuts[1]
    assert cut.rest is not None
    turned = replace(cut, kept=cut.rest, rest=cut.kept)
    apart = replace(third, number=4, distance=cut.rest.length, cuts=(turned,))
    settings = (first, second, replace(third, cuts=third.cuts[:1]), apart, replace(last, number=5))
    return instructed(replace(plan, setups=settings))


def test_clean_stock_may_lie_either_way() -> None:
    """Without trim and without rough cuts both edges are alike: nothing is said."""
    assert set(said(small()).values()) == {""}


def test_a_blank_from_the_store_has_one_rough_end() -> None:
    """The board halved at 48 in; 1/8 in comes off where it was cut, nothing elsewhere.

    Cut 2 cleans the left half from its own left end; cut 4 takes the right half by its own right
    end, and leaves the store's edge on what is left over.
    """
    plan = SOUND["store_and_vehicle"]()
    ledger = read_ledger(plan)
    assert unclean(ledger.entries["A1"].edges) == {Edge.RIGHT: Fraction(1, 8)}
    assert unclean(ledger.entries["A2"].edges) == {Edge.LEFT: Fraction(1, 8)}
    assert unclean(ledger.entries["B1"].edges) == {}
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
        saws = tuple(replace(one, tool=saw.name, device=saw.device) for one in plan.settings[1:])
        job = replace(plan.job, saws=(saw,))
        turned = instructed(replace(plan, job=job, setups=(plan.settings[0], *saws)))
        assert said(turned)[2] == words


def test_a_factory_edge_is_named() -> None:
    """Sheets with 1/4 in of trim: the first clean-up takes one edge, the next cut the other."""
    plan = market_stall()
    ledger = read_ledger(plan)
    assert unclean(ledger.entries["A"].edges) == dict.fromkeys(Edge, Fraction(1, 4))
    words = said(plan)
    first = plan.settings[0].cuts[0]
    assert words[first.number] == ""
    named = {word.removeprefix("from the ") for word in words.values() if word}
    assert named
    assert all(word.startswith(("clean ", "factory ")) for word in named)
    for setting in plan.settings:
        for cut in setting.cuts:
            rough = unclean(ledger.entries[cut.piece].edges)
            edges = (Edge.LOWER, Edge.UPPER) if cut.direction == "rip" else (Edge.LEFT, Edge.RIGHT)
            differ = (edges[0] in rough) != (edges[1] in rough)
            assert bool(words[cut.number]) is differ


def test_a_panel_left_of_a_rough_edge_is_marked_from_the_other_end() -> None:
    """3/4 in from an end that may be 1/8 in off leaves no 47 in: they are marked."""
    plan = left_of_rough()
    ledger = read_ledger(plan)
    cut = plan.settings[3].cuts[0]
    assert said(plan)[cut.number] == "store-cut left end to the fence"
    assert mark_words(ledger, cut, '47"') == (
        'its left end is store-cut, not true: mark 47" from the clean right end and cut to the mark'
    )
    for other in (plan.settings[1].cuts[0], plan.settings[2].cuts[0]):
        assert mark_words(ledger, other, '47"') == ""
    # At a store whose saw is true the edge is as good as any.
    assert plan.job.store
    true = replace(plan.job.store, accuracy=Fraction(0))
    at_true = instructed(replace(plan, job=replace(plan.job, store=true)))
    cut = at_true.settings[3].cuts[0]
    assert mark_words(read_ledger(at_true), cut, "") == ""


def test_a_panel_is_not_left_to_the_size_of_a_sheet() -> None:
    """A sheet's own edge is clean, but the sheet may be larger or smaller than the list says.

    Panels of 196 and 295 mm are what a cut leaves: if its strip comes off the sheet's own edge the
    size is marked from the other one, unless the strip gives a panel its size as well.
    """
    plan = small()
    ledger = read_ledger(plan)
    for setting in plan.settings:
        for cut in setting.cuts:
            assert mark_words(ledger, cut, "1 mm") == ""
    leaving = remainder(Fraction(30))
    ledger = read_ledger(leaving)
    cut = leaving.settings[0].cuts[0]
    words = "sheets differ in size: mark 500 mm from the clean right end and cut to the mark"
    assert mark_words(ledger, cut, "500 mm") == words
    offcut = tuple(replace(one, bought=False) for one in leaving.workpieces)
    both = (*leaving.panels, replace(leaving.panels[0], piece=cut.kept))
    for other in (replace(leaving, workpieces=offcut), replace(leaving, panels=both)):
        plan = instructed(other)
        assert mark_words(read_ledger(plan), plan.settings[0].cuts[0], "500 mm") == ""


def test_a_clean_up_cut_takes_the_edge_that_is_not_kept() -> None:
    """Cut 2 keeps 47 3/4 in at the left end, so the right one goes; turned about, the left one."""
    plan = SOUND["store_and_vehicle"]()
    ledger = read_ledger(plan)
    cut = plan.settings[1].cuts[0]
    assert takes_words(cut) == "takes its right end off"
    assert cut.rest is not None
    turned = replace(cut, kept=cut.rest, rest=cut.kept)
    assert edge_off(ledger, turned) is Edge.RIGHT
    assert edge_off(ledger, replace(cut, rest=None)) is Edge.RIGHT
    assert edge_off(ledger, replace(cut, purpose=Purpose.PART)) is None
    assert takes_words(replace(cut, takes_off=None)) == ""
    # Where both pieces go on, the one whose outer edge is not clean is what comes off.
    stall = market_stall()
    for one in stall.settings[0].cuts + stall.settings[1].cuts:
        named = takes_words(one)
        assert named in {"takes its lower edge off", "takes its left end off"}


def test_the_edge_that_an_oversize_piece_keeps_is_named() -> None:
    """A sheet with factory edges all around: its first cut, made rough, says which one stays."""
    plan = market_stall()
    first, *others = plan.settings
    cut = first.cuts[0]
    assert said(plan)[cut.number] == ""
    oversize = replace(cut, purpose=Purpose.ROUGH)
    settings = (replace(first, cuts=(oversize, *first.cuts[1:])), *others)
    assert (
        said(instructed(replace(plan, setups=settings)))[cut.number]
        == "factory upper edge to the fence"
    )
    bare = tuple(replace(one, trim=Fraction(0)) for one in plan.workpieces)
    clean = instructed(replace(plan, setups=settings, workpieces=bare))
    assert said(clean)[cut.number] == ""

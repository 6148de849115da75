from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.metrics import text_box
from cutlist.drawing.pages.sequence_pages import Block, add_setup, sequence_pages
from cutlist.drawing.pages.sequence_rows import Columns, Progress
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Line, Page, Rect, Role, Text
from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Grain, Job, Sheet
from cutlist.model.plan import Place, Plan, Purpose, Setup
from cutlist.planning.instructions.instruct import instructed, instructed_setup
from cutlist.units.lengths import format_length
from cutlist.units.system import Units
from tests.audit.plans import SOUND
from tests.drawing.bench import MM_SAW, Bench, make_part
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_saws, with_second_unit
from tests.drawing.plans import (
    all_plans,
    broken_down,
    long_names,
    many_alike,
    many_cuts,
    market_stall,
    uncut,
)
from tests.ledger.test_operations import BenchSetup, routed_panel
from tests.telling.test_edges import left_of_rough

NAMES = sorted(all_plans())


def replace_thickness(plan: Plan, thickness: Fraction) -> Plan:
    """Make all stock as thick."""
    workpieces = tuple(replace(one, thickness=thickness) for one in plan.workpieces)
    return replace(plan, workpieces=workpieces)


def shared_distance(sheets: int = 1) -> Plan:
    """Plan a rip and then a crosscut for each sheet, all at 200 mm."""
    sheet = Sheet("small sheet", "birch ply", Fraction(6), Fraction(400), Fraction(300))
    part = make_part("tray", 200, 200, sheets, Grain.ANY, "birch ply", 6)
    bench = Bench(Job("Tray", Units.MM, MM_SAW, (sheet,), (part,)))
    for _ in range(sheets):
        bench.strips("small sheet", [(200, [("tray", 200)])])
    return bench.plan()


PAPERS = [pytest.param(A4, id="A4"), pytest.param(LETTER, id="Letter")]


def pages_of(plan: Plan, paper: Paper = A4) -> tuple[Page, ...]:
    """Compose the sequence of a plan."""
    return sequence_pages(read_ledger(plan), paper)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_every_cut_has_one_number_and_one_box_to_tick(name: str, paper: Paper) -> None:
    """Every cut number stands once, beside a tick box of its own, setting by setting in order."""
    plan = all_plans()[name]
    pages = pages_of(plan, paper)
    numbers = [int(t.content) for page in pages for t in texts(page, Role.CUT_NUMBER)]
    start = 0
    for setting in plan.settings:
        block = numbers[start : start + len(setting.cuts)]
        assert sorted(block) == [cut.number for cut in setting.cuts]
        start += len(block)
    assert start == len(numbers)
    for page in pages:
        ticks = [i.box for i in page.items if isinstance(i, Rect) and i.role is Role.TICK]
        beside = texts(page, Role.CUT_NUMBER)
        assert len(ticks) == len(beside)
        for tick, number in zip(ticks, beside, strict=True):
            assert tick.y < number.y <= tick.bottom
            assert tick.right < text_box(number).x


def test_the_distance_is_large() -> None:
    """Every block shows its distance in figures of 24 pt at least, as the fence is set."""
    plan = market_stall()
    shown = [t for page in pages_of(plan) for t in texts(page, Role.DISTANCE)]
    assert min(text.size_pt for text in shown) >= 24
    assert [text.content for text in shown][:3] == ['47 5/8"', '95 5/8"', '23 1/4"']
    assert len(shown) == len(plan.settings)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_a_block_is_parted_only_if_it_must_be(name: str, paper: Paper) -> None:
    """A setting whose rows fit on one page stands on one page."""
    plan = all_plans()[name]
    on_page: dict[int, set[int]] = {}
    for number, page in enumerate(pages_of(plan, paper)):
        for text in texts(page, Role.CUT_NUMBER):
            on_page.setdefault(int(text.content), set()).add(number)
    for setting in plan.settings:
        pages = set().union(*(on_page[cut.number] for cut in setting.cuts))
        # Rows are at least 9.6 mm high; 17 of four lines still fit on Letter below their head.
        if len(setting.cuts) <= 12:
            assert len(pages) == 1


def test_a_long_block_says_that_it_goes_on() -> None:
    """The head is repeated with its distance where a block runs over pages."""
    pages = pages_of(many_alike())
    heads = [[t.content for t in texts(page, Role.DISTANCE)] for page in pages]
    assert sum(head.count("480 mm") for head in heads) > 5
    said = [t.content for page in pages for t in texts(page)]
    goes_on = sum(words.endswith(("saw, continued", "sled, continued")) for words in said)
    assert goes_on == sum(head.count("480 mm") + head.count("290 mm") for head in heads) - 2


def test_panels_are_counted_as_they_are_finished() -> None:
    """The running count rises to the number of panels; each panel is finished once."""
    plan = many_cuts()
    said = [t.content for page in pages_of(plan) for t in texts(page)]
    total = len(plan.panels)
    counts = [int(s.split()[0]) for s in said if s.endswith(f" of {total}") and s[0].isdigit()]
    assert counts == sorted(counts)
    assert counts[-1] == total
    assert sum(words.startswith("finished:") for words in said) == total
    assert f"All {total} panels finished." in " ".join(said)


def test_a_row_says_what_comes_off_and_what_is_left() -> None:
    """Piece, size, use and the next step of both sides of a cut."""
    said = [t.content for page in pages_of(market_stall()) for t in texts(page)]
    assert 'A1a1  95 5/8" × 23 1/4"' in said
    assert "strip; next setting 4, cut 10" in said
    assert "finished: end (1 of 6)" in said
    assert "offcut to keep" in said
    assert "waste" in said


@add_setup.register(BenchSetup)
def _add_bench(setup: BenchSetup, flow: Flow, block: Block) -> None:
    """Draw the block of a bench: a line, and the panels that it finishes."""
    for piece in (made for operation in setup.operations for made in operation.makes):
        block.progress.finish(block.ledger.panel_of[piece.name].part)
    words = f"set-up {setup.number} finishes {block.progress.done}"
    flow.add([Text(0, 4, words, 9)], 5)


def at_the_saw_alone(plan: Plan) -> Plan:
    """Decide what is said at the saws of a plan, and leave its bench as it is."""
    told = instructed(replace(plan, setups=plan.settings))
    benches = tuple(one for one in plan.setups if isinstance(one, BenchSetup))
    return replace(told, setups=(*told.setups, *benches))


def test_the_blank_of_a_routed_panel_is_no_waste() -> None:
    """A piece that goes on at a bench is told with that set-up, not thrown away."""
    plan, routed = (at_the_saw_alone(one) for one in routed_panel())
    before, said = ([t.content for page in pages_of(one) for t in texts(page)]
                    for one in (plan, routed))  # fmt: skip
    number = len(routed.setups)
    assert f"blank; next set-up {number}, bench, operation 99" in " ".join(said)
    assert sum("waste" in words for words in said) == sum("waste" in words for words in before)
    assert f"set-up {number} finishes {len(plan.panels)}" in said


def test_a_kind_of_set_up_without_a_block_is_refused() -> None:
    """No set-up is left out of the sequence in silence, nor of what is said at it."""
    unknown, ledger = Setup(1, Place.SHOP, "lathe"), read_ledger(market_stall())
    flow = Flow(A4, "Cut sequence")
    block = Block(ledger, Progress(ledger), Columns.across(flow.room.width), "", 0.0)
    with pytest.raises(TypeError, match="tells of a Setup"):
        add_setup(unknown, flow, block)
    with pytest.raises(TypeError, match="said at a Setup"):
        instructed_setup(unknown, ledger, {})


def test_flags_are_printed_and_explained() -> None:
    """Marks stand in the rows, and those that occur are explained first."""
    pages = pages_of(long_names())
    marks = Counter(t.content for page in pages for t in texts(page, Role.FLAG))
    assert set(marks) == {"push stick", "support"}
    # One of each in the legend, one stick for the two 3 in rips.
    assert marks["push stick"] == 1 + 2
    intro = " ".join(t.content for t in texts(pages[0]))
    assert "fence nearer the blade than 6 in" in intro


def test_cuts_at_the_store_are_told_apart() -> None:
    """One table has all of them before the blocks of the shop, with their settings' distances."""
    plan = broken_down()
    said = [t.content for page in pages_of(plan) for t in texts(page)]
    first, *others = plan.settings
    count = len(first.cuts)
    assert f"At the store: {count} cuts, made before the work in the shop begins" in said
    assert said.count(format_length(first.distance, plan.job.units)) == count
    shown = [t.content for page in pages_of(plan) for t in texts(page, Role.DISTANCE)]
    assert len(shown) == len(others)
    assert said.count("stop to blade") == 3
    assert "table saw" not in said


def test_a_plan_without_cuts_has_no_sequence() -> None:
    """Nothing to cut, no page."""
    assert pages_of(uncut()) == ()


def test_rips_and_crosscuts_are_sketched_by_their_line() -> None:
    """Each row carries a sketch: the fence bar runs the way the cut does."""
    plan = broken_down()
    bars = [
        item
        for page in pages_of(plan)
        for item in page.items
        if isinstance(item, Line) and item.width_mm == 1.0
    ]
    ways = ["rip" if bar.y1 == bar.y2 else "crosscut" for bar in bars]
    shop = [setting for setting in plan.settings if setting.place is Place.SHOP]
    assert ways == [cut.direction.value for setting in shop for cut in setting.cuts]


def test_a_piece_rests_on_its_own_name() -> None:
    """A renamed panel appears under its new name: nothing is looked up by position."""
    plan = market_stall()
    panels = tuple(replace(panel, part=panel.part.upper()) for panel in plan.panels)
    said = [t.content for page in pages_of(replace(plan, panels=panels)) for t in texts(page)]
    assert "finished: END (1 of 6)" in said


def test_a_block_says_how_its_cuts_are_made() -> None:
    """Fence and stop at one distance are two blocks; a guide is laid for its one cut."""
    said = [t.content for page in pages_of(shared_distance(2)) for t in texts(page)]
    assert "2 rips" in said
    assert "2 crosscuts" in said
    said = [t.content for page in pages_of(SOUND["along_a_guide"]()) for t in texts(page)]
    assert said.count("1 guided cut, guide marked and clamped for it") == 4
    assert said.count("clean-up: 1 guided cut, guide marked and clamped for it") == 3
    assert "3 rips" in said
    assert any("A guide is marked and clamped for every cut" in words for words in [" ".join(said)])


def test_a_size_that_no_fence_sets_is_to_be_checked() -> None:
    """What a cut leaves as a panel is marked, and the mark is explained."""
    plan = shared_distance()
    assert not any("check its" in t.content for page in pages_of(plan) for t in texts(page))
    setting = plan.settings[-1]
    last = setting.cuts[-1]
    assert last.rest
    last = replace(last, kept=last.rest, rest=last.kept)
    setting = replace(setting, cuts=(*setting.cuts[:-1], last))
    # Of an offcut, whose size was measured; of a sheet's, see the test of marks.
    own = tuple(replace(one, bought=False) for one in plan.workpieces)
    turned = instructed(replace(plan, setups=(*plan.settings[:-1], setting), workpieces=own))
    said = " ".join(t.content for page in pages_of(turned) for t in texts(page))
    assert said.count("check its length, 200 mm") == 1
    assert "too long, trim it; too" in said
    assert "check the size of what is left" in said
    assert "cut anew from an offcut" in said


def test_rip_and_crosscut_are_explained() -> None:
    """They go by what the hands do, not by the grain; only what is used is named."""
    said = " ".join(t.content for page in pages_of(market_stall()) for t in texts(page))
    assert (
        "Here a rip is made along the fence, a crosscut at the stop, a guided cut along the guide, "
        "however the grain runs."
    ) in said
    # Plywood and hardboard: one has a grain, the other none.
    assert "the grain (or the length) of the sheet runs from left to right" in said
    said = " ".join(t.content for page in pages_of(many_alike()) for t in texts(page))
    assert "Here a rip is made along the fence, a crosscut at the stop, however" in said
    assert "the length of the sheet runs from left to right" in said
    said = " ".join(t.content for page in pages_of(SOUND["turned_panels"]()) for t in texts(page))
    assert "Here a rip is made along the fence, however the grain runs." in said


def test_the_edge_at_the_fence_is_told_where_it_matters() -> None:
    """A blank that the store cut has one clean end: its row says which goes to the fence."""
    plan = SOUND["store_and_vehicle"]()
    said = " ".join(t.content for page in pages_of(plan) for t in texts(page))
    assert said.count("clean left end to the fence; takes its right end off") == 1
    assert said.count("clean right end to the fence") == 1
    assert "Where it matters which edge" in said


def test_a_panel_left_of_a_rough_edge_is_marked() -> None:
    """Its row asks for a mark in place of a check, and the first page says why."""
    said = " ".join(t.content for page in pages_of(left_of_rough()) for t in texts(page))
    assert 'mark 47" from the clean right end and cut to the mark' in said
    assert "check its length" not in said
    assert "the distance of the setting is only about right there" in said


def test_every_clean_up_cut_says_which_edge_comes_off() -> None:
    """Edges alike or not: of a sheet with factory edges all around, too."""
    for plan in (market_stall(), SOUND["trimmed_edges"](), SOUND["store_and_vehicle"]()):
        cuts = [c for s in plan.settings for c in s.cuts if c.purpose is Purpose.CLEAN_UP]
        said = " ".join(t.content for page in pages_of(plan) for t in texts(page))
        assert cuts
        assert said.count(" off ") >= said.count("takes its ") == len(cuts)


def test_marks_beside_a_cut_stay_in_its_row() -> None:
    """However many a row has, the next one begins below them."""
    plan = with_saws(replace_thickness(long_names(), Fraction(2)))
    for page in pages_of(plan):
        marks = [text_box(text) for text in texts(page, Role.FLAG)]
        assert_legible(page)
        assert all(not a.overlaps(b) for a in marks for b in marks if a is not b)


def test_each_block_counts_what_is_finished_so_far() -> None:
    """The count in a block's head is that of the last row before it."""
    plan = market_stall()
    said = [t.content for page in pages_of(plan) for t in texts(page)]
    done, of = "0", f" of {plan.totals.parts}"
    heads = 0
    for words in said:
        if words.startswith("finished so far "):
            assert words == f"finished so far {done}{of}"
            heads += 1
        elif words.endswith(of) and words.removesuffix(of).isdigit():
            done = words.removesuffix(of)
    assert heads == len(plan.settings)
    assert done == str(plan.totals.parts)


def test_the_distance_is_printed_in_the_other_unit() -> None:
    """47 5/8 in is 1209.675 mm: 1209.5 mm on a rule marked every half; 58 in is 1473.2."""
    plan = with_second_unit(market_stall())
    said = [t.content for page in pages_of(plan) for t in texts(page)]
    assert "≈ 1209.5 mm" in said
    assert not any("mm" in t.content for page in pages_of(market_stall()) for t in texts(page)
                   if t.bold and "≈" in t.content)  # fmt: skip


def test_one_panel_is_one() -> None:
    """A plan of one panel does not speak of all of them."""
    said = " ".join(t.content for page in pages_of(shared_distance()) for t in texts(page))
    assert "The panel is finished." in said


def test_each_saw_is_named_with_its_own_words() -> None:
    """A fence, a stop and a guide are told apart, and a cut that is not safe says why."""
    plan = with_saws(market_stall())
    said = [t.content for page in pages_of(plan) for t in texts(page)]
    assert "sled by the window" in said
    for words in ("fence to blade", "stop to blade", "edge to cut", "comes off at the stop"):
        assert words in said
    assert "fence (or stop) to blade" not in said
    assert "not safe" in said
    assert any(words.startswith("not safe: ") for words in said)


def test_visits_are_listed_at_the_end() -> None:
    """After the last block stand the distances set once in a line, the others in a table."""
    again = SOUND["matching_apart"]()
    said = [t.content for page in pages_of(again) for t in texts(page)]
    last = max(i for i, words in enumerate(said) if words.startswith("All "))
    assert said.index('Set once each: table saw 14 1/2".') > last
    assert said.index("Distances set more than once") > last
    assert said.index("2, 4") > last
    said = [t.content for page in pages_of(SOUND["plain"]()) for t in texts(page)]
    assert said[-1] == 'Each distance is set once: table saw 14 1/2"; sled 30", 34 1/2".'


def test_a_clean_up_cut_shows_its_sum() -> None:
    """Strip and kerf make up the trim: 2 and 3 mm of 5, and 1/4 and 1/8 of 3/8 in."""
    said = " ".join(t.content for page in pages_of(SOUND["trimmed_edges"]()) for t in texts(page))
    assert "clean-up cut: 2 + 3 kerf = 5 mm" in said
    assert "cleaned; next setting" in said
    said = " ".join(t.content for page in pages_of(market_stall()) for t in texts(page))
    assert 'clean-up cut: 1/4 + 1/8 kerf = 3/8"' in said

"""The marks that distances are set to, so that no panel comes out too small."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.drawing.pages.sequence_pages import sequence_pages
from cutlist.drawing.paper import A4
from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Job, Sheet
from cutlist.model.plan import Piece, Plan, Purpose, SawSetup
from cutlist.planning.instructions.instruct import instructed
from cutlist.telling.distances import kept_size, set_words
from cutlist.telling.reasons import return_words, visit_rows
from cutlist.units.system import Units
from tests.drawing.bench import Bench, make_part
from tests.drawing.checks import texts
from tests.drawing.remainders import SAW, remainder


def shown(plan: Plan, distance: Fraction) -> str:
    """Return what is printed of the set-up at a distance."""
    setting = next(one for one in plan.settings if one.distance == distance)
    return set_words(setting, plan.job)


def said(plan: Plan) -> str:
    """Return all lettering of the sequence."""
    pages = sequence_pages(read_ledger(plan), A4)
    return " ".join(text.content for page in pages for text in texts(page))


def test_what_remains_is_too_large_rather_than_too_small() -> None:
    """28.8 mm off 532 mm: set to 28.5 the panel is 500.3 mm long, set to 29 it would be 499.8."""
    off = Fraction("28.8")
    plan = remainder(off)
    (setting,) = plan.settings
    assert setting.mark == Fraction("28.5")
    assert shown(plan, off) == "≈ 28.5 mm"
    assert plan.workpieces[0].length - setting.mark - SAW.kerf >= 500


def test_what_a_mark_shows_is_set_as_it_is() -> None:
    """28.5 mm has a mark of its own."""
    off = Fraction("28.5")
    assert shown(remainder(off), off) == "28.5 mm"


def test_a_panel_that_is_set_has_the_nearest_mark() -> None:
    """333.3 mm as a panel's own size is set to 333.5, not to 333."""
    size = Fraction("333.3")
    part = make_part("lid", size, 200, 1, material="birch ply", thickness=6)
    sheet = Sheet("board", "birch ply", Fraction(6), Fraction(600), Fraction(200))
    bench = Bench(Job("Tray", Units.MM, SAW, (sheet,), (part,)))
    bench.strips("board", [(200, [("lid", size)])])
    assert shown(bench.plan(), size) == "≈ 333.5 mm"


def test_a_strip_whose_rest_is_a_panel_is_set_too_large() -> None:
    """A strip of 700.1 mm that 200 mm come off again: what is left of it must not be too short."""
    wide = Fraction("703.3")
    part = make_part("lid", "500.1", 200, 1, material="birch ply", thickness=6)
    sheet = Sheet("board", "birch ply", Fraction(6), Fraction(900), Fraction(200))
    job = Job("Tray", Units.MM, SAW, (sheet,), (part,))
    base = remainder(Fraction("28.8"))
    zero = Fraction(0)
    strip = Piece("A1", zero, zero, wide, Fraction(200))
    waste = Piece("A2", wide + SAW.kerf, zero, 900 - wide - SAW.kerf, Fraction(200))
    off = Piece("A3", zero, zero, Fraction(200), Fraction(200))
    lid = Piece("A4", 200 + SAW.kerf, zero, wide - 200 - SAW.kerf, Fraction(200))
    (setting,) = base.settings
    (cut,) = setting.cuts
    first = replace(cut, number=1, piece="A", kept=strip, rest=waste)
    second = replace(cut, number=2, piece="A1", kept=off, rest=lid)
    settings: tuple[SawSetup, ...] = (
        replace(setting, number=1, distance=wide, cuts=(first,)),
        replace(setting, number=2, distance=Fraction(200), cuts=(second,)),
    )
    panels = (replace(base.panels[0], piece=lid),)
    work = replace(base.workpieces[0], length=Fraction(900))
    plan = instructed(replace(base, job=job, setups=settings, panels=panels, workpieces=(work,)))
    assert shown(plan, wide) == "≈ 703.5 mm"
    assert plan.settings[0].mark > wide


def test_one_figure_in_a_row_and_in_the_lists() -> None:
    """Head, size, sum and list have the mark that is set: 28.5 + 3.2 = 31.7."""
    plan = remainder(Fraction("28.8"), purpose=Purpose.CLEAN_UP)
    words = said(plan)
    ledger = read_ledger(plan)
    assert kept_size(plan.settings[0], plan.settings[0].cuts[0], plan.job) == "≈ 28.5 × 200 mm"
    assert "clean-up cut: 28.5 + 3.2 kerf = 31.7 mm" in words
    assert words.count("≈ 28.5") == 3
    assert "29" not in words.replace("2026", "")
    assert visit_rows(ledger)[0][1] == "≈ 28.5 mm"
    assert return_words(ledger) == {}


def test_a_sliver_below_the_first_mark_stays_as_it_is() -> None:
    """0.3 mm on a scale of half millimetres is neither 0 nor 0.5: row and head say 0.3."""
    plan = remainder(Fraction("0.3"), purpose=Purpose.CLEAN_UP)
    words = said(plan)
    assert shown(plan, Fraction("0.3")) == "0.3 mm"
    assert "0.3 × 200 mm" in words
    assert "clean-up cut: 0.3 + 3.2 kerf = 3.5 mm" in words
    assert "≈ 0" not in words


def test_each_saw_comes_back_to_its_own_mark() -> None:
    """28.8 mm on a scale of half millimetres, then of whole ones: each row has its saw's figure."""
    plan = remainder(Fraction("28.8"))
    (first,) = plan.settings
    rough = replace(first, number=2, tool="sled", mark=Fraction(28))
    both = replace(plan, setups=(first, rough))
    ledger = read_ledger(both)
    assert return_words(ledger)[2].startswith("Back at ≈ 28 mm (setting 1)")
    third = replace(first, number=3)
    again = return_words(read_ledger(replace(plan, setups=(first, rough, third))))
    assert again[3].startswith("Back at ≈ 28.5 mm")
    assert visit_rows(ledger)[0][1] == "≈ 28.5 mm, ≈ 28 mm"

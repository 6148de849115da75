"""Plans whose panel is what a cut leaves."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.model.job import Job, Saw, Sheet
from cutlist.model.plan import Plan, Purpose
from cutlist.planning.instructions.instruct import instructed
from cutlist.units.system import Units
from tests.drawing.bench import Bench, make_part

#: A saw with a kerf of 3.2 mm and marks of half a millimetre.
SAW = Saw(Fraction(16, 5), None, Fraction(1, 2))


def remainder(off: Fraction, *, purpose: Purpose = Purpose.PART) -> Plan:
    """Cut ``off`` from the end of a board so that a panel 500 mm long remains."""
    length = 500 + off + SAW.kerf
    part = make_part("lid", 500, 200, 1, material="birch ply", thickness=6)
    sheet = Sheet("board", "birch ply", Fraction(6), length, Fraction(200))
    bench = Bench(Job("Tray", Units.MM, SAW, (sheet,), (part,)))
    bench.strips("board", [(200, [("lid", 500)])])
    plan = bench.plan()
    (setting,) = [one for one in plan.settings if one.distance == 500]
    (cut,) = setting.cuts
    assert cut.rest is not None
    kept, rest = cut.kept, cut.rest
    assert kept.x == 0
    strip = replace(rest, name=rest.name, x=Fraction(0))
    lid = replace(kept, x=off + SAW.kerf)
    turned = replace(cut, number=1, piece="A", kept=strip, rest=lid, purpose=purpose)
    panels = (replace(plan.panels[0], piece=lid),)
    leftovers = (replace(plan.leftovers[0], piece=strip),)
    settings = (replace(setting, number=1, distance=off, cuts=(turned,)),)
    return instructed(replace(plan, setups=settings, panels=panels, leftovers=leftovers))

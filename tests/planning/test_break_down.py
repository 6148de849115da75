"""A group broken down: its blanks as bins, the layouts on them, and what is proven of the cost."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Offcut, Part, Sheet, Store, Vehicle
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.failures import StockTooSmallError
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.problem import Nesting
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.planning.dividing.groups import Group, divide
from cutlist.planning.make import make_plan
from cutlist.planning.packing.break_down import break_down, refusals, store_sheets, tariff_of
from cutlist.planning.terms.progress import PlanSoFar, Watcher
from tests.planning.jobs import PLY, job, offcut, part, sheet
from tests.refusing import said

STORE = Store(Fraction(4), Fraction(2), 4)
SIDE = part("side", (1200, 600), 8, Grain.LENGTH)


def asked(
    *parts: Part,
    store: Store = STORE,
    bed: tuple[int, int] = (1230, 1230),
    sheets: tuple[Sheet, ...] = (sheet(),),
    offcuts: tuple[Offcut, ...] = (),
    load: int | None = None,
) -> Job:
    """Return a job of one material for a car."""
    kg = None if load is None else Fraction(load)
    vehicle = Vehicle(Fraction(bed[0]), Fraction(bed[1]), kg)
    return replace(job(parts or (SIDE,), sheets, offcuts), store=store, vehicle=vehicle)


def broken(wanted: Job, steps: int = 8000) -> tuple[Group, Group, Nesting]:
    """Break down the only group of a job; return it before and after, and the layouts."""
    division = divide(wanted)
    (group,) = division.groups
    after, found = break_down(
        division,
        group,
        nest(group.problem, seed=0, stop=AfterSteps(2000)),
        seed=0,
        allowance=Allowance(steps=steps).part(0.6),
    )
    return group, after, found


def test_blanks_are_the_bins() -> None:
    """Each bin stands for the blanks of a kind, as many as it has spots on the sheets bought."""
    wanted = asked(SIDE, part("rail", (1100, 90), 6), offcuts=(offcut("rack", (1250, 300), 2),))
    before, after, found = broken(wanted)
    assert len(after.stock) == len(after.problem.bins) == len(after.kinds) + 1
    assert [piece.name for piece in after.stock] == ["full"] * len(after.kinds) + ["rack"]
    assert after.problem.bins[-1] == before.problem.bins[-1]
    for kind, piece in zip(after.kinds, after.problem.bins, strict=False):
        assert (piece.cost, piece.available) == (0, len(kind.spots))
        for spot in kind.spots:
            one = after.sheets[spot.sheet]
            assert after.limits is not None
            assert one.blanks(after.limits)[spot.number - 1] == spot.blank
            assert spot.blank.length - sum(kind.trims.x) == piece.length
            assert spot.blank.width - sum(kind.trims.y) == piece.width
    assert after.parts == before.parts
    assert found.sheets == len(after.sheets) == 2


def test_the_layouts_lie_on_the_blanks() -> None:
    """Every panel has its place, each layout is sound, and no bin is used more than there is."""
    _, after, found = broken(asked(SIDE, part("shelf", (700, 330), 5)))
    assert check_layouts(after.problem, found.layouts) == []


def test_what_is_paid_is_more_than_what_is_proven() -> None:
    """Two sheets at 60.00, a cut in each, 1.50 for each but one: 121.50, and no plan is cheaper.

    With a load there may be two trips, each with its free cut: then only the sheets are proven.
    """
    store = replace(STORE, free_cuts=1, cut_price=Decimal("1.50"))
    for load, bound in ((None, 1215), (400, 1200)):
        wanted = asked(store=store, bed=(1240, 1240), load=load)
        unit = divide(wanted).money
        assert unit is not None
        _, after, found = broken(wanted)
        assert found.cost * unit == Decimal("121.50")
        assert after.base == found.cost
        assert found.bound * unit == Decimal(bound) / 10
        assert found.sheets_bound == 2


def test_without_prices_the_area_counts() -> None:
    """Where no sheet has a price the cuts cost nothing either."""
    store = replace(STORE, cut_price=Decimal(1))
    wanted = asked(store=store, sheets=(sheet(price=None),))
    _, after, found = broken(wanted)
    assert divide(wanted).money is None
    assert found.cost == 2 * divide(wanted).groups[0].problem.bins[0].cost
    assert tariff_of(divide(wanted), after).rate == 0


def test_a_thin_blade_at_the_store_bounds_less() -> None:
    """With a kerf of 60 in the shop sides of 1200 take two sheets for four, at the store one.

    A saw of no width at the store lets them lie side by side, which the bound has to allow.
    """
    wanted = asked(
        part("side", (1215, 600), 4, Grain.LENGTH),
        store=replace(STORE, kerf=Fraction(4), accuracy=Fraction(0)),
    )
    wanted = replace(wanted, saw=replace(wanted.saw, kerf=Fraction(15)))
    before, _, found = broken(wanted)
    whole = nest(before.problem, seed=0, stop=AfterSteps(2000))
    assert (whole.sheets, found.sheets) == (2, 1)
    assert found.bound <= found.cost < whole.cost


def test_parts_that_fit_no_blank() -> None:
    """They are named, and what would help them all; the others are not."""
    long = part("long", (1300, 200))
    wide = part("wide", (1229, 1220))
    with pytest.raises(CannotCutError) as caught:
        broken(asked(SIDE, long, wide))
    first, second, remedy = said(caught.value)
    assert first.startswith("long 1300 × 200 mm is larger than the vehicle takes")
    assert second.startswith("wide 1229 × 1220 mm fits no blank")
    assert remedy.startswith("for all of them a bed of")
    assert remedy.endswith("would do")


def test_stock_that_falls_short() -> None:
    """With one sheet four of eight sides have no place."""
    small = asked(sheets=(sheet(in_stock=1),))
    division = divide(small)
    (group,) = division.groups
    roomy = divide(asked()).groups[0].problem
    with pytest.raises(StockTooSmallError) as caught:
        break_down(
            division,
            group,
            replace(nest(roomy, seed=0, stop=AfterSteps(500)), layouts=()),
            seed=0,
            allowance=Allowance(steps=1200),
        )
    assert dict(caught.value.short) == {0: 4}


def test_what_the_store_can_make() -> None:
    """Sheets have ways to break them down, offcuts have none; what is too heavy is cut smaller."""
    wanted = asked(offcuts=(offcut("rack", (1250, 300)),))
    division = divide(wanted)
    sheets = store_sheets(division, division.groups[0])
    assert (list(sheets.splitters), sheets.offcuts) == ([0], (1,))
    assert sheets.splitters[0].fewest == 1


TWO = (sheet(), sheet("board", material="MDF"))


def test_all_materials_are_refused_in_one_go() -> None:
    """Parts too large for the car are told of every material, before anything is searched."""
    long = (part("top", (1500, 1240)), part("back", (1300, 1250), material="MDF"))
    wanted = asked(*long, sheets=TWO)
    division = divide(wanted)
    reasons = refusals(division)
    assert [reason.parts for reason in reasons] == [("top",), ("back",)]
    with pytest.raises(CannotCutError) as caught:
        make_plan(wanted, allowance=Allowance(steps=100))
    assert list(caught.value.reasons) == reasons
    assert refusals(divide(asked())) == []


def test_who_interrupts_once_a_material_is_done_gets_a_plan() -> None:
    """Of the others the first answer is taken; before there is any answer there is no plan."""
    wanted = asked(SIDE, part("back", (1200, 600), 2, material="MDF"), sheets=TWO)
    allowance = Allowance(steps=4000)

    class Impatient(Watcher):
        """Asks for the end once the first material has its layouts."""

        def heard(self, plan: PlanSoFar) -> None:
            """Ask."""
            if plan.sheets is not None:
                allowance.asked.ask()

    plan = make_plan(wanted, allowance=allowance, watcher=Impatient())
    assert plan.totals.parts == 10
    assert {line.material for line in plan.buy} == {PLY, "MDF"}


@pytest.mark.slow
def test_no_part_of_the_panels_where_one_fits_nothing() -> None:
    """Only where everything there is runs out does it help to plan a part of the panels.

    The sheets that can be bought without end have no blank for a panel that offcuts hold.
    """
    wanted = asked(
        part("long", (1225, 300), 3),
        bed=(1226, 1226),
        offcuts=(offcut("rack", (1300, 310)),),
        sheets=(sheet(), sheet("small", (1220, 610))),
    )
    with pytest.raises(CannotCutError) as caught:
        make_plan(wanted, allowance=Allowance(steps=100), partial=True)
    assert not caught.value.is_shortage

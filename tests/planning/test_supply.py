"""What the shop begins with: names of sheets and blanks, and the store's cuts by setting."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from cutlist.audit import audit
from cutlist.breakdown.patterns import Pattern, Split
from cutlist.model.job import Job, Store, Vehicle
from cutlist.model.layout import Axis
from cutlist.model.plan import Place, Plan, Purpose
from cutlist.planning.ordering.supply import Supply, fewest_settings, grouped
from cutlist.sequencing.cutting import CutStep, PlacedBox
from tests.planning.jobs import job, offcut, part, planned, sheet

STORE = Store(Fraction(4), Fraction(2), 4, 2, Decimal("0.50"))


def small_car(store: Store = STORE) -> Job:
    """Return panels that fill a sheet, and a car that takes half a sheet."""
    asked = job([part("side", (1200, 590), 4)], [sheet("full", (2440, 1220), trim=5)])
    return replace(asked, store=store, vehicle=Vehicle(Fraction(1250), Fraction(1230)))


def split_of(children: st.SearchStrategy[Pattern]) -> st.SearchStrategy[Pattern]:
    """Return patterns of one cut more; few distances, so that some agree."""
    return st.builds(Split, st.sampled_from(Axis), st.integers(1, 4), children, children)


def store_cuts(plan: Plan) -> list[tuple[str, str, str]]:
    """Return piece, kept and rest of each cut at the store."""
    return [
        (cut.piece, cut.kept.name, cut.rest.name if cut.rest else "")
        for setting in plan.settings
        if setting.place is Place.STORE
        for cut in setting.cuts
    ]


def cut(piece: str, distance: int, kept_name: str = "") -> CutStep:
    """Return a crosscut."""
    kept, rest = (
        PlacedBox(kept_name or piece + "k", 0, 0, distance, 5),
        PlacedBox(piece + "r", distance, 0, 9, 5),
    )
    return CutStep(piece, Axis.X, Purpose.BREAK_DOWN, kept, rest)


def test_whole_stock_is_lettered() -> None:
    """Without a store sheets and offcuts have letters in order."""
    stock = (sheet(), offcut("rack", (500, 400)))
    supply = Supply.of(stock)
    assert [start.name for start in supply.starts] == ["A", "B"]
    assert supply.workpieces == (("A", stock[0]), ("B", stock[1]))
    assert supply.store == ()


def test_blanks_of_a_plan() -> None:
    """One crosscut makes two blanks, A1 and A2; the shop goes on with their names."""
    plan = planned(small_car())
    assert audit(plan) == ()
    assert store_cuts(plan) == [("A", "A1", "A2")]
    assert [workpiece.piece for workpiece in plan.workpieces] == ["A"]
    assert {panel.piece.name[:2] for panel in plan.panels} == {"A1", "A2"}
    (first, *others) = plan.settings
    assert (first.place, first.kerf, first.cuts[0].purpose) == (
        Place.STORE,
        Fraction(4),
        Purpose.BREAK_DOWN,
    )
    assert all(setting.place is Place.SHOP for setting in others)
    assert plan.totals.cost == Decimal(60)


def test_cuts_beyond_the_free_ones_are_paid() -> None:
    """With no cut free the one cut is on the bill; no sheet gets in without it, so it is proven."""
    plan = planned(small_car(replace(STORE, free_cuts=0)))
    assert plan.totals.cost == Decimal("60.50")
    assert (plan.bounds.cost, plan.bounds.cost_proven) == (Decimal("60.50"), True)


def test_a_blank_left_alone_is_an_offcut() -> None:
    """What is bought with a blank and not needed goes home as it is, under its name."""
    asked = replace(small_car(), parts=(part("side", (1200, 590), 1),))
    plan = planned(asked)
    assert audit(plan) == ()
    whole = {"A1", "A2"} & {leftover.piece.name for leftover in plan.leftovers}
    assert len(whole) == 1


def test_sheets_are_cut_together() -> None:
    """Of all sheets, what can be cut at a distance is cut at one setting."""
    first, second = Split(Axis.X, 40, Split(Axis.Y, 30)), Split(Axis.Y, 30)
    order = fewest_settings([first, first, second])
    assert (order.settings, order.bound) == ((40, 30), 2)
    sheets = [cut("A", 40, "A1"), cut("A1", 30)], [cut("B", 40, "B1"), cut("B1", 30)]
    settings = grouped([*sheets, [cut("C", 30)]], order.settings)
    assert [(one.distance, [c.piece for c in one.cuts]) for one in settings] == [
        (40, ["A", "B"]),
        (30, ["A1", "B1", "C"]),
    ]
    assert grouped([], ()) == ()


def test_the_order_that_sets_fewest_looks_ahead() -> None:
    """What most sheets wait for first is no good guide: 20 later serves all of them at once."""
    pattern = Split(Axis.X, 30, Split(Axis.Y, 20))
    many = [Split(Axis.X, 20, None)] * 3
    assert fewest_settings([pattern, *many]).settings == (30, 20)


@given(st.lists(st.recursive(st.none(), split_of, max_leaves=4), max_size=4))
def test_no_order_sets_fewer(patterns: list[Pattern]) -> None:
    """Beside every order of the distances there is: the fewest, and it cuts all there is to cut."""
    order = fewest_settings(patterns)
    assert len(order.settings) == order.bound == fewest_of_all(tuple(patterns))


def fewest_of_all(patterns: tuple[Pattern, ...]) -> int:
    """Return the fewest settings, by trying every distance that can be set, breadth first."""
    level = {frozenset(pattern for pattern in patterns if pattern is not None)}
    for settings in range(100):
        if frozenset() in level:
            return settings
        level = {
            frozenset(done for pattern in open_ for done in after(pattern, distance))
            for open_ in level
            for distance in {pattern.size for pattern in open_}
        }
    raise AssertionError


def after(pattern: Split, distance: int) -> list[Split]:
    """Return what is still to be cut of a piece once all is cut that can be at a distance."""
    if pattern.size != distance:
        return [pattern]
    parts = (pattern.first, pattern.rest)
    return [left for part in parts if part is not None for left in after(part, distance)]

"""The same parts on each sheet size, and on the best mix."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.model.job import Job, Store, Vehicle
from cutlist.model.plan import Place, Plan
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.stopping import WhenAsked
from cutlist.planning import compare as module
from cutlist.planning.compare import CompareWatcher, Variant, compare, side_by_side
from cutlist.planning.make import make_plan
from cutlist.planning.terms.parameters import SEARCHES
from cutlist.telling.comparing import refusal_words
from tests.planning.jobs import job, offcut, part, planned, sheet


def compared(*args: object, **more: object) -> list[Variant]:
    """Compare with a small budget of steps."""
    asked = job(*args, **more)  # type: ignore[arg-type]
    return compare(asked, allowance=lambda: Allowance(steps=300))


SHEETS = (sheet("large", (2440, 1220), "50"), sheet("small", (1220, 610), "16"))


def test_each_sheet_and_the_mix() -> None:
    """Every sheet of a material stands alone once, then all together."""
    variants = compared([part("shelf", (1200, 300), 5)], SHEETS)
    assert [(v.sheets, v.is_mix) for v in variants] == [
        (("large",), False),
        (("small",), False),
        (("large", "small"), True),
    ]
    large, small, mix = (v.plan for v in variants)
    assert large
    assert small
    assert mix
    assert {line.sheet for line in large.buy} == {"large"}
    assert {line.sheet for line in small.buy} == {"small"}
    assert mix.totals.cost <= min(large.totals.cost, small.totals.cost)


def test_sheet_that_cannot_serve() -> None:
    """A sheet too small for a part is no error, it says why it cannot serve."""
    variants = compared([part("wall", (2000, 1000))], SHEETS)
    large, small, mix = variants
    assert small.plan is None
    assert refusal_words(small).startswith("wall 2000 × 1000 mm cannot be cut from small")
    assert large.plan is not None
    assert mix.plan is not None
    assert refusal_words(mix) == ""


def test_one_sheet_is_not_told_twice() -> None:
    """A material with a single sheet has one variant."""
    variants = compared([part("shelf", (600, 300))], SHEETS[:1])
    assert [(v.sheets, v.is_mix) for v in variants] == [(("large",), True)]


def test_materials_one_by_one() -> None:
    """Each material is planned with its own parts, sheets and offcuts."""
    parts = [part("shelf", (600, 300)), part("back", (900, 500), material="mdf")]
    sheets = [sheet(), sheet("m", material="mdf", price="30")]
    first, second = compared(parts, sheets, [offcut("rack", (700, 400))])
    assert first.material == "birch ply"
    assert first.plan is not None
    assert [piece.stock for piece in first.plan.workpieces] == ["rack"]
    assert second.material == "mdf"
    assert second.plan is not None
    assert [panel.part for panel in second.plan.panels] == ["back"]


def test_offcuts_alone() -> None:
    """Parts with no sheet to buy are planned on offcuts."""
    (only,) = compared([part("shelf", (600, 300))], [], [offcut("rack", (700, 400))])
    assert only.sheets == ()
    assert only.plan is not None
    assert only.plan.buy == ()


def broken_down() -> Job:
    """Return a job whose larger sheet goes into the vehicle only once it is cut."""
    return replace(
        job([part("shelf", (1200, 300), 5)], SHEETS),
        store=Store(Fraction(3), Fraction(3), 4, cut_price=Decimal("0.5")),
        vehicle=Vehicle(Fraction(1500), Fraction(1250)),
    )


def test_with_and_without_the_cuts_of_the_store() -> None:
    """A sheet that goes in whole is planned once; the others with the store's cuts and without."""
    variants = compare(broken_down(), allowance=lambda: Allowance(steps=300))
    assert [(v.sheets, v.store_cuts, v.plan is not None) for v in variants] == [
        (("large",), True, True),
        (("large",), False, False),
        (("small",), None, True),
        (("large", "small"), True, True),
        (("large", "small"), False, True),
    ]
    assert "does not go into the vehicle uncut" in refusal_words(variants[1])
    for variant in variants:
        if variant.plan is not None:
            assert audit(variant.plan) == ()
            cut = any(setting.place is Place.STORE for setting in variant.plan.settings)
            assert variant.store_cuts or not cut


def test_the_mix_is_never_dearer() -> None:
    """A mix for which the search finds a dear plan takes over the plan of a single sheet."""

    def clumsy(asked: Job, /, *, seed: int, allowance: Allowance) -> Plan:
        if len(asked.sheets) == 1:
            return make_plan(asked, seed=seed, allowance=allowance)
        plan = make_plan(replace(asked, sheets=SHEETS[1:]), seed=seed, allowance=allowance)
        # Four small sheets for 64, and nothing proven of the mix.
        bounds = replace(plan.bounds, cost=Decimal(0), cost_proven=False, sheets=1)
        return replace(plan, job=asked, bounds=bounds)

    asked = job([part("shelf", (1200, 300), 7)], SHEETS)
    large, small, mix = compare(asked, allowance=lambda: Allowance(steps=300), plan=clumsy)
    assert large.plan
    assert small.plan
    assert mix.plan
    assert large.plan.totals.cost < small.plan.totals.cost
    assert mix.plan.totals.cost == large.plan.totals.cost
    assert mix.plan.bounds.cost <= mix.plan.totals.cost
    assert mix.plan.job.sheets == SHEETS
    assert audit(mix.plan) == ()


def test_without_prices_the_area_counts() -> None:
    """The plan that buys less is better, whatever its set-ups."""
    sheets = [sheet("large", (2440, 1220), None), sheet("small", (1220, 610), None)]
    one, two = (planned(job([part("shelf", (600, 300))], [s])) for s in sheets)
    assert module._is_better(two, one)
    assert not module._is_better(one, two)


def test_varied_values_stand_side_by_side() -> None:
    """Each way is planned with each value, one after the other, by its own job."""
    asked = job([part("shelf", (1200, 300), 5)], SHEETS)
    varied = [
        ((("saw.kerf", text),), replace(asked, saw=replace(asked.saw, kerf=Fraction(text))))
        for text in ("3", "4")
    ]
    variants = compare(asked, allowance=lambda: Allowance(steps=100), varied=varied)
    assert [(v.sheets, v.varied[0][1]) for v in variants] == [
        (names, value) for names in (("large",), ("small",), ("large", "small")) for value in "34"
    ]
    for variant in variants:
        assert variant.plan
        kerfs = {setting.kerf for setting in variant.plan.settings}
        assert kerfs == {Fraction(variant.varied[0][1])}


@pytest.mark.slow
def test_side_by_side_gives_the_same() -> None:
    """With a budget in steps it does not matter how many plans are made at once."""
    parts = [part("shelf", (1200, 300), 5), part("end", (700, 280), 4)]
    asked = job(parts, SHEETS)
    one, three = (
        compare(asked, seed=7, allowance=lambda: Allowance(steps=300), at_once=count)
        for count in (1, 3)
    )
    assert one == three


def test_how_many_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """With time each plan gets its own cores; with steps every core gets a plan."""
    for cores in (1, 2, 8, None):
        monkeypatch.setattr("os.cpu_count", lambda cores=cores: cores)
        there = cores or 1
        assert side_by_side(is_timed=False) == there
        assert side_by_side(is_timed=True) == max(1, there // SEARCHES)


class Ears(CompareWatcher):
    """Remembers what it hears."""

    def __init__(self) -> None:
        self.heard: list[object] = []

    def began(self, variant: Variant) -> None:
        """Remember the sheets."""
        self.heard.append(variant.sheets)

    def ended(self, done: int, of: int) -> None:
        """Remember the count."""
        self.heard.append((done, of))


def test_progress_is_told() -> None:
    """The number of plans at the start, then which is begun and how many are done."""
    ears = Ears()
    asked = job([part("shelf", (1200, 300), 5)], SHEETS)
    compare(asked, allowance=lambda: Allowance(steps=50), watcher=ears)
    assert ears.heard[0] == (0, 3)
    assert [one for one in ears.heard if isinstance(one, tuple) and one[-1] == 3][-1] == (3, 3)
    assert [one for one in ears.heard if isinstance(one, tuple) and "large" in one] == [
        ("large",),
        ("large", "small"),
    ]


def test_an_interrupt_ends_every_search() -> None:
    """What goes wrong in one plan asks the searches of all to end, and comes through."""
    asked = WhenAsked()

    def fails(*_: object, **__: object) -> Plan:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        compare(
            job([part("shelf", (600, 300))], SHEETS[:1]),
            allowance=lambda: Allowance(steps=10, asked=asked),
            plan=fails,
        )
    assert asked.was_asked


def test_what_is_the_same_job_is_planned_once() -> None:
    """A value that touches one sheet alone leaves the plans on the other, made once, the same."""
    asked = job([part("shelf", (1200, 300), 5)], SHEETS)
    made: list[Job] = []

    def counted(one: Job, /, *, seed: int, allowance: Allowance) -> Plan:
        made.append(one)
        return make_plan(one, seed=seed, allowance=allowance)

    varied = [
        (
            (("sheets[small].price", price),),
            replace(asked, sheets=(SHEETS[0], replace(SHEETS[1], price=Decimal(price)))),
        )
        for price in ("16", "15", "17")
    ]
    ears = Ears()
    variants = compare(
        asked,
        allowance=lambda: Allowance(steps=100),
        varied=varied,
        watcher=ears,
        plan=counted,
    )
    assert len(variants) == 9
    assert len(made) == len(set(made)) == 7
    assert (7, 7) in ears.heard
    large = [one for one in variants if one.sheets == ("large",)]
    assert [one.varied[0][1] for one in large] == ["16", "15", "17"]
    assert len({id(one.plan) for one in large}) == 1
    assert large[0].plan is not None


def test_ended_early_the_finished_plans_are_there() -> None:
    """Those that came to their turn are planned and audited; the others say that they were not."""
    asked = job([part("shelf", (1200, 300), 5)], SHEETS)
    enough = WhenAsked()

    class Impatient(CompareWatcher):
        """Asks for the end once two plans are done."""

        def ended(self, done: int, of: int) -> None:
            """Ask."""
            if done == 2 and of == 3:
                enough.ask()

    variants = compare(
        asked,
        allowance=lambda: Allowance(steps=3000),
        watcher=Impatient(),
        asked=enough,
    )
    assert [(one.plan is not None, one.is_planned) for one in variants] == [
        (True, True),
        (True, True),
        (False, False),
    ]
    assert all(one.plan is None or audit(one.plan) == () for one in variants)


def test_ended_at_once_there_is_no_plan() -> None:
    """Asked to end before anything is done, a comparison gives every row, and no plan."""
    enough = WhenAsked()
    enough.ask()
    asked = job([part("shelf", (1200, 300), 5)], SHEETS)
    variants = compare(asked, allowance=lambda: Allowance(steps=300), asked=enough)
    assert [(one.plan, one.is_planned) for one in variants] == [(None, False)] * 3

"""The columns of a comparison in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.model.variants import Variant
from cutlist.telling.comparing import columns_of, name_words, reasons_of
from cutlist.units.system import Units
from tests.audit.plans import SOUND
from tests.refusing import because

HEAVY = Variant("MDF", Fraction(25), ("large", "small"), True, SOUND["heavy_boards"]())
LOST = Variant("MDF", Fraction(25), ("large",), False, None, because("too small"))


def cells(*variants: Variant) -> dict[str, tuple[str, ...]]:
    """Give the cells of each column by its head."""
    return {told.head: told.cells for told in columns_of(variants, Units.MM)}


def test_names() -> None:
    """A way is named by its sheets, and whole by all that sets it apart."""
    assert name_words(HEAVY) == "best mix"
    assert name_words(LOST) == "large"
    assert name_words(replace(LOST, sheets=())) == "offcuts"
    apart = replace(LOST, store_cuts=False, varied=(("saw.kerf", "3"),))
    assert name_words(apart, whole=True) == "large, without the store's cuts, kerf 3"


def test_columns_that_tell_nothing_are_left_out() -> None:
    """Trips and weight stand there where they are known; the rest stays."""
    told = cells(HEAVY, LOST)
    assert told["weight"] == ("117 kg",)
    assert told["trips"] == ("2",)
    assert "store cuts" not in told
    assert HEAVY.plan
    bare = replace(HEAVY, plan=replace(HEAVY.plan, weights=(), trips=()))
    assert {"weight", "trips"} & set(cells(bare)) == set()
    assert cells(LOST) == {}


def test_cuts_at_the_store() -> None:
    """Counted where the store may cut, and told where it may not."""
    plan = SOUND["store_and_vehicle"]()
    with_cuts = Variant("birch ply", Fraction(18), ("full",), True, plan, store_cuts=True)
    without = replace(HEAVY, store_cuts=False)
    count, word = cells(with_cuts, without)["store cuts"]
    assert int(count) > 0
    assert word == "without"


def test_reasons_are_told_once() -> None:
    """The same reason with every value is told without the values; else with each."""
    values = [replace(LOST, varied=(("saw.kerf", text),)) for text in ("3", "4")]
    assert reasons_of(values) == ["large, cannot serve: too small"]
    other = replace(values[1], reasons=because("too dear"))
    assert reasons_of([values[0], other]) == [
        "large, kerf 3, cannot serve: too small",
        "large, kerf 4, cannot serve: too dear",
    ]
    serves = replace(HEAVY, sheets=("large",), varied=values[1].varied)
    assert reasons_of([values[0], serves]) == ["large, kerf 3, cannot serve: too small"]


def test_what_was_not_planned_is_named_in_one_line() -> None:
    """Rows that a comparison did not come to stand apart from those that cannot serve."""
    first = Variant("ply", Fraction(18), ("large",), False, None, because("too small"))
    rest = [
        Variant("ply", Fraction(18), ("large",), False, None, varied=(("kerf", value),))
        for value in "34"
    ]
    rest = [replace(one, is_planned=False) for one in rest]
    assert reasons_of([first, *rest]) == [
        "large, cannot serve: too small",
        "not planned, for the comparison was interrupted: large, kerf 3; large, kerf 4",
    ]

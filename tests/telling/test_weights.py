"""Weights and trips in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Vehicle
from cutlist.model.sawing import Caution
from cutlist.model.weights import Density, Trip
from cutlist.telling.cautions import cautions
from cutlist.telling.cut_cautions import legend
from cutlist.telling.weights import (
    basis_words,
    heavy_rows,
    limit_words,
    stock_names,
    trip_words,
    unknown_weights,
    weight_words,
)
from cutlist.units.system import Units
from tests.audit.edits import with_job, with_sheet
from tests.audit.plans import SOUND, f


@pytest.mark.parametrize(
    ("kg", "units", "words"),
    [
        ("44.652", Units.MM, "44.7 kg"),
        ("0.04", Units.MM, "0.0 kg"),
        ("99.94", Units.MM, "99.9 kg"),
        ("99.96", Units.MM, "100 kg"),
        ("1234.5", Units.MM, "1,234 kg"),
        ("43.5449", Units.INCH, "96.0 lb"),
        ("272.155422", Units.INCH, "600 lb"),
    ],
)
def test_weights_have_a_tenth_where_it_matters(kg: str, units: Units, words: str) -> None:
    """Below 100 to a tenth, above in whole units; 600 lb is 272.155422 kg exactly."""
    assert weight_words(Fraction(kg), units) == words


def test_heavy_rows_put_alike_pieces_together() -> None:
    """Heaviest first, two walls in one row, named by the part that they become."""
    assert heavy_rows(read_ledger(SOUND["heavy_boards"]())) == [
        ("A, B", "wall", "44.7 kg", "more than two people, or a lifting aid"),
        ("C", "top", "27.9 kg", "two people"),
    ]


def test_pieces_from_the_store_are_named_by_their_sheet() -> None:
    """Halves are blanks of their sheet; a whole sheet keeps its name."""
    names = stock_names(read_ledger(SOUND["store_and_vehicle"]()))
    assert names == {"A1": "blank of full", "A2": "blank of full", "A": "full"}


def test_limits_are_told_in_the_jobs_unit() -> None:
    """23 kg is 51 lb, 30.7 kg 68 lb; both name their source."""
    assert limit_words(Units.MM).startswith("Over 23 kg, the load constant of the revised NIOSH")
    assert "over 31 kg" in limit_words(Units.MM)
    assert limit_words(Units.INCH).startswith("Over 51 lb")
    assert "over 68 lb" in limit_words(Units.INCH)


def test_trips_say_how_good_they_are() -> None:
    """117.2 kg by 100 are two at least; by 60 as well, where three are made."""
    plan = SOUND["heavy_boards"]()
    assert trip_words(plan) == "2 trips of at most 100 kg; 2 are needed"
    three = tuple(Trip((w.piece,), w.kg) for w in plan.weights[:3])
    plan = replace(with_job(plan, vehicle=Vehicle(f(2500), f(1300), f(60))), trips=three)
    assert trip_words(plan) == "3 trips of at most 60.0 kg; by weight alone 2"
    one = (Trip(("A", "B", "C"), f(117.2115)),)
    plan = replace(with_job(plan, vehicle=Vehicle(f(2500), f(1300), f(120))), trips=one)
    assert trip_words(plan) == "1 trip of at most 120 kg"
    assert trip_words(replace(plan, trips=())) == "how many trips of 120 kg is not known"
    assert trip_words(SOUND["plain"]()) == ""


def test_materials_without_a_weight_are_named_once() -> None:
    """By material and thickness; stock on hand does not count, sheets cut at the store do."""
    assert unknown_weights(read_ledger(SOUND["two_materials"]())) == (
        "birch ply 18 mm",
        "MDF 12 mm",
    )
    assert unknown_weights(read_ledger(SOUND["heavy_boards"]())) == ()
    assert unknown_weights(read_ledger(SOUND["store_and_vehicle"]())) == ('birch ply 3/4"',)


def test_the_basis_tells_guesses_from_what_the_job_says() -> None:
    """A kind by name with its density, a material as given; nothing where nothing is known."""
    plan = with_sheet(SOUND["heavy_boards"](), 0, density=Density(f(769), "MDF"))
    plan = with_sheet(plan, 0, material="fibre board")
    words = basis_words(plan)
    assert "fibre board as MDF, 769 kg/m³" in words
    assert words.endswith("Weighed as the job says: MDF, 600 kg/m³.")
    assert basis_words(SOUND["plain"]()) == ""


def test_cautions_marks_and_list_agree_on_how_many_lift() -> None:
    """23 kg is 51 lb for one, two thirds of twice that, 31 kg or 68 lb, the most for two."""
    for units, one, two in ((Units.MM, "23 kg", "31 kg"), (Units.INCH, "51 lb", "68 lb")):
        limits = limit_words(units)
        assert f"Over {one}" in limits
        assert f"over {two}" in limits
        assert f"two people over {one}, more or a lifting aid over {two}." in " ".join(
            cautions(units)
        )
        support = dict(legend(units))[Caution.SUPPORT]
        assert f"more or a lifting aid where it weighs over {two}" in support

"""Where there is a grain to speak of."""

from __future__ import annotations

from dataclasses import replace

from cutlist.model.job import Grain
from cutlist.telling.grain import along_words, has_grain, is_grainless
from tests.drawing.plans import many_alike, many_cuts, market_stall, small


def test_boards_without_grain_are_known_by_name() -> None:
    """MDF, HDF and hardboard in any writing; not with a veneer, nor what sounds like them."""
    for name in (
        "MDF",
        "HDF, white",
        "black mdf",
        "Hardboard",
        "medium-density fibreboard",
        "raw chipboard",
    ):
        assert is_grainless(name)
    for name in (
        "birch ply",
        "oak veneered MDF",
        "melamine particleboard",
        "hardwood board",
        "OSB",
    ):
        assert not is_grainless(name)


def test_a_job_that_lays_parts_by_the_grain_is_taken_at_its_word() -> None:
    """The lockers' MDF has parts along the grain, that of the locker shelves has none."""
    plan = many_cuts()
    assert has_grain(plan.job, plan.workpieces[0])
    plan = many_alike()
    assert not has_grain(plan.job, plan.workpieces[0])
    parts = tuple(replace(part, grain=Grain.WIDTH) for part in plan.job.parts)
    assert has_grain(replace(plan.job, parts=parts), plan.workpieces[0])
    bare = replace(plan.workpieces[0], has_grain=False)
    assert not has_grain(replace(plan.job, parts=parts), bare)


def test_what_sizes_are_along() -> None:
    """Plywood, MDF, and both of them."""
    assert along_words(small()) == "grain of the sheet"
    assert along_words(many_alike()) == "length of the sheet"
    assert along_words(market_stall()) == "grain (or the length) of the sheet"

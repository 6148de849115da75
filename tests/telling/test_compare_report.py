"""What a comparison prints, and its document."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.model.job import Store, Vehicle
from cutlist.model.variants import Variant
from cutlist.model.weights import Density
from cutlist.nesting.allowance import Allowance
from cutlist.output.compare_json import comparison_document
from cutlist.planning.compare import compare
from cutlist.telling.compare_report import comparison_lines
from cutlist.units.system import Units
from tests.planning.jobs import job, offcut, part, sheet


def variants() -> list[Variant]:
    """Compare a large sheet with one that is too small."""
    sheets = [sheet("large", (2440, 1220), "50"), sheet("small", (900, 600), "16")]
    asked = job([part("wall", (1200, 300), 5)], sheets)
    return compare(asked, allowance=lambda: Allowance(steps=100))


def heavy_variants() -> list[Variant]:
    """Compare sheets with a density, a store and a vehicle, at two kerfs."""
    sheets = [
        replace(sheet(name, size, price), density=Density(Fraction(700)))
        for name, size, price in (("full", (2440, 1220), "50"), ("half", (1220, 1220), "30"))
    ]
    asked = replace(
        job([part("wall", (1000, 300), 6)], sheets),
        store=Store(Fraction(3), Fraction(3), 4, cut_price=Decimal("0.5")),
        vehicle=Vehicle(Fraction(1500), Fraction(1250), Fraction(60)),
    )
    varied = [
        ((("saw.kerf", text),), replace(asked, saw=replace(asked.saw, kerf=Fraction(text))))
        for text in ("3", "2")
    ]
    return compare(asked, allowance=lambda: Allowance(steps=100), varied=varied)


def test_comparison_lines() -> None:
    """The material, the heads, one line for each way that can serve, the reasons below."""
    lines = comparison_lines(variants(), Units.MM, 100)
    assert lines[0] == "birch ply 18 mm"
    assert lines[1].split() == ["fence,", "stop,", "largest"]
    assert lines[2].split() == [
        *("to", "buy", "cost", "waste", "offcuts", "set-ups", "guide", "min", "piece")
    ]
    assert lines[3].startswith("1 × large ")
    assert lines[4].startswith("best mix: 1 × large ")
    assert lines[3].endswith("2440 × 1220 mm")
    assert lines[5].startswith("small, cannot serve: wall 1200 × 300 mm cannot be cut from small")
    for line in lines[3:5]:
        assert line.index("50.00") + 5 == lines[2].index("cost") + 4


@pytest.mark.slow
def test_what_is_bought_stands_above_its_figures_where_room_is_short() -> None:
    """No line is wider than the terminal, and no figure is parted."""
    found = heavy_variants()
    lines = comparison_lines(found, Units.MM, 80)
    assert max(map(len, lines)) <= 80
    # What no line has room for beside the other figures goes there, too.
    for kerf in ("3", "2"):
        lead = f"1 × full, kerf {kerf}, largest piece 12"
        assert any(line.startswith(lead) for line in lines)
    wide = comparison_lines(found, Units.MM, 140)
    assert len(wide) < len(lines)
    assert all(any(figure in line for line in lines) for figure in ("2 ", "without"))


@pytest.mark.slow
def test_the_same_reason_is_told_once() -> None:
    """A way that serves with no value of what is varied is named without the values."""
    lines = comparison_lines(heavy_variants(), Units.MM, 200)
    assert [line for line in lines if "cannot serve" in line] == [
        "full, without the store's cuts, cannot serve: full 2440 × 1220 mm does not go into the"
        " vehicle uncut (1500 × 1250 mm bed)"
    ]


def test_comparison_of_offcuts_alone() -> None:
    """Without a sheet to buy the line is about offcuts."""
    asked = job([part("shelf", (600, 300))], [], [offcut("rack", (700, 400))])
    found = compare(asked, allowance=lambda: Allowance(steps=50))
    assert comparison_lines(found, Units.MM, 100)[3].startswith("offcuts: nothing ")


def test_comparison_document() -> None:
    """The figures as data: which sheets, whether they serve, and why not."""
    document = comparison_document(variants(), Units.MM)
    assert document["format"] == "cutlist-compare/1"
    large, small, mix = document["variants"]
    assert (large["sheets"], large["mix"], large["serves"]) == (["large"], False, True)
    assert large["totals"]["cost"] == 50
    assert large["figures"]["largest_piece"]["length"] == 2440
    assert large["figures"]["weight"] is None
    assert (small["serves"], "totals" in small) == (False, False)
    assert small["reason"]
    assert (mix["sheets"], mix["mix"]) == (["large", "small"], True)
    assert mix["thickness"] == 18
    assert mix["store_cuts"] is None


@pytest.mark.slow
def test_the_document_tells_weights_and_what_was_varied() -> None:
    """2440 × 1220 × 18 mm at 700 kg/m³ are 37.508 kg, worked by hand."""
    document = comparison_document(heavy_variants(), Units.MM)
    first, second = document["variants"][:2]
    assert [one["varied"] for one in (first, second)] == [{"saw.kerf": "3"}, {"saw.kerf": "2"}]
    assert (first["sheets"], first["store_cuts"]) == (["full"], True)
    assert first["figures"]["weight"] == 37.508
    assert first["figures"]["store_cuts"] >= 1
    assert first["figures"]["trips"] == 1
    assert document["weight_unit"] == "kg"

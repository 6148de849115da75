"""Weights against published tables, limits of lifting, and what goes home."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.weights import lift_of, loads
from cutlist.model.weights import Lift
from cutlist.units.masses import (
    KG_PER_LB,
    KG_PER_M3_OF_A_LB_PER_FT3,
    cubic_metres,
    in_density_unit,
    in_weight_unit,
)
from cutlist.units.system import Units
from tests.audit.plans import SOUND, f


def weigh(size: tuple[str, str, str], units: Units, kg_per_m3: float) -> float:
    """Weigh a board of length, width and thickness in the unit, in kg."""
    length, width, thickness = map(f, size)
    return float(cubic_metres(length, width, thickness, units)) * kg_per_m3


@pytest.mark.parametrize(
    ("thickness", "kg_per_m3", "kg"),
    [("18", 685, 36.7), ("12", 695, 24.8), ("24", 680, 48.6), ("9", 710, 19.0), ("6.5", 670, 13.0)],
)
def test_birch_sheets_weigh_what_their_data_sheet_says(
    thickness: str, kg_per_m3: int, kg: float
) -> None:
    """Densities and weights of sheets of 2440 × 1220 mm, printed to 0.1 kg.

    A merchant's data sheet for birch plywood, weight table.
    """
    assert weigh(("2440", "1220", thickness), Units.MM, kg_per_m3) == pytest.approx(kg, abs=0.05)


@pytest.mark.parametrize(
    ("kg_per_m3", "lb_per_ft3", "lb"), [(673, 42.0, 84.0), (769, 48.0, 96.0), (833, 52.0, 104.0)]
)
def test_mdf_sheets_at_the_densities_of_the_laboratory(
    kg_per_m3: int, lb_per_ft3: float, lb: float
) -> None:
    """A sheet of 96 × 48 × 3/4 in is 2 cubic feet: twice its density in lb/ft³.

    Densities of 673, 769 and 833 kg/m³: Cai, Muehl, Winandy (USDA Forest Products Laboratory),
    Effects of panel density and mat moisture content on processing medium density fiberboard.
    """
    kg = weigh(("96", "48", "0.75"), Units.INCH, kg_per_m3)
    assert float(in_weight_unit(Fraction(kg), Units.INCH)) == pytest.approx(lb, abs=0.1)
    density = in_density_unit(Fraction(kg_per_m3), Units.INCH)
    assert float(density) == pytest.approx(lb_per_ft3, abs=0.05)


def test_a_pound_is_what_the_agreement_says() -> None:
    """1 lb is 0.45359237 kg, and 1 lb/ft³ is 16.01846 kg/m³ (NIST SP 811, appendix B.8)."""
    assert Fraction("0.45359237") == KG_PER_LB
    assert float(KG_PER_M3_OF_A_LB_PER_FT3) == pytest.approx(16.01846, abs=5e-6)
    assert in_weight_unit(Fraction(7), Units.MM) == 7
    assert in_density_unit(Fraction(7), Units.MM) == 7


def test_inches_and_millimetres_weigh_the_same() -> None:
    """The same board in both units has the same volume, exactly."""
    inches = cubic_metres(f(96), f(48), f("3/4"), Units.INCH)
    assert inches == cubic_metres(f("2438.4"), f("1219.2"), f("19.05"), Units.MM)


@pytest.mark.parametrize(
    ("kg", "lift"),
    [
        ("0.1", Lift.ONE),
        ("23", Lift.ONE),
        ("23.001", Lift.TWO),
        ("30.66", Lift.TWO),
        ("92/3", Lift.TWO),
        ("30.67", Lift.MORE),
    ],
)
def test_limits_of_lifting(kg: str, lift: Lift) -> None:
    """One person to 23 kg, two to two thirds of twice that.

    23 kg (51 lb): load constant, Waters, Putz-Anderson, Garg, Applications Manual for the revised
    NIOSH lifting equation, Publication 94-110. Two thirds for two: HSE L23, from memory.
    """
    assert lift_of(Fraction(kg)) is lift
    assert round(in_weight_unit(Fraction(23), Units.INCH)) == 51


def test_what_goes_home_is_what_the_store_leaves() -> None:
    """A sheet halved at the store goes as its two halves, and no shop cut counts."""
    plan = SOUND["store_and_vehicle"]()
    ledger = read_ledger(plan)
    whole, home = ledger.stock_of, ledger.home
    assert [piece.name for piece in home] == ["A1", "A2"]
    assert {whole[panel.piece.name].piece for panel in plan.panels} == {"A"}
    assert list(loads(read_ledger(plan))) == [("A1", None), ("A2", None)]


def test_stock_on_hand_is_not_taken_home() -> None:
    """Loads are those of bought sheets alone."""
    plan = SOUND["heavy_boards"]()
    assert list(loads(read_ledger(plan))) == [("A", f(44.652)), ("B", f(44.652)), ("C", f(27.9075))]


def test_cuts_of_what_is_not_there_are_passed_over() -> None:
    """A broken plan is followed as far as it goes."""
    plan = SOUND["plain"]()
    ledger = read_ledger(replace(plan, setups=plan.settings[1:]))
    whole, home = ledger.stock_of, ledger.home
    assert set(whole) == {"A"}
    assert [piece.name for piece in home] == ["A"]

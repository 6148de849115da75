"""Tests of column generation against published values of the linear program."""

from __future__ import annotations

import pytest

from cutlist.nesting.bounds.columns import column_steps, fractional_cost
from cutlist.nesting.bounds.cover import CoverRow
from cutlist.nesting.bounds.grown import grow
from cutlist.nesting.bounds.patterns import Patterns
from cutlist.nesting.parameters import BoundParameters
from tests.nesting.bounds.instances import ROLLS, Roll


@pytest.mark.parametrize("lengthwise", [True, False])
@pytest.mark.parametrize("roll", ROLLS, ids=lambda roll: roll.name)
def test_linear_program_of_rolls(roll: Roll, lengthwise: bool) -> None:
    """The generation converges to the value of the linear program, from below and from above."""
    grown = grow(roll.problem(lengthwise=lengthwise))
    start = (grown.lengths * grown.widths).astype(float)
    steps = list(column_steps(grown, (1,), Patterns(grown, BoundParameters(work=1e8)), start))
    best = max(fractional_cost(step.row, (1,), (None,))[0] for step in steps)
    assert best == pytest.approx(roll.linear, abs=5e-3)
    assert steps[-1].ceiling == pytest.approx(roll.linear, abs=5e-3)


def test_fractional_cost_takes_the_best_value_first() -> None:
    """Two free bins, then the cheaper per unit: 10 units from 2 × 2, 3 × 1, and 3/4 of the last."""
    row = CoverRow((2, 1, 4), 10)
    cost, price = fractional_cost(row, (0, 1, 6), (2, 3, None))
    assert cost == pytest.approx(3 + 6 * 3 / 4)
    assert price == 1.5


def test_fractional_cost_without_enough_stock() -> None:
    """No price of weight exists where the stock does not suffice."""
    assert fractional_cost(CoverRow((2,), 10), (1,), (4,)) == (float("inf"), None)

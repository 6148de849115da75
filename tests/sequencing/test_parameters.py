"""What sequencing is tuned by: frozen, and documented value by value."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.parameters import USUAL, SequencingParameters
from cutlist.sequencing.sequence import StockLayout, sequence


def test_empty_is_the_defaults() -> None:
    """Empty parameters are the usual ones, of the whole and of each component."""
    assert SequencingParameters() == USUAL
    for component in fields(SequencingParameters):
        value = getattr(USUAL, component.name)
        assert type(value)() == value


def test_every_value_is_told() -> None:
    """Each value has its line in the docstring of its component; none can be set afterwards."""
    assert fields(SequencingParameters)
    for component in fields(SequencingParameters):
        value = getattr(USUAL, component.name)
        named = {
            name.strip()
            for line in (type(value).__doc__ or "").splitlines()
            if line.startswith("    ") and not line.startswith("        ")
            for name in line.split(",")
        }
        assert {field.name for field in fields(value)} <= named
        with pytest.raises(FrozenInstanceError):
            setattr(value, fields(value)[0].name, 0)


def test_parameters_are_passed_on() -> None:
    """Given as empty ones they change nothing."""
    root = Strip(Axis.X, 30, 10, (Cell(0, 12, 10), Cell(1, 7, 10)))
    layouts = [StockLayout(Layout(0, root))]
    made = sequence(layouts, Fence(1), parameters=SequencingParameters())
    assert made == sequence(layouts, Fence(1))

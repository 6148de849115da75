"""What searches are tuned by: an empty object is the defaults, frozen, with every value told."""

from __future__ import annotations

import inspect
from dataclasses import FrozenInstanceError, fields, is_dataclass
from types import ModuleType
from typing import Any

import pytest

from cutlist.breakdown import parameters as breakdown
from cutlist.nesting import parameters as nesting
from cutlist.nesting import step_parameters as steps

ROOMS: tuple[tuple[ModuleType, Any], ...] = (
    (nesting, nesting.USUAL_NESTING),
    (breakdown, breakdown.USUAL_BREAKDOWN),
)
KINDS = sorted(
    {
        kind
        for module in (nesting, breakdown, steps)
        for _, kind in inspect.getmembers(module, inspect.isclass)
        if is_dataclass(kind) and kind.__module__ == module.__name__
    },
    key=lambda kind: kind.__name__,
)


@pytest.mark.parametrize(("module", "usual"), ROOMS, ids=["nesting", "breakdown"])
def test_empty_is_the_defaults(module: ModuleType, usual: Any) -> None:
    """A room's parameters of which none is given are the usual ones."""
    assert type(usual)() == usual
    assert module.__name__ == type(usual).__module__


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_each_is_frozen_and_told(kind: type) -> None:
    """No parameter can be changed in place, and its docstring tells what each one does."""
    made: Any = kind()
    assert fields(made)
    for one in fields(made):
        with pytest.raises(FrozenInstanceError):
            setattr(made, one.name, 0)
        assert kind.__doc__
        assert one.name in kind.__doc__, one.name


@pytest.mark.parametrize(("module", "usual"), ROOMS, ids=["nesting", "breakdown"])
def test_every_component_has_its_place(module: ModuleType, usual: Any) -> None:
    """Each component hangs on the room's whole, through others or by itself."""
    found: set[type] = set()

    def gather(value: Any) -> None:
        found.add(type(value))
        for one in fields(value):
            inner = getattr(value, one.name)
            if is_dataclass(inner):
                gather(inner)

    gather(usual)
    assert {kind for kind in KINDS if kind.__module__ == module.__name__} <= found

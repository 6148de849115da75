"""Seed and steps alone decide a plan, also where fillings are priced or copies are planned."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from cutlist.nesting.columns.generation import ColumnSearch
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.parameters import SamplingParameters
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search import solve
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps

if TYPE_CHECKING:
    from collections.abc import Callable

HOME = Path(__file__).parents[2]


def order(rows: str, sheets: tuple[Bin, ...], kerf: int) -> Problem:
    """Return an order of panels that do not turn; rows are length, width, copies."""
    sizes = [[int(x) for x in row.split()] for row in rows.split(",")]
    return Problem(tuple(Item(a, b, n, False) for a, b, n in sizes), sheets, kerf)


# On the first, the choice among priced fillings finds plans; on the second there is none to find.
ORDERS = {
    "three sizes of sheets": (
        order(
            "26 35 7, 20 24 12, 14 17 3, 27 44 4, 37 13 8, 43 41 7",
            (Bin(100, 100, 100), Bin(80, 60, 50), Bin(120, 90, 107)),
            1,
        ),
        340_000,
    ),
    "large panels": (
        order(
            "30 82 1, 53 24 1, 20 38 1, 80 67 1, 60 22 1, 54 82 1, 45 72 1, 88 89 1, 32 44 1,"
            "90 53 1, 31 74 1, 62 31 1, 66 72 1, 52 76 1, 32 45 1, 57 32 1, 25 45 1, 66 82 1,"
            "44 85 1, 84 23 1, 66 51 1, 75 58 1, 65 35 1, 31 84 1",
            (Bin(100, 100, 1),),
            0,
        ),
        340_000,
    ),
    "many copies": (
        order(
            "49 38 70, 53 22 60, 24 17 90, 34 44 55, 57 29 80, 22 47 75, 41 31 65, 29 19 85,"
            "60 15 45, 37 26 95",
            (Bin(100, 80, 1),),
            1,
        ),
        120_000,
    ),
}


def fingerprint(name: str, seed: int = 1) -> str:
    """Nest an order and return a digest of the whole answer."""
    problem, steps = ORDERS[name]
    found = nest(problem, seed=seed, stop=AfterSteps(steps))
    assert check_layouts(problem, found.layouts) == []
    return hashlib.sha256(repr(found).encode()).hexdigest()


def counted(monkeypatch: pytest.MonkeyPatch, owner: object, name: str) -> list[str]:
    """Have every call of a function noted in the list returned."""
    calls = list[str]()
    function: Callable[..., object] = getattr(owner, name)

    def wrapped(*args: object, **kwargs: object) -> object:
        calls.append(name)
        return function(*args, **kwargs)

    monkeypatch.setattr(owner, name, wrapped)
    return calls


@pytest.mark.slow
def test_plans_repeat_in_another_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """In another process, with text hashed otherwise, all plans come out the same to the last bit.

    Two orders get as far as the choice among priced fillings, one is planned from copies.
    """
    code = (
        "from tests.nesting.test_solve_repeats import ORDERS, fingerprint\n"
        "for name in ORDERS: print(fingerprint(name))\n"
    )
    hashing = "2" if os.environ.get("PYTHONHASHSEED") == "1" else "1"
    child = subprocess.Popen(
        [sys.executable, "-c", code],
        cwd=HOME,
        env={**os.environ, "PYTHONHASHSEED": hashing},
        stdout=subprocess.PIPE,
        text=True,
    )
    choices = counted(monkeypatch, ColumnSearch, "choose")
    bulks = counted(monkeypatch, solve, "plan_from_samples")
    here = []
    entered = []
    for name in ORDERS:
        here.append(fingerprint(name))
        entered.append((bool(choices), bool(bulks)))
        choices.clear()
        bulks.clear()
    there, _ = child.communicate(timeout=120)
    assert child.returncode == 0
    assert here == there.split()
    assert entered[:2] == [(True, False), (True, False)]
    assert entered[2][1]
    assert (
        sum(item.qty for item in ORDERS["many copies"][0].items) >= SamplingParameters().from_panels
    )


@pytest.mark.slow
def test_another_seed_is_another_search() -> None:
    """The seed is used: with many copies, two seeds do not lead to the same layouts."""
    assert fingerprint("many copies", 1) != fingerprint("many copies", 2)

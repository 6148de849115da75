"""Tests of the choice of fillings, relaxed and in whole numbers, on published rolls."""

from __future__ import annotations

import time
from itertools import product
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray

from cutlist.nesting.columns.choosing import RelaxedChoice, WorkCharge, choose
from tests.nesting.bounds.instances import ROLLS, Roll

Column = tuple[int, NDArray[np.int32]]
EFFORT = 20


def never() -> bool:
    """Go on."""
    return False


def column(*counts: int, which: int = 0) -> Column:
    """Return a filling of a bin."""
    return which, np.array(counts, np.int32)


def demand(*counts: int) -> NDArray[np.int64]:
    """Return the wanted number of panels of each item."""
    return np.array(counts, np.int64)


def patterns(roll: Roll) -> list[Column]:
    """Return every filling of a roll to which no piece can be added."""
    sizes = [size for size, _ in roll.pieces]
    found = []

    def extend(counts: list[int], left: int) -> None:
        if len(counts) == len(sizes):
            if left < min(sizes):
                found.append(column(*counts))
            return
        for number in range(left // sizes[len(counts)] + 1):
            extend([*counts, number], left - number * sizes[len(counts)])

    extend([], roll.length)
    return found


@pytest.mark.parametrize("roll", ROLLS, ids=lambda roll: roll.name)
def test_rolls(roll: Roll) -> None:
    """With all patterns the relaxed value is the published one, and so is the whole number."""
    wanted = demand(*(number for _, number in roll.pieces))
    columns = patterns(roll)
    master = RelaxedChoice(wanted, [1], [None])
    for which, counts in columns:
        assert master.add(which, counts)
    value, duals, _ = master.solve()
    assert value == pytest.approx(roll.linear, abs=5e-3)
    assert duals @ wanted == pytest.approx(value)
    assert max(float(duals @ counts) for _, counts in columns) <= 1 + 1e-6
    uses = master.uses()
    assert uses.sum() == pytest.approx(value)
    assert (sum(u * c for u, (_, c) in zip(uses, columns, strict=True)) >= wanted - 1e-6).all()
    chosen = choose(wanted, columns, [1], [None], roll.optimum, EFFORT, never)
    assert chosen is not None
    assert sum(chosen) == roll.optimum
    held = sum(n * counts for n, (_, counts) in zip(chosen, columns, strict=True))
    assert (held >= wanted).all()
    assert choose(wanted, columns, [1], [None], roll.optimum - 1, EFFORT, never) is None


def test_a_filling_is_added_once() -> None:
    """The same panels on another bin are another filling."""
    master = RelaxedChoice(demand(3, 3), [5, 6], [None, None])
    assert master.add(*column(1, 2))
    assert not master.add(*column(1, 2))
    assert master.add(*column(1, 2, which=1))
    assert master.add(*column(2, 1))
    assert [which for which, _ in master.columns] == [0, 1, 0]


def test_one_bin_more_is_worth_what_it_saves() -> None:
    """Two cheap bins at 1 and then dear ones at 5: a third cheap one would save 4."""
    master = RelaxedChoice(demand(6), [1, 5], [2, None])
    master.add(*column(1))
    master.add(*column(1, which=1))
    value, duals, limits = master.solve()
    assert value == pytest.approx(2 * 1 + 4 * 5)
    assert duals.tolist() == pytest.approx([5])
    assert limits.tolist() == pytest.approx([-4, 0])
    assert master.uses().tolist() == pytest.approx([2, 4])


def test_what_no_filling_holds_is_dearer_than_any_bin() -> None:
    """Before there are fillings, every panel is worth more than the dearest bin."""
    master = RelaxedChoice(demand(2, 1), [3, 7], [None, None])
    _, duals, _ = master.solve()
    assert (duals > 7).all()


def test_whole_numbers_keep_to_stock_and_budget() -> None:
    """The cheap bins are used as far as they go; with one less in stock the budget is too small."""
    columns = [column(2), column(2, which=1)]
    assert choose(demand(6), columns, [1, 4], [2, None], 6, EFFORT, never) == [2, 1]
    assert choose(demand(6), columns, [1, 4], [1, None], 6, EFFORT, never) is None
    assert choose(demand(6), columns, [1, 4], [1, None], 9, EFFORT, never) == [1, 2]
    assert choose(demand(6), columns, [1, 4], [3, 0], 3, EFFORT, never) == [3, 0]


def test_a_panel_on_no_filling_cannot_be_had() -> None:
    """Then there is no choice at any cost."""
    assert choose(demand(1, 1), [column(1, 0)], [1], [None], 99, EFFORT, never) is None


@pytest.mark.slow
def test_the_choice_ends_when_told() -> None:
    """A hard choice with a large effort is given up at once where it is told so at once.

    Given four seconds, the same choice takes more than twice as long.
    """
    random = np.random.default_rng(5)
    wanted = np.full(40, 7, np.int64)
    columns = [(0, np.minimum(random.poisson(0.3, 40), 7).astype(np.int32)) for _ in range(400)]
    columns = [(which, counts) for which, counts in columns if counts.any()]
    columns += [(0, row) for row in np.eye(40, dtype=np.int32)]
    master = RelaxedChoice(wanted, [1], [None])
    for which, counts in columns:
        master.add(which, counts)
    value, _, _ = master.solve()

    def seconds(allowed: float) -> float:
        started = time.monotonic()
        end = started + allowed
        most = int(np.ceil(value))
        choose(wanted, columns, [1], [None], most, 10**6, lambda: time.monotonic() > end)
        return time.monotonic() - started

    assert 2 * seconds(0) < seconds(4)


def paid(columns: list[Column], costs: list[int], charge: WorkCharge, uses: list[int]) -> int:
    """Return what a choice costs with the work beyond what is free."""
    own = sum(costs[which] * times for (which, _), times in zip(columns, uses, strict=True))
    return own + charge.rate * max(0, work_of(charge, uses) - charge.free)


def work_of(charge: WorkCharge, uses: list[int]) -> int:
    """Return the pieces of work of a choice."""
    return sum(number * times for number, times in zip(charge.pieces, uses, strict=True))


def by_trying(
    wanted: NDArray[np.int64],
    columns: list[Column],
    costs: list[int],
    stock: list[int | None],
    charge: WorkCharge,
) -> tuple[int, int] | None:
    """Return the least cost with its charge, and the least work at that cost, of all choices."""
    best: tuple[int, int] | None = None
    for uses in product(range(int(wanted.max()) + 1), repeat=len(columns)):
        held = sum(n * counts for n, (_, counts) in zip(uses, columns, strict=True))
        used = [0] * len(stock)
        for times, (which, _) in zip(uses, columns, strict=True):
            used[which] += times
        if any(most is not None and n > most for n, most in zip(used, stock, strict=True)):
            continue
        if (held >= wanted).all():
            rank = (paid(columns, costs, charge, list(uses)), work_of(charge, list(uses)))
            best = rank if best is None else min(best, rank)
    return best


@pytest.mark.slow
@pytest.mark.parametrize("dear", [9, 20_000], ids=["small costs", "large costs"])
def test_charged_work_beside_every_choice(dear: int) -> None:
    """The cheapest with its charge, and of equal ones the least work, as trying all finds it.

    Whole costs of thousands that differ by one are told apart as well as small ones.
    """
    random = Random(dear)
    for _ in range(60):
        number, kinds = random.randint(2, 5), random.randint(1, 2)
        wanted = demand(*(random.randint(1, 3) for _ in range(2)))
        columns = [
            column(random.randint(0, 2), random.randint(0, 2), which=random.randrange(kinds))
            for _ in range(number)
        ]
        columns = [one for one in columns if one[1].any()]
        costs = [dear - random.randint(0, 4) for _ in range(kinds)]
        stock = [random.choice((None, 1, 2)) for _ in range(kinds)]
        pieces = [random.randint(0, 30) for _ in columns]
        charge = WorkCharge(pieces, random.randint(0, 12), random.choice((0, 1, 3)))
        best = by_trying(wanted, columns, costs, stock, charge)
        chosen = choose(wanted, columns, costs, stock, 10**6, EFFORT, never, charge)
        if best is None:
            assert chosen is None
            continue
        assert chosen is not None
        assert (paid(columns, costs, charge, chosen), work_of(charge, chosen)) == best
        # The budget counts the charge, too.
        assert choose(wanted, columns, costs, stock, best[0] - 1, EFFORT, never, charge) is None
        assert choose(wanted, columns, costs, stock, best[0], EFFORT, never, charge) is not None


def test_work_without_a_rate_decides_between_equal_costs() -> None:
    """Where work costs nothing, still the less of it is chosen."""
    columns = [column(1), column(1, which=1)]
    for pieces in ((3, 2), (2, 3)):
        chosen = choose(
            demand(4), columns, [5, 5], [None, None], 99, EFFORT, never, WorkCharge(pieces, 0, 0)
        )
        assert chosen == ([4, 0] if pieces[0] < pieces[1] else [0, 4])


def test_free_work_is_used_up_first() -> None:
    """With three pieces free a sheet at 10 with one cut is dearer only from the fourth on.

    The other sheet costs 11 and needs no cut, at 2 for each cut that is paid.
    """
    columns = [column(1), column(1, which=1)]
    charge = WorkCharge([1, 0], 3, 2)
    chosen = choose(demand(5), columns, [10, 11], [None, None], 99, EFFORT, never, charge)
    assert chosen == [3, 2]

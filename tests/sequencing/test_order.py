"""The order of settings against exhaustive search, and against published supersequences."""

from __future__ import annotations

from itertools import permutations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.sequencing.forest import Forest
from cutlist.sequencing.order import Order, order_settings
from tests.sequencing.forests import (
    DONE,
    Task,
    add_task,
    chain,
    count,
    every_forest,
    fewest,
    follows,
    forests,
)


def ordered(tasks: tuple[Task, ...], expansions: int = 4000) -> Order:
    """Order the settings of a forest given as plain data."""
    forest = Forest()
    roots = [add_task(forest, task) for task in tasks]
    return order_settings(forest, roots, expansions=expansions)


@pytest.mark.parametrize(("cuts", "settings"), [(1, 3), (2, 3), (3, 3), (4, 2), (5, 1)])
def test_every_small_forest(cuts: int, settings: int) -> None:
    """Of every forest of so many cuts the order found is as short as any, and proven."""
    every = list(every_forest(cuts, settings))
    assert len(every) >= settings**cuts
    for tasks in every:
        order = ordered(tasks)
        assert follows(tasks, order.settings), tasks
        assert len(order.settings) == order.bound == fewest(tasks), tasks


@pytest.mark.slow
@given(forests(cuts=9, settings=4))
@settings(max_examples=250, deadline=None)
def test_random_forests(tasks: tuple[Task, ...]) -> None:
    """Of a random forest of up to nine cuts the order found is as short as any, and proven."""
    order = ordered(tasks)
    assert follows(tasks, order.settings)
    assert order.is_proven
    assert len(order.settings) == fewest(tasks)


@pytest.mark.slow
@given(forests(cuts=8, settings=4), st.integers(0, 4))
@settings(max_examples=150, deadline=None)
def test_bound_without_allowance(tasks: tuple[Task, ...], expansions: int) -> None:
    """Cut short, the search still gives a sound order, and claims no more than is true."""
    order = ordered(tasks, expansions)
    optimum = fewest(tasks)
    assert follows(tasks, order.settings)
    assert order.bound <= optimum <= len(order.settings)
    assert order.is_proven == (order.bound == len(order.settings))


def test_last_spare_branch_comes_free() -> None:
    """The setting that takes all others off a spare piece also works on the one that remains."""
    last = Task(((2, Task(((1, DONE),), DONE)), (1, DONE)), None, is_spare=True)
    order = ordered((Task(((1, DONE), (1, DONE)), last),))
    assert order.settings == (1,)
    assert order.bound == 1


#: Shortest common supersequences of strings, each string a chain of cuts.
PUBLISHED = [
    # Rosalind, glossary, "Shortest common supersequence".
    (("ACGTC", "ATAT"), 7),
    # HDU online judge, problem 1560 "DNA sequence", example; length found by exhaustive search.
    (("ACGT", "ATGC", "CGTT", "CAGT"), 8),
    # Jutge (UPC Barcelona), problem X40399 by J. L. Balcázar, examples.
    (("forward", "backward"), 11),
    (("blinding", "lights"), 11),
    (("hello", "geek"), 8),
    (("bleed", "blue"), 6),
    (("ACTCAAG", "TCCAGA"), 9),
    (("AGGTAB", "GXTXAYB"), 9),
    # The pair of the algorithms textbooks, whose longest common subsequence is 4: 7 + 6 - 4.
    (("ABCBDAB", "BDCABA"), 9),
]


@pytest.mark.parametrize(("strings", "length"), PUBLISHED)
def test_published_supersequences(strings: tuple[str, ...], length: int) -> None:
    """Chains of cuts need as many settings as their letters' shortest common supersequence has.

    Where a string has a letter twice in a row one visit serves both cuts. There the published
    length holds the search over positions to the source, and that search the order.
    """
    assert supersequence(strings) == length
    tasks = tuple(chain(text) for text in strings)
    order = ordered(tasks)
    assert follows(tasks, order.settings)
    once = tuple(collapsed(text) for text in strings)
    assert len(order.settings) == order.bound == supersequence(once)
    if once == strings:
        assert len(order.settings) == length


def supersequence(strings: tuple[str, ...]) -> int:
    """Return the length of the shortest common supersequence, by breadth-first search."""
    level = {(0,) * len(strings)}
    goal = tuple(len(text) for text in strings)
    letters = set("".join(strings))
    length = 0
    while goal not in level:
        level = {
            tuple(
                at + (text[at : at + 1] == letter) for text, at in zip(strings, places, strict=True)
            )
            for places in level
            for letter in letters
        }
        length += 1
    return length


@pytest.mark.parametrize(("letters", "length"), [("A", 1), ("AB", 3), ("ABC", 7), ("ABCD", 12)])
def test_supersequence_of_all_permutations(letters: str, length: int) -> None:
    """All permutations of n letters together need 1, 3, 7, 12 settings.

    M. Newey, "Notes on a problem involving permutations as subsequences", Stanford 1973; the
    lengths for n up to 4 checked by exhaustive search.
    """
    tasks = tuple(chain("".join(text)) for text in permutations(letters))
    order = ordered(tasks)
    assert follows(tasks, order.settings)
    assert len(order.settings) == order.bound == length


def test_five_letters() -> None:
    """All permutations of five letters together need 19 settings, and no bound is above that.

    Newey's length for n = 5 (OEIS A062714, from memory). The string of the greedy kind that goes
    through the letters again and again is longer; the search has to find less.
    """
    tasks = tuple(chain("".join(text)) for text in permutations("ABCDE"))
    order = ordered(tasks, expansions=300)
    assert follows(tasks, order.settings)
    assert order.bound <= 19 <= len(order.settings) <= 21


def supersequence_of_two(first: str, second: str) -> int:
    """Return the length of a shortest common supersequence of two strings, by the textbook table.

    Cormen, Leiserson, Rivest and Stein, Introduction to Algorithms, section on the longest common
    subsequence; the length is m + n less that of the common subsequence (from memory).
    """
    return len(first) + len(second) - common_subsequence(first, second)


@pytest.mark.parametrize(
    ("first", "second"),
    [("XMJYAUZ", "MZJAWXU"), ("ACCGGTCGAGTGCGCGGAAGCCGGCCGAA", "GTCGTTCGGAATGCCGTTGCTCTGTAAA")],
)
def test_longer_pairs(first: str, second: str) -> None:
    """Pairs that textbooks show common subsequences of, the second the two strands of CLRS."""
    once = collapsed(first), collapsed(second)
    order = ordered((chain(first), chain(second)))
    assert order.is_proven
    assert len(order.settings) == supersequence_of_two(*once)


#: Work at the router: what each panel needs, bit by bit, in this order.
ROUTER = {
    "side": ("straight 18", "straight 6", "round-over"),
    "shelf": ("straight 18", "round-over"),
    "back frame": ("rabbet", "straight 6"),
    "door": ("straight 6", "hinge cup", "round-over"),
    "drawer front": ("round-over", "straight 6"),
}


def test_bits_of_a_router() -> None:
    """The engine orders bench work too: six bits, one of them put in twice, for five panels.

    The drawer front is rounded over before its groove is cut with the 6 mm bit, the door and the
    side want it the other way round: one of the two bits has to come back.
    """
    bits = sorted({bit for work in ROUTER.values() for bit in work})
    tasks = tuple(chain(tuple(bits.index(bit) for bit in work)) for work in ROUTER.values())
    order = ordered(tasks)
    assert follows(tasks, order.settings)
    assert len(order.settings) == order.bound == fewest(tasks) == len(bits) + 1
    back = [bits[n] for n in set(order.settings) if order.settings.count(n) > 1]
    assert back in (["round-over"], ["straight 6"])


def common_subsequence(first: str, second: str) -> int:
    """Return the length of the longest common subsequence, by the textbook table."""
    row = [0] * (len(second) + 1)
    for a in first:
        above = row
        row = [0]
        for column, b in enumerate(second):
            row.append(above[column] + 1 if a == b else max(above[column + 1], row[column]))
    return row[-1]


@given(st.text("abcd", max_size=9), st.text("abcd", max_size=9))
@settings(max_examples=150, deadline=None)
def test_two_strings(first: str, second: str) -> None:
    """Two chains need m + n less their longest common subsequence (identity of the textbooks)."""
    order = ordered((chain(first), chain(second)))
    shorter = common_subsequence(collapsed(first), collapsed(second))
    assert order.is_proven
    assert len(order.settings) == len(collapsed(first)) + len(collapsed(second)) - shorter


def collapsed(text: str) -> str:
    """Make one letter of neighbours that are equal: one visit serves both."""
    return "".join(a for a, b in zip(text, text[1:] + " ", strict=False) if a != b)


def cabinet() -> tuple[Task, ...]:
    """Return three sheets of a cabinet's parts: 30 cuts, rips that release crosscuts."""

    def row(*settings: int) -> Task:
        return Task(tuple((setting, DONE) for setting in settings), DONE)

    first = ((24, row(30, 30, 28)), (12, row(30, 14)), (6, row(24, 20)))
    second = ((20, row(28, 28)), (14, row(30, 12)), (12, row(20, 20, 6)))
    third = ((24, row(14, 14)), (20, row(24, 30, 12)), (6, row(28, 20, 6, 6)), (4, row()))
    return tuple(Task(branches, DONE) for branches in (first, second, third))


def test_thirty_cuts_are_proven() -> None:
    """A job of thirty cuts is proven within a small part of the nodes that are usual."""
    tasks = cabinet()
    order = ordered(tasks, 400)
    assert order.is_proven
    assert follows(tasks, order.settings)


def many_rows(sheets: int, rows: int, cells: int, seed: int) -> tuple[Task, ...]:
    """Return sheets ripped into rows, each crosscut: sizes drawn from those of a few cabinets."""
    random = Random(seed)
    sizes = random.sample(range(100, 900), 16)

    def row() -> Task:
        return Task(tuple((random.choice(sizes[5:]), DONE) for _ in range(cells)), DONE)

    return tuple(
        Task(tuple((random.choice(sizes[:8]), row()) for _ in range(rows)), DONE)
        for _ in range(sheets)
    )


@pytest.mark.parametrize("seed", range(6))
def test_eighty_cuts_are_proven(seed: int) -> None:
    """A job of eighty cuts is proven within the nodes that are usual."""
    tasks = many_rows(5, 4, 3, seed)
    assert sum(count(task) for task in tasks) == 80
    order = ordered(tasks)
    assert order.is_proven
    assert follows(tasks, order.settings)


def test_nothing_to_do() -> None:
    """A forest of finished pieces needs no setting, and that is proven."""
    assert ordered((DONE, DONE)) == Order((), 0)
    assert ordered(()) == Order((), 0)


@pytest.mark.slow
@given(forests(cuts=8, settings=4))
@settings(max_examples=80, deadline=None)
def test_equal_pieces_need_nothing_more(tasks: tuple[Task, ...]) -> None:
    """The same pieces twice need the settings of the pieces once."""
    assert len(ordered(tasks + tasks).settings) == len(ordered(tasks).settings)

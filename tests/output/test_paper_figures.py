"""Every figure in a set-up's block on paper stands in ``plan.json``.

The figures are taken out of the lettering of the pages, as a reader sees them, and looked up among
the numbers of the file; nothing that composed the page is asked.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from cutlist.drawing.pages.sequence_pages import sequence_pages
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Role
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import to_text
from cutlist.planning.make import make_plan
from cutlist.units.system import Units
from tests.drawing import extras
from tests.drawing.checks import texts
from tests.drawing.plans import all_plans
from tests.drawing.random_plans import random_plan
from tests.random_jobs import random_job, with_small_car

#: 23 5/8 or 5/8 or 23.625; a figure that is part of a name, such as A12 or 3-4, is none.
FIGURE = re.compile(r"(?<![\w./-])(?:(\d+) (\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d+)?))(?![\w/-])")
#: Words whose figures count things: rips, crosscuts, panels, pieces.
COUNTED = re.compile(r"(\d+) (?:rip|crosscut|offcut|panel|other piece|of its pieces|along|at the)")


def numbers(value: Any) -> Iterator[Fraction]:
    """Yield every number of a document, whatever it stands for."""
    if isinstance(value, dict):
        for item in value.values():
            yield from numbers(item)
    elif isinstance(value, list):
        for item in value:
            yield from numbers(item)
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield Fraction(value)


def figures(words: str) -> Iterator[Fraction]:
    """Yield the figures of a text."""
    for whole, above, below, top, bottom, plain in FIGURE.findall(words):
        if plain:
            yield Fraction(plain)
        elif top:
            yield Fraction(int(top), int(bottom))
        else:
            yield int(whole) + Fraction(int(above), int(below))


def blocks_of(plan: Plan) -> list[str]:
    """Return the lettering of the blocks, item by item: heads and rows, not what stands around."""
    said: list[str] = []
    names = {panel.part for panel in plan.panels}
    for page in sequence_pages(read_ledger(plan), A4):
        is_block = False
        for text in texts(page):
            if text.role is Role.FOOTER:
                continue
            if text.content == "setting":
                is_block = True
            if text.content.startswith(("All ", "The panel is finished", "Distances set")):
                is_block = False
            if is_block:
                words = text.content
                for name in names:
                    words = words.replace(name, "")
                said.append(words)
    return said


def check(plan: Plan) -> int:
    """Look every figure up; return how many there were."""
    document = json.loads(to_text(plan))
    document["job"] = {"name": ""}
    there = sorted(set(numbers(document)))
    # A size is printed to the marks of the scale, or to half a millimetre where that is finer.
    scale = plan.job.saw.scale or Fraction(1, 64 if plan.job.units is Units.INCH else 10)
    counts = {Fraction(number) for number in range(plan.totals.cuts + plan.totals.parts + 1)}
    found = 0
    for words in blocks_of(plan):
        bare = COUNTED.sub("", words)
        for figure in figures(bare):
            found += 1
            slack = scale / 2 if "≈" in words else Fraction(1, 10**6)
            at = bisect_left(there, figure - slack)
            is_there = at < len(there) and there[at] <= figure + slack
            is_count = " of " in words and figure in counts
            assert is_there or is_count, (words, str(figure))
    return found


@pytest.mark.parametrize("name", sorted(set(all_plans()) - {"uncut"}))
def test_figures_of_plans_made_by_hand(name: str) -> None:
    """Distances, marks, sizes, what is left and what comes off, kerfs, numbers."""
    assert check(all_plans()[name]) > 20


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_figures_of_random_plans(seed: int) -> None:
    """The same where sizes and saws are random."""
    assert check(random_plan(seed)) > 5
    assert check(extras.with_saws(random_plan(seed))) > 5


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(8))
def test_figures_of_planned_jobs(seed: int) -> None:
    """The same as the search plans: rough edges, remainders, sizes off the scale."""
    job = random_job(seed)
    job = with_small_car(job, seed) if seed % 2 else job
    assert check(make_plan(job, allowance=Allowance(None, 300))) > 5


def test_a_figure_that_is_not_in_the_file_is_found() -> None:
    """The check is one that can fail: 7 3/16 stands nowhere in the small plan."""
    assert list(figures('take 7 3/16" off A12, 5/8 left, cut 3.5 × 4')) == [
        Fraction(115, 16), Fraction(5, 8), Fraction(7, 2), 4,
    ]  # fmt: skip
    plan = all_plans()["small"]
    assert Fraction(115, 16) not in set(numbers(json.loads(to_text(plan))))
    first = plan.settings[0]
    other = replace(first, mark=first.mark + 7)
    composed = blocks_of(replace(plan, setups=(other, *plan.setups[1:])))
    there = set(numbers(json.loads(to_text(plan))))
    assert any(one not in there for words in composed for one in figures(words))

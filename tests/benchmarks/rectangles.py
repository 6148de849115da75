"""What a general rectangle-packing library makes of an instance: rectpack, guillotine variants.

The library's figures do not change from run to run, so they are kept in a file outside the tree.
"""

from __future__ import annotations

import hashlib
import json
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from rectpack import PackingBin, PackingMode, guillotine, newPacker

if TYPE_CHECKING:
    from cutlist.nesting.problem import Problem

DEFAULT_CACHE = Path.home() / ".cache" / "cutlist-benchmarks" / "rectpack.json"

VARIANTS = tuple(
    f"Guillotine{fit}{split}"
    for fit in ("Baf", "Blsf", "Bssf")
    for split in ("Las", "Llas", "Maxas", "Minas", "Sas", "Slas")
)
"""Three choices of the free rectangle times six ways to split what is left."""


class Library:
    """Answers from the library, or from the file of earlier answers."""

    def __init__(self, cache: Path | None = DEFAULT_CACHE) -> None:
        self._cache = cache
        self._known: dict[str, int | None] = {}
        self._new = 0
        if cache is not None and cache.exists():
            self._known = json.loads(cache.read_text(encoding="utf-8"))

    def cost(self, problem: Problem, *, greedy: bool = False) -> int | None:
        """Return the least cost over all variants; None where none cuts everything.

        Parameters
        ----------
        problem
            ``turnable`` must be the same for all items, as the library turns all or none.
        greedy
            For several sizes of sheets: take one sheet after another, each time the one that is
            cheapest for the area put on it. Otherwise the best single size is meant.
        """
        key = self._key(problem, greedy=greedy)
        if key not in self._known:
            self._known[key] = _greedy(problem) if greedy else _single(problem)
            self._new += 1
            if self._new % 20 == 0:
                self.save()
        return self._known[key]

    def save(self) -> None:
        """Write the file of answers."""
        if self._cache is not None and self._new:
            self._cache.parent.mkdir(parents=True, exist_ok=True)
            self._cache.write_text(json.dumps(self._known), encoding="utf-8")

    @staticmethod
    def _key(problem: Problem, *, greedy: bool) -> str:
        text = f"{version('rectpack')} {len(VARIANTS)} {greedy} {problem}"
        return hashlib.sha256(text.encode()).hexdigest()[:24]


def _pack(
    variant: str,
    sheet: tuple[int, int, int],
    sizes: list[tuple[int, int]],
    turned: bool,
) -> list[list[int]]:
    """Pack numbered rectangles into up to ``sheet[2]`` sheets; return the numbers on each."""
    packer = newPacker(
        mode=PackingMode.Offline,
        bin_algo=PackingBin.BBF,
        pack_algo=getattr(guillotine, variant),
        rotation=turned,
    )
    packer.add_bin(sheet[0], sheet[1], count=sheet[2])
    for number, (length, width) in enumerate(sizes):
        packer.add_rect(length, width, rid=number)
    packer.pack()
    return [[rectangle.rid for rectangle in used] for used in packer if len(used)]


def _sizes(problem: Problem) -> tuple[list[tuple[int, int]], bool]:
    """Return the grown panels, and whether they turn."""
    if len({item.turnable for item in problem.items}) > 1:
        raise ValueError("the library turns all rectangles or none")
    kerf = problem.kerf
    sizes = [(i.length + kerf, i.width + kerf) for i in problem.items for _ in range(i.qty)]
    return sizes, problem.items[0].turnable


def _single(problem: Problem) -> int | None:
    """Return the least cost with sheets of a single size."""
    sizes, turned = _sizes(problem)
    best: int | None = None
    for bin_ in problem.bins:
        count = len(sizes) if bin_.available is None else min(len(sizes), bin_.available)
        sheet = (bin_.length + problem.kerf, bin_.width + problem.kerf, count)
        for variant in VARIANTS:
            sheets = _pack(variant, sheet, sizes, turned)
            if sum(len(s) for s in sheets) == len(sizes):
                cost = len(sheets) * bin_.cost
                best = cost if best is None else min(best, cost)
    return best


def _greedy(problem: Problem) -> int | None:
    """Return the cost of taking the sheet with the cheapest used area, again and again."""
    sizes, turned = _sizes(problem)
    left = [bin_.available for bin_ in problem.bins]
    cost = 0
    while sizes:
        choice: tuple[float, int, list[int]] | None = None
        for kind, bin_ in enumerate(problem.bins):
            if left[kind] == 0:
                continue
            sheet = (bin_.length + problem.kerf, bin_.width + problem.kerf, 1)
            for variant in VARIANTS:
                for used in _pack(variant, sheet, sizes, turned):
                    area = sum(sizes[number][0] * sizes[number][1] for number in used)
                    if choice is None or bin_.cost / area < choice[0]:
                        choice = (bin_.cost / area, kind, used)
        if choice is None:
            return None
        _, kind, used = choice
        stock = left[kind]
        left[kind] = None if stock is None else stock - 1
        cost += problem.bins[kind].cost
        gone = set(used)
        sizes = [size for number, size in enumerate(sizes) if number not in gone]
    return cost

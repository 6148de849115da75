"""Break-down and layout together: which sheets to buy, how the store cuts them, what lies where.

Sheets are laid out whole first: no plan with blanks needs less. Then, from that purchase upwards,
it is asked whether all panels lie on the blanks of so many sheets, over patterns that follow the
whole layouts, plain ones, and random ones near the best seen. What falls short tells which of them
are nearer.
"""

from __future__ import annotations

import heapq
import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from cutlist.errors import StoppedError
from cutlist.model.job import Sheet
from cutlist.model.layout import Axis, Layout
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.problem import Problem
from cutlist.nesting.reach import fits
from cutlist.nesting.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.planning.blanks import (
    BrokenSheet,
    kinds_of,
    renumbered,
    with_pattern,
    without_idle,
)
from cutlist.planning.patterns import Limits, Pattern, count_of, sizes_of, whole
from cutlist.planning.purchase import Broken, Purchase
from cutlist.planning.splitting import Splitter
from cutlist.sequencing.fence import Fence

#: Steps of a look whether all panels lie on some blanks: so many for every so many panels begun.
_LOOK = 512
_PANELS_A_LOOK = 40
#: Share of the looks that follow another whole layout.
_GUIDED = 0.5
#: What a look counts for that ends at once.
_LOST_LOOK = 64
#: Looks at a purchase before a dearer one is tried, and in each turn after one is known to do.
_FIRST_LOOKS = 8
_LATER_LOOKS = 24
#: Turns of a purchase without coming nearer before it is given up.
_PATIENCE = 40
#: Looks in a row for fewer cuts at the store before nothing more is expected.
_TIDY_LOOKS = 24


class BreakDown:
    """Searches the cheapest sheets on whose blanks all panels lie.

    Parameters
    ----------
    problem
        The parts, with whole sheets and offcuts for bins.
    stock
        For each bin the sheet, or None for an offcut on hand.
    sizes
        For each bin the full length and width, and the trim.
    limits, fence
        Store and vehicle, and the shop.
    seed
        With equal seeds and no early end, equal answers.
    """

    def __init__(
        self,
        problem: Problem,
        stock: Sequence[Sheet | None],
        sizes: Sequence[tuple[int, int, int]],
        limits: Limits,
        fence: Fence,
        *,
        seed: int,
    ) -> None:
        self._problem = problem
        self._stock = stock
        self._limits = limits
        self._fence = fence
        self._rng = random.Random(seed)
        self._seed = seed
        self._splitters = {
            kind: Splitter(whole(*sizes[kind]), limits.of_sheet(sheet), problem.items, problem.kerf)
            for kind, sheet in enumerate(stock)
            if sheet is not None
        }
        self._offcuts = [piece for piece, of in zip(problem.bins, stock, strict=True) if of is None]
        self._holding: dict[tuple[int, int], list[Pattern]] = {}
        self._most_sheets = 0
        panels = sum(item.qty for item in problem.items)
        self._look_steps = _LOOK * (1 + panels // _PANELS_A_LOOK)
        self.steps = 0

    def search(
        self,
        layouts: Sequence[Layout],
        is_over: Callable[[], bool],
        was_asked: Callable[[], bool],
    ) -> Broken:
        """Return the cheapest answer found.

        Parameters
        ----------
        layouts
            The parts on whole sheets.
        is_over
            Ends the search once there is an answer.
        was_asked
            Ends it before.

        Raises
        ------
        StockTooSmallError
            The limited stock does not suffice, or no way was found to make it.
        StoppedError
            Asked to stop before there was an answer.
        """
        begin = self._beginning(layouts)
        # With a sheet more for each panel, and still some without a place, no more sheets help.
        panels = sum(item.qty for item in self._problem.items)
        self._most_sheets = sum(begin.counts) + panels
        found = self._first(begin, was_asked)
        found = self._cheapest(begin, found, is_over)
        return self._tidied(found, is_over)

    def _first(self, begin: Purchase, was_asked: Callable[[], bool]) -> Broken:
        """Return some answer: sheet by sheet more is bought until all panels have a place."""
        purchase: Purchase | None = begin
        nearest = begin
        while purchase is not None:
            if was_asked():
                raise StoppedError("stopped before there was a plan")
            found = self._turn(purchase, _FIRST_LOOKS, was_asked)
            if found is not None:
                return found
            nearest = purchase
            purchase = self._larger(purchase)
        short = Counter(nearest.lacking)
        raise StockTooSmallError(dict(sorted(short.items())), proven=False)

    def _larger(self, purchase: Purchase) -> Purchase | None:
        """Return a purchase with a sheet more: of those that hold what is lacking, the best buy."""
        if sum(purchase.counts) > self._most_sheets:
            return None
        best: tuple[tuple[bool, float], tuple[int, ...]] | None = None
        wanted = self._wanted(purchase)
        for number, (kind, splitter) in enumerate(self._splitters.items()):
            piece = self._problem.bins[kind]
            if piece.available is not None and purchase.counts[number] >= piece.available:
                continue
            holds = wanted is None or bool(self._held(kind, wanted))
            rank = (not holds, piece.cost / (splitter.sheet.length * splitter.sheet.width))
            counts = tuple(n + (place == number) for place, n in enumerate(purchase.counts))
            if best is None or rank < best[0]:
                best = (rank, counts)
        return None if best is None else self._after(purchase, best[1])

    def _cheapest(self, begin: Purchase, found: Broken, is_over: Callable[[], bool]) -> Broken:
        """Return an answer that costs no more: all cheaper purchases are looked at by turns."""
        heap = [(begin.cost, 0, begin)]
        seen = {begin.counts}
        tried: list[Purchase] = []
        while heap and heap[0][0] < self._cost(found.sheets) and not is_over():
            _, _, purchase = heapq.heappop(heap)
            better = self._turn(purchase, _LATER_LOOKS, is_over)
            if better is not None:
                # Nothing cheaper is left that was not looked at.
                found = min(found, better, key=lambda one: self._cost(one.sheets))
                break
            tried.append(purchase)
            for counts in self._dearer(purchase.counts):
                if counts not in seen:
                    seen.add(counts)
                    after = self._after(purchase, counts)
                    heapq.heappush(heap, (after.cost, len(seen), after))
        return self._by_turns(tried, found, is_over)

    def _by_turns(
        self, tried: list[Purchase], found: Broken, is_over: Callable[[], bool]
    ) -> Broken:
        """Return the cheapest answer after some more looks at each purchase."""
        while not is_over():
            tried = [
                one for one in tried if one.cost < self._cost(found.sheets) and one.idle < _PATIENCE
            ]
            if not tried:
                break
            for purchase in tried:
                before = purchase.short
                better = self._turn(purchase, _LATER_LOOKS, is_over)
                purchase.idle = 0 if purchase.short != before else purchase.idle + 1
                if better is not None:
                    found = min(found, better, key=lambda one: self._cost(one.sheets))
                    break
        return found

    def _tidied(self, found: Broken, is_over: Callable[[], bool]) -> Broken:
        """Return an answer on the same sheets with fewer cuts and settings at the store."""
        idle = 0
        while idle < _TIDY_LOOKS and not is_over():
            broken = self._rng.choice(found.sheets) if found.sheets else None
            if broken is None:
                break
            idle += 1
            same = [one.pattern for one in found.sheets if one.kind == broken.kind]
            patterns = [*dict.fromkeys(same), *self._splitters[broken.kind].seeds()]
            pattern = self._rng.choice(patterns)
            mix = list(found.sheets)
            mix[mix.index(broken)] = with_pattern(broken, pattern)
            if self._effort(mix) < self._effort(found.sheets):
                better, _, _ = self._look(renumbered(mix))
                if better is not None and len(better.sheets) <= len(found.sheets):
                    found, idle = better, 0
        return found

    def _effort(self, sheets: Sequence[BrokenSheet]) -> tuple[int, int]:
        """Return the store's cuts and distances of a mix, to compare it by."""
        distances = {size for one in sheets for size in sizes_of(one.pattern)}
        return sum(count_of(one.pattern) for one in sheets) + len(distances), len(distances)

    def parts_that_fit_nowhere(self) -> list[int]:
        """Return the items that fit no offcut and no blank that can be had."""
        return [
            index
            for index, item in enumerate(self._problem.items)
            if item.qty
            and not any(fits(self._problem, item, piece) for piece in self._offcuts)
            and not any(self._held(kind, index) for kind in self._splitters)
        ]

    def _beginning(self, layouts: Sequence[Layout]) -> Purchase:
        """Return the purchase of the whole layouts, broken down so as to follow them."""
        counts = Counter[int]()
        followed: list[BrokenSheet] = []
        for layout in layouts:
            if layout.stock in self._splitters:
                counts[layout.stock] += layout.copies
                followed += [self._following(layout)] * layout.copies
        return self._purchase(tuple(counts[kind] for kind in self._splitters), followed)

    def _after(self, purchase: Purchase, counts: tuple[int, ...]) -> Purchase:
        """Return a dearer purchase that begins where another one got to.

        What is bought more has a blank for a panel that is lacking, where that can be.
        """
        kept: list[BrokenSheet] = []
        for kind, count in zip(self._splitters, counts, strict=True):
            same = [one for one in purchase.mix if one.kind == kind][:count]
            pattern = self._splitters[kind].seeds()[0]
            wanted = self._wanted(purchase)
            if wanted is not None:
                held = self._held(kind, wanted)
                pattern = held[0] if held and pattern not in held else pattern
            kept += same + [self._broken(kind, pattern)] * (count - len(same))
        return self._purchase(counts, kept)

    def _wanted(self, purchase: Purchase) -> int | None:
        """Return what is lacking: of what fits no blank, or else of all, the largest."""
        lacking = purchase.lost or purchase.lacking
        return max(lacking, key=self._area) if lacking else None

    def _area(self, item: int) -> int:
        return self._problem.items[item].length * self._problem.items[item].width

    def _purchase(self, counts: tuple[int, ...], mix: Sequence[BrokenSheet]) -> Purchase:
        """Return a purchase to begin with a mix, and then with plain patterns."""
        openings = [renumbered(mix)]
        largest = max(range(len(self._problem.items)), key=self._area)
        plain = {kind: splitter.seeds() for kind, splitter in self._splitters.items()}
        roomy = {kind: self._held(kind, largest) or plain[kind] for kind in plain}
        for number, patterns in ((0, plain), (0, roomy), (1, plain), (2, plain), (3, plain)):
            same = [
                self._broken(kind, patterns[kind][number % len(patterns[kind])])
                for kind, count in zip(self._splitters, counts, strict=True)
                for _ in range(count)
            ]
            openings.append(tuple(same))
        price = sum(
            self._problem.bins[kind].cost * count
            for kind, count in zip(self._splitters, counts, strict=True)
        )
        return Purchase(counts, price, list(dict.fromkeys(openings)))

    def _dearer(self, counts: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        """Yield purchases of a sheet more, or of a dearer one instead of another."""
        kinds = list(self._splitters)
        prices = [self._problem.bins[kind].cost for kind in kinds]
        stocks = [self._problem.bins[kind].available for kind in kinds]
        for number, limit in enumerate(stocks):
            if limit is not None and counts[number] >= limit:
                continue
            yield tuple(count + (place == number) for place, count in enumerate(counts))
            for other, count in enumerate(counts):
                if count and prices[other] < prices[number]:
                    yield tuple(
                        n + (place == number) - (place == other) for place, n in enumerate(counts)
                    )

    def _broken(self, kind: int, pattern: Pattern) -> BrokenSheet:
        sheet = self._stock[kind]
        assert sheet is not None
        return BrokenSheet(kind, sheet, self._splitters[kind].sheet, pattern)

    def _turn(self, purchase: Purchase, looks: int, is_over: Callable[[], bool]) -> Broken | None:
        """Look at a purchase some more times; return an answer once there is one."""
        for _ in range(looks):
            if is_over():
                return None
            mix = purchase.openings.pop(0) if purchase.openings else self._changed(purchase)
            found, lacking, lost = self._look(mix)
            if found is not None:
                return found
            # Where nothing was packed it is farther off than anything that was.
            short = sum(self._area(item) for item in (*lacking, *lost))
            if purchase.short is None or short <= purchase.short:
                purchase.mix, purchase.short = mix, short
                purchase.lacking, purchase.lost = lacking, lost
        return None

    def _changed(self, purchase: Purchase) -> tuple[BrokenSheet, ...]:
        """Return the mix of a purchase with one sheet, now and then two, broken down otherwise."""
        rng = self._rng
        mix = list(purchase.mix)
        if not mix:
            return ()
        if rng.random() < _GUIDED:
            guided = self._guided(purchase)
            if guided is not None:
                return guided
        for _ in range(1 if rng.random() < 0.7 else 2):
            place = rng.randrange(len(mix))
            pattern = self._other_pattern(mix[place].kind, purchase)
            if rng.random() < 0.3:
                same = mix[place]
                mix = [with_pattern(one, pattern) if one == same else one for one in mix]
            else:
                mix[place] = with_pattern(mix[place], pattern)
        return renumbered(mix)

    def _guided(self, purchase: Purchase) -> tuple[BrokenSheet, ...] | None:
        """Return a mix that follows other whole layouts, on sheets less what the cuts take."""
        lost = self._limits.kerf + 2 * self._limits.accuracy
        counts = dict(zip(self._splitters, purchase.counts, strict=True))
        bins = []
        for kind, piece in enumerate(self._problem.bins):
            if kind in counts:
                less = [lost * self._rng.randint(0, 2) for _ in Axis]
                room = (max(1, piece.length - less[0]), max(1, piece.width - less[1]))
                piece = replace(piece, length=room[0], width=room[1], available=counts[kind])
            bins.append(piece)
        self._seed += 1
        problem = replace(self._problem, bins=tuple(bins))
        try:
            found = nest(problem, seed=self._seed, stop=AfterSteps(self._look_steps))
        except (ItemFitsNowhereError, StockTooSmallError):
            self.steps += self._look_steps
            return None
        self.steps += found.steps
        mix = []
        for layout in found.layouts:
            if layout.stock in counts:
                mix += [self._following(layout)] * layout.copies
                counts[layout.stock] -= layout.copies
        for kind, count in counts.items():
            mix += [self._broken(kind, self._splitters[kind].any_pattern(self._rng))] * count
        return renumbered(mix)

    def _following(self, layout: Layout) -> BrokenSheet:
        """Return a sheet broken down so as to follow a layout, or in the plain way."""
        splitter = self._splitters[layout.stock]
        pattern = splitter.after(layout.root)
        return self._broken(layout.stock, splitter.seeds()[0] if pattern is False else pattern)

    def _other_pattern(self, kind: int, purchase: Purchase) -> Pattern:
        rng = self._rng
        splitter = self._splitters[kind]
        wanted = purchase.lost or purchase.lacking
        if wanted and rng.random() < (0.7 if purchase.lost else 0.3):
            held = self._held(kind, rng.choice(wanted))
            if held:
                return rng.choice(held)
        return splitter.any_pattern(rng)

    def _held(self, kind: int, item: int) -> list[Pattern]:
        """Return patterns of a sheet with a blank for a part."""
        if (kind, item) not in self._holding:
            self._holding[kind, item] = self._splitters[kind].holding(self._problem.items[item])
        return self._holding[kind, item]

    def _look(
        self, mix: tuple[BrokenSheet, ...]
    ) -> tuple[Broken | None, tuple[int, ...], tuple[int, ...]]:
        """Return an answer on these sheets, or the panels without a place and the items lost."""
        kinds = kinds_of(mix, self._limits, self._fence)
        bins = (*(kind.bin for kind in kinds), *self._offcuts)
        problem = replace(self._problem, bins=bins, reach=self._fence.layout_reach)
        self._seed += 1
        try:
            found = nest(problem, seed=self._seed, stop=AfterSteps(self._look_steps))
        except ItemFitsNowhereError as error:
            self.steps += _LOST_LOOK
            everything = (i for i, item in enumerate(problem.items) for _ in range(item.qty))
            return None, tuple(everything), tuple(error.items)
        except StockTooSmallError as error:
            self.steps += self._look_steps
            lacking = (item for item, count in error.short.items() for _ in range(count))
            return None, tuple(lacking), ()
        self.steps += found.steps
        used = Counter[int]()
        for layout in found.layouts:
            used[layout.stock] += layout.copies
        counts = [used[number] for number in range(len(kinds))]
        needed = without_idle(mix, kinds, counts)
        if len(needed) < len(mix):
            again, _, _ = self._look(needed)
            if again is not None:
                return again, (), ()
        cost = sum(self._problem.bins[one.kind].cost for one in mix)
        nesting = replace(found, cost=cost, sheets=len(mix), bound=0, sheets_bound=0)
        return Broken(mix, kinds, problem, nesting), (), ()

    def _cost(self, sheets: Sequence[BrokenSheet]) -> int:
        return sum(self._problem.bins[one.kind].cost for one in sheets)

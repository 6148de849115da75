"""A first answer to what to buy: sheet by sheet more, until all panels have a place.

Beginning with what whole layouts buy, a few mixes of patterns are looked at: those that follow the
layouts, plain ones, and others near the best seen. What falls short tells which is nearer.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlist.breakdown.answer import LaidOutSheet, PurchaseTrial
from cutlist.breakdown.blanks import with_pattern
from cutlist.breakdown.parameters import USUAL_BREAKDOWN, FirstAnswerParameters
from cutlist.errors import StoppedError
from cutlist.model.layout import Axis, Layout
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps

if TYPE_CHECKING:
    from cutlist.breakdown.answer import BreakDownAnswer
    from cutlist.breakdown.blanks import BrokenSheet
    from cutlist.breakdown.patterns import Pattern
    from cutlist.breakdown.placing import Placer
    from cutlist.breakdown.store_sheets import StoreSheets


class FirstAnswer:
    """Looks for an answer, whatever it costs.

    Parameters
    ----------
    sheets
        What can be bought.
    placer
        Looks whether the panels find a place.
    seed
        With equal seeds, equal answers.
    parameters
        What it is tuned by.

    Attributes
    ----------
    steps
        Steps of search spent beside those of the placer.
    """

    def __init__(
        self,
        sheets: StoreSheets,
        placer: Placer,
        seed: int,
        parameters: FirstAnswerParameters = USUAL_BREAKDOWN.first,
    ) -> None:
        self._parameters = parameters
        self._sheets = sheets
        self._placer = placer
        self._rng = random.Random(seed)
        self._seed = seed
        self._most_sheets = 0
        self.steps = 0

    def beginning(self, layouts: Sequence[Layout]) -> PurchaseTrial:
        """Return the purchase of whole layouts, broken down so as to follow them."""
        counts = Counter[int]()
        followed: list[BrokenSheet] = []
        for layout in layouts:
            if layout.stock in self._sheets.splitters:
                counts[layout.stock] += layout.copies
                followed += [self._sheets.following(layout)] * layout.copies
        return self._purchase(tuple(counts[kind] for kind in self._sheets.splitters), followed)

    def search(self, begin: PurchaseTrial, was_asked: Callable[[], bool]) -> BreakDownAnswer:
        """Return an answer.

        Raises
        ------
        StockTooSmallError
            The limited stock does not suffice, or no way was found to make it.
        StoppedError
            Asked to stop before there was an answer.
        """
        # With a sheet more for each panel, and still some without a place, no more sheets help.
        self._most_sheets = sum(begin.counts) + self._sheets.panels
        purchase: PurchaseTrial | None = begin
        nearest = begin
        while purchase is not None:
            found = self._tried(purchase, was_asked)
            if found is not None:
                return found
            nearest = purchase
            purchase = self._larger(purchase)
        short = Counter(nearest.lacking)
        raise StockTooSmallError(dict(sorted(short.items())), proven=False)

    def _tried(
        self, purchase: PurchaseTrial, was_asked: Callable[[], bool]
    ) -> BreakDownAnswer | None:
        """Look at a purchase some times; return an answer once there is one."""
        for _ in range(
            max(self._parameters.tries, self._parameters.try_steps // self._placer.usual)
        ):
            if was_asked():
                raise StoppedError("stopped before there was a plan")
            mix = purchase.openings.pop(0) if purchase.openings else self._changed(purchase)
            seen = self._placer.place([LaidOutSheet(sheet) for sheet in mix])
            if seen.found is not None:
                return seen.found
            # Where nothing was packed it is farther off than anything that was.
            short = sum(self._sheets.area(item) for item in (*seen.lacking, *seen.lost))
            if purchase.short is None or short <= purchase.short:
                purchase.mix, purchase.short = mix, short
                purchase.lacking, purchase.lost = seen.lacking, seen.lost
        return None

    def _larger(self, purchase: PurchaseTrial) -> PurchaseTrial | None:
        """Return a purchase with more of one sheet: the best buy that holds what is lacking.

        It is a sheet more, or as many as the panels without a place would fill.
        """
        if sum(purchase.counts) > self._most_sheets:
            return None
        best: tuple[tuple[bool, int, int], tuple[int, ...]] | None = None
        wanted = self._wanted(purchase)
        short = 0 if purchase.lost else purchase.short or 0
        for number, (kind, splitter) in enumerate(self._sheets.splitters.items()):
            piece = self._sheets.problem.bins[kind]
            if piece.available is not None and purchase.counts[number] >= piece.available:
                continue
            holds = wanted is None or bool(self._sheets.holding(kind, wanted))
            area = splitter.sheet.length * splitter.sheet.width
            more = max(1, short // area)
            if piece.available is not None:
                more = min(more, piece.available - purchase.counts[number])
            # What it costs to make up for all that is short, and of equal ones the larger.
            rank = (not holds, piece.cost * max(1, -(-short // area)), -area)
            counts = tuple(n + more * (place == number) for place, n in enumerate(purchase.counts))
            if best is None or rank < best[0]:
                best = (rank, counts)
        return None if best is None else self._after(purchase, best[1])

    def _after(self, purchase: PurchaseTrial, counts: tuple[int, ...]) -> PurchaseTrial:
        """Return a dearer purchase that begins where another one got to.

        What is bought more has a blank for a panel that is lacking, where that can be.
        """
        kept: list[BrokenSheet] = []
        for kind, count in zip(self._sheets.splitters, counts, strict=True):
            same = [one for one in purchase.mix if one.kind == kind][:count]
            pattern = self._sheets.splitters[kind].seeds()[0]
            wanted = self._wanted(purchase)
            if wanted is not None:
                held = self._sheets.holding(kind, wanted)
                pattern = held[0] if held and pattern not in held else pattern
            kept += same + [self._sheets.broken(kind, pattern)] * (count - len(same))
        return self._purchase(counts, kept)

    def _wanted(self, purchase: PurchaseTrial) -> int | None:
        """Return what is lacking: of what fits no blank, or else of all, the largest."""
        lacking = purchase.lost or purchase.lacking
        return max(lacking, key=self._sheets.area) if lacking else None

    def _purchase(self, counts: tuple[int, ...], mix: Sequence[BrokenSheet]) -> PurchaseTrial:
        """Return a purchase to begin with a mix, and then with plain patterns."""
        sheets = self._sheets
        openings = [tuple(mix)]
        largest = max(range(len(sheets.problem.items)), key=sheets.area)
        plain = {kind: splitter.seeds() for kind, splitter in sheets.splitters.items()}
        roomy = {kind: sheets.holding(kind, largest) or plain[kind] for kind in plain}
        for number, patterns in ((0, plain), (0, roomy), (1, plain), (2, plain), (3, plain)):
            same = [
                sheets.broken(kind, patterns[kind][number % len(patterns[kind])])
                for kind, count in zip(sheets.splitters, counts, strict=True)
                for _ in range(count)
            ]
            openings.append(tuple(same))
        return PurchaseTrial(counts, list(dict.fromkeys(openings)))

    def _changed(self, purchase: PurchaseTrial) -> tuple[BrokenSheet, ...]:
        """Return the mix of a purchase with one sheet, now and then two, broken down otherwise."""
        rng = self._rng
        mix = list(purchase.mix)
        if not mix:
            return ()
        if rng.random() < self._parameters.guided:
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
        return tuple(mix)

    def _guided(self, purchase: PurchaseTrial) -> tuple[BrokenSheet, ...] | None:
        """Return a mix that follows other whole layouts, on sheets less what the cuts take."""
        sheets = self._sheets
        lost = sheets.limits.apart
        counts = dict(zip(sheets.splitters, purchase.counts, strict=True))
        bins = []
        for kind, piece in enumerate(sheets.problem.bins):
            if kind in counts:
                less = [lost * self._rng.randint(0, 2) for _ in Axis]
                room = (max(1, piece.length - less[0]), max(1, piece.width - less[1]))
                piece = replace(piece, length=room[0], width=room[1], available=counts[kind])
            bins.append(piece)
        self._seed += 1
        problem = replace(sheets.problem, bins=tuple(bins))
        try:
            found = nest(problem, seed=self._seed, stop=AfterSteps(self._placer.usual))
        except (ItemFitsNowhereError, StockTooSmallError):
            self.steps += self._placer.usual
            return None
        self.steps += found.steps
        mix = []
        for layout in found.layouts:
            if layout.stock in counts:
                mix += [sheets.following(layout)] * layout.copies
                counts[layout.stock] -= layout.copies
        for kind, count in counts.items():
            mix += [sheets.broken(kind, sheets.splitters[kind].any_pattern(self._rng))] * count
        return tuple(mix)

    def _other_pattern(self, kind: int, purchase: PurchaseTrial) -> Pattern:
        rng = self._rng
        wanted = purchase.lost or purchase.lacking
        if wanted and rng.random() < (0.7 if purchase.lost else 0.3):
            held = self._sheets.holding(kind, rng.choice(wanted))
            if held:
                return rng.choice(held)
        return self._sheets.splitters[kind].any_pattern(rng)

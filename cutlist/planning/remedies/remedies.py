"""What would help where no sheet goes into the vehicle, or none of it with a blank for a part.

More cuts, another size of sheet, a larger bed, a second way in, a larger load: each alone, and the
least of it with which every part has a blank that goes in. That there are enough sheets is another
question.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Final

from cutlist.breakdown.patterns import DEFAULT_MAX_CUTS, StoreLimits, whole
from cutlist.breakdown.splitting import Splitter
from cutlist.model.job import Job, Sheet, Store, Vehicle
from cutlist.model.refusals import Remedy, RemedyKind, Size
from cutlist.units.masses import KG_PER_LB, cubic_metres
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.nesting.problem import Item
    from cutlist.units.grid import Grid

#: Sizes of a bed, and loads, are told in such steps.
_STEP: Final = {Units.INCH: Fraction(1), Units.MM: Fraction(10)}
_LOAD_STEP: Final = {Units.INCH: KG_PER_LB, Units.MM: Fraction(1)}
#: More cuts than are needed to get a sheet in that are looked at, to make a blank for a part.
_MORE: Final = 6


@dataclass(frozen=True, slots=True)
class Case:
    """Parts, not all of which have a blank, and the sheets that they might be cut from.

    Parameters
    ----------
    job
        What is asked for; it has a vehicle.
    sheets
        Of the parts' material and thickness.
    items
        The parts that need a blank, in units of the grid.
    grid, kerf
        The job's grid, and the kerf of the shop's saw.
    left_behind
        Those of the sheets that the vehicle takes neither whole nor broken down.
    """

    job: Job
    sheets: tuple[Sheet, ...]
    items: tuple[Item, ...]
    grid: Grid
    kerf: int
    left_behind: tuple[Sheet, ...]

    @property
    def vehicle(self) -> Vehicle:
        """The job's vehicle."""
        assert self.job.vehicle is not None
        return self.job.vehicle

    def serves(
        self,
        store: Store | None = None,
        vehicle: Vehicle | None = None,
        sheets: Sequence[Sheet] | None = None,
    ) -> bool:
        """Say whether each part has a blank that goes in; what is left out is as in the job."""
        store, vehicle = store or self.job.store, vehicle or self.vehicle
        limits = StoreLimits.of(store, vehicle, self.grid, self.job.units)
        splitters = [
            splitter
            for sheet in (self.sheets if sheets is None else sheets)
            if (splitter := self.splitter(sheet, limits)).is_possible
        ]
        return all(
            any(splitter.holding(item) for splitter in splitters) for item in _largest(self.items)
        )

    def splitter(self, sheet: Sheet, limits: StoreLimits) -> Splitter:
        """Return what makes patterns for a sheet."""
        to_int = self.grid.to_int
        size = whole(to_int(sheet.length), to_int(sheet.width), to_int(sheet.trim))
        return Splitter(size, limits.of_sheet(sheet), self.items, self.kerf)


def remedies(case: Case) -> tuple[Remedy, ...]:
    """Return what would do; empty where nothing was found that would."""
    found = (_cuts(case), _smaller_pieces(case), _load(case), _beds(case), _sheet(case))
    return tuple(remedy for remedies in found for remedy in remedies)


def _cuts(case: Case) -> Iterator[Remedy]:
    """Tell the fewest cuts a sheet that would do."""
    store = case.job.store
    if store is None or store.max_cuts is None:
        return
    most = store.max_cuts
    limits = StoreLimits.of(store, case.vehicle, case.grid, case.job.units)
    fewest = min(case.splitter(sheet, limits).fewest for sheet in case.sheets)
    begin = max(most + 1, fewest)
    for cuts in range(begin, min(begin + _MORE, DEFAULT_MAX_CUTS) + 1):
        if case.serves(store=replace(store, max_cuts=cuts)):
            yield Remedy(RemedyKind.MORE_CUTS, cuts, cuts - most)
            return


def _smaller_pieces(case: Case) -> Iterator[Remedy]:
    store = case.job.store
    if store and store.min_piece and case.serves(store=replace(store, min_piece=Fraction(0))):
        yield Remedy(RemedyKind.NARROWER_PIECES)


def _load(case: Case) -> Iterator[Remedy]:
    """Tell the least load that would do."""
    units, vehicle = case.job.units, case.vehicle
    if vehicle.max_load_kg is None:
        return
    step = _LOAD_STEP[units]
    heaviest = max(weight_of(sheet, case.job) or Fraction(0) for sheet in case.sheets)

    def carrying(steps: int) -> Vehicle:
        return replace(vehicle, max_load_kg=steps * step)

    found = _least(
        ceil(vehicle.max_load_kg / step),
        ceil(heaviest / step),
        lambda steps: case.serves(vehicle=carrying(steps)),
    )
    if found is not None:
        yield Remedy(RemedyKind.LOAD, found)


def _beds(case: Case) -> Iterator[Remedy]:
    """Tell the smallest bed, and the narrowest rack as long as a sheet."""
    units, vehicle = case.job.units, case.vehicle
    step = _STEP[units]
    longest = max(max(sheet.length, sheet.width) for sheet in case.sheets)

    def widened(size: Size) -> Vehicle:
        return replace(vehicle, bed_length=size[0], bed_width=size[1])

    def racked(size: Size) -> Vehicle:
        return replace(vehicle, second_opening=size)

    def smallest(
        fixed: Fraction, least: Fraction, given: Callable[[Size], Vehicle]
    ) -> Iterator[Size]:
        """Yield the smallest opening with one side fixed, if there is one that does."""
        found = _least(
            ceil(least / step),
            ceil(longest / step),
            lambda steps: case.serves(vehicle=given((fixed, steps * step))),
        )
        if found is not None:
            yield (max(fixed, found * step), min(fixed, found * step))

    length, width = vehicle.bed_length, vehicle.bed_width
    # One side as it is, or as wide as a sheet: such a bed takes sheets whole, or cut across.
    widest = max(min(sheet.length, sheet.width) for sheet in case.sheets)
    sides = dict.fromkeys((width, length, widest))
    beds = [bed for side in sides for bed in smallest(side, step, widened)]
    if beds:
        # Neither side need be so long: the one that was fixed is shortened too.
        best = min(beds, key=_area)
        beds += [less for side in best for less in smallest(side, step, widened)]
        yield Remedy(RemedyKind.BED, size=min(beds, key=_area))
    lengths = dict.fromkeys(sheet.length for sheet in case.sheets)
    racks = [rack for along in lengths for rack in smallest(along, step, racked)]
    if racks:
        yield Remedy(RemedyKind.OPENING, size=min(racks, key=_area))


def _sheet(case: Case) -> Iterator[Remedy]:
    """Tell the largest other size of sheet that would do: one of the job, a half or a quarter."""
    own = dict.fromkeys((sheet.length, sheet.width) for sheet in case.sheets)
    sizes = {
        size: sheet.name
        for sheet in case.job.sheets
        if (size := (sheet.length, sheet.width)) not in own
    }
    for length, width in own:
        for size in ((length / 2, width), (length, width / 2), (length / 2, width / 2)):
            sizes.setdefault(size, "")
    for size in sorted(sizes, key=_area, reverse=True):
        if any(side % case.grid.unit for side in size):
            continue
        sheets = [replace(case.sheets[0], length=size[0], width=size[1])]
        if case.serves(sheets=sheets):
            yield Remedy(RemedyKind.SHEET, size=size, name=sizes[size])
            return


def weight_of(sheet: Sheet, job: Job) -> Fraction | None:
    """Return what a whole sheet weighs in kg; None where that is not known."""
    if sheet.density is None:
        return None
    volume = cubic_metres(sheet.length, sheet.width, sheet.thickness, job.units)
    return volume * sheet.density.kg_per_m3


def _least(low: int, high: int, does: Callable[[int], bool]) -> int | None:
    """Return the least number that does, taken that more does no worse; None if none was found."""
    if high < low or not does(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if does(middle):
            high = middle
        else:
            low = middle + 1
    return high


def _area(size: Size) -> Fraction:
    return size[0] * size[1]


def _largest(items: Sequence[Item]) -> list[Item]:
    """Return the items that lie inside no other one: where these have a blank the others do."""
    kept: list[Item] = []
    for item in sorted(items, key=lambda one: (-one.length * one.width, one.turnable)):
        if not any(_lies_within(item, other) for other in kept):
            kept.append(item)
    return kept


def _lies_within(item: Item, other: Item) -> bool:
    straight = item.length <= other.length and item.width <= other.width
    turned = item.turnable and item.width <= other.length and item.length <= other.width
    # Where the other one may be turned, this one has to go along.
    return (straight or turned) and (item.turnable or not other.turnable)

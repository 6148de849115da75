"""From sequenced layouts to the finished plan, in the job's own unit and names."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import count

from cutlist.model.job import MINUTES_A_CUT, Grain, Job, Offcut, Part, Sheet, Stock
from cutlist.model.layout import Axis
from cutlist.model.plan import (
    Bounds,
    Cut,
    Direction,
    Leftover,
    Panel,
    Piece,
    Place,
    Plan,
    Purchase,
    SawSetup,
    Totals,
    Workpiece,
)
from cutlist.model.sawing import Device
from cutlist.planning.ordering.supply import Supply
from cutlist.sequencing.cutting import CutStep, PlacedBox
from cutlist.sequencing.forest import NONE
from cutlist.sequencing.sequence import Sequenced
from cutlist.units.grid import Grid

#: What the plan calls the saw where the sheets are bought.
STORE_SAW = "store saw"


@dataclass(frozen=True, slots=True)
class CostBound:
    """What is proven of the purchase: a lower bound on its cost, and one on sheets bought."""

    cost: Decimal
    sheets: int


def assemble(job: Job, grid: Grid, supply: Supply, sequenced: Sequenced, bound: CostBound) -> Plan:
    """Put the plan together, but for weights and trips, and what the store charges by trips.

    Parameters
    ----------
    job, grid
        The job and its integer grid.
    supply
        The stock behind ``sequenced``, and the store's cuts.
    sequenced
        Cuts and pieces in grid units.
    bound
        What the nesting has proven.
    """
    return _Assembly(job, grid, supply, sequenced).plan(bound)


@dataclass(frozen=True, slots=True)
class _Assembly:
    job: Job
    grid: Grid
    supply: Supply
    sequenced: Sequenced

    def plan(self, bound: CostBound) -> Plan:
        settings = self._settings()
        panels, leftovers = self._pieces()
        buy = self._purchases()
        totals = self._totals(buy, settings, panels, leftovers)
        setups = self.sequenced.bound
        bounds = Bounds(
            cost=bound.cost,
            cost_proven=bound.cost == totals.cost,
            sheets=bound.sheets,
            setups=setups,
            setups_proven=setups == totals.setups,
            order=self.sequenced.order_bound,
        )
        return Plan(
            self.job,
            buy,
            totals,
            bounds,
            self._workpieces(),
            settings,
            panels,
            leftovers,
        )

    def _piece(self, box: PlacedBox) -> Piece:
        to_length = self.grid.to_length
        return Piece(
            box.name,
            to_length(box.x),
            to_length(box.y),
            to_length(box.length),
            to_length(box.width),
        )

    def _settings(self) -> tuple[SawSetup, ...]:
        settings = []
        numbers = count(1)
        steps = [(Place.STORE, step) for step in self.supply.store]
        steps += [(Place.SHOP, step) for step in self.sequenced.settings]
        for index, (place, step) in enumerate(steps, start=1):
            saw = self.job.tools[step.tool]
            tool, kerf, device = saw.name, saw.kerf, saw.device
            if place is Place.STORE:
                assert self.job.store is not None
                tool, kerf, device = STORE_SAW, self.job.store.kerf, Device.STORE
            settings.append(
                SawSetup(
                    number=index,
                    place=place,
                    tool=tool,
                    distance=self.grid.to_length(step.distance),
                    kerf=kerf,
                    mark=self.grid.to_length(step.distance),
                    device=device,
                    cuts=tuple(self._cut(next(numbers), cut) for cut in step.cuts),
                )
            )
        return tuple(settings)

    def _cut(self, number: int, cut: CutStep) -> Cut:
        return Cut(
            number=number,
            piece=cut.piece,
            direction=Direction.CROSSCUT if cut.axis is Axis.X else Direction.RIP,
            purpose=cut.purpose,
            kept=self._piece(cut.kept),
            rest=self._piece(cut.rest) if cut.rest else None,
            hazards=cut.hazards,
        )

    def _pieces(self) -> tuple[tuple[Panel, ...], tuple[Leftover, ...]]:
        copies: Counter[int] = Counter()
        panels = []
        leftovers = []
        for finished in self.sequenced.pieces:
            if finished.part == NONE:
                stock = self.supply.stock[finished.sheet]
                leftovers.append(self._leftover(stock, finished.box))
                continue
            part = self.job.parts[finished.part]
            copies[finished.part] += 1
            piece = self._piece(finished.box)
            turned = _is_turned(part, piece, self.supply.stock[finished.sheet])
            panels.append(Panel(part.name, copies[finished.part], piece, turned))
        leftovers += [self._leftover(stock, box) for stock, box in self.supply.idle]
        order = {part.name: index for index, part in enumerate(self.job.parts)}
        panels.sort(key=lambda panel: (order[panel.part], panel.copy))
        return tuple(panels), tuple(leftovers)

    def _leftover(self, stock: Stock, box: PlacedBox) -> Leftover:
        piece = self._piece(box)
        keep = self.job.least_kept(stock.material)
        long, short = max(keep.length, keep.width), min(keep.length, keep.width)
        is_kept = max(piece.length, piece.width) >= long and min(piece.length, piece.width) >= short
        return Leftover(piece, stock.material, stock.thickness, is_kept)

    def _workpieces(self) -> tuple[Workpiece, ...]:
        return tuple(
            Workpiece(
                piece=letter,
                stock=stock.name,
                bought=isinstance(stock, Sheet),
                material=stock.material,
                thickness=stock.thickness,
                length=stock.length,
                width=stock.width,
                trim=stock.trim,
                edges=stock.edges if isinstance(stock, Offcut) else None,
                has_grain=stock.has_grain,
            )
            for letter, stock in self.supply.workpieces
        )

    def _purchases(self) -> tuple[Purchase, ...]:
        counts = Counter(
            stock.name for _, stock in self.supply.workpieces if isinstance(stock, Sheet)
        )
        return tuple(
            Purchase(
                sheet=sheet.name,
                material=sheet.material,
                thickness=sheet.thickness,
                length=sheet.length,
                width=sheet.width,
                count=counts[sheet.name],
                price_each=sheet.price,
                cost=(sheet.price or Decimal(0)) * counts[sheet.name],
            )
            for sheet in self.job.sheets
            if counts[sheet.name]
        )

    def _totals(
        self,
        buy: tuple[Purchase, ...],
        settings: tuple[SawSetup, ...],
        panels: tuple[Panel, ...],
        leftovers: tuple[Leftover, ...],
    ) -> Totals:
        part_area = _area(panel.piece for panel in panels)
        kept_area = _area(leftover.piece for leftover in leftovers if leftover.keep)
        stock = [stock for _, stock in self.supply.workpieces]
        sheet_area = sum((piece.length * piece.width for piece in stock), Fraction(0))
        price = sum((purchase.cost for purchase in buy), Decimal(0))
        shop = [setting for setting in settings if setting.place is Place.SHOP]
        minutes = {saw.name: self.job.minutes_of(saw) for saw in self.job.tools}
        cuts = sum(len(setting.cuts) for setting in shop)
        return Totals(
            sheets=sum(purchase.count for purchase in buy),
            cost=price,
            setups=len(shop),
            cuts=sum(len(setting.cuts) for setting in settings),
            parts=len(panels),
            part_area=part_area,
            sheet_area=sheet_area,
            kept_offcut_area=kept_area,
            waste_percent=100 * (sheet_area - part_area - kept_area) / sheet_area,
            setups_by_device=tuple(
                (device, sum(setting.device is device for setting in shop))
                for device in (Device.FENCE, Device.STOP, Device.GUIDE)
            ),
            store_setups=len(settings) - len(shop),
            minutes=sum((minutes[setting.tool] for setting in shop), cuts * MINUTES_A_CUT),
        )


def _is_turned(part: Part, piece: Piece, stock: Stock) -> bool:
    """Say whether a panel lies with its width along the stock; a square one as its grain asks."""
    if piece.length == piece.width and stock.has_grain:
        return part.grain is Grain.WIDTH
    return piece.length != part.length


def _area(pieces: Iterable[Piece]) -> Fraction:
    return sum((piece.length * piece.width for piece in pieces), Fraction(0))

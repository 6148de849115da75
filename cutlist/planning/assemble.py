"""From sequenced layouts to the finished plan, in the job's own unit and names."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from cutlist.grid import Grid
from cutlist.model.job import Grain, Job, Sheet, Stock
from cutlist.model.layout import Axis
from cutlist.model.plan import (
    Bounds,
    Cut,
    CutFlag,
    Direction,
    Leftover,
    Panel,
    Piece,
    Place,
    Plan,
    Purchase,
    Setting,
    Totals,
    Workpiece,
)
from cutlist.sequencing.cutting import Box, CutStep, FinishedPiece
from cutlist.sequencing.forest import NONE
from cutlist.sequencing.names import sheet_letter
from cutlist.sequencing.sequence import Sequenced


@dataclass(frozen=True, slots=True)
class CostBound:
    """What is proven of the purchase: a lower bound on its cost, and one on sheets bought."""

    cost: Decimal
    is_met: bool
    sheets: int


def assemble(
    job: Job, grid: Grid, stock: Sequence[Stock], sequenced: Sequenced, bound: CostBound
) -> Plan:
    """Put the plan together.

    Parameters
    ----------
    job, grid
        The job and its integer grid.
    stock
        The piece of stock behind each sheet number of ``sequenced``.
    sequenced
        Cuts and pieces in grid units.
    bound
        What the nesting has proven.
    """
    return _Assembly(job, grid, tuple(stock), sequenced).plan(bound)


@dataclass(frozen=True, slots=True)
class _Assembly:
    job: Job
    grid: Grid
    stock: tuple[Stock, ...]
    sequenced: Sequenced

    def plan(self, bound: CostBound) -> Plan:
        settings = self._settings()
        panels, leftovers = self._pieces()
        buy = self._purchases()
        totals = self._totals(buy, settings, panels, leftovers)
        bounds = Bounds(
            cost=bound.cost,
            cost_proven=bound.is_met,
            sheets=bound.sheets,
            setups=self.sequenced.bound,
            setups_proven=self.sequenced.bound == len(settings),
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
            flags=self._flags(),
        )

    def _piece(self, box: Box) -> Piece:
        to_length = self.grid.to_length
        return Piece(
            box.name,
            to_length(box.x),
            to_length(box.y),
            to_length(box.length),
            to_length(box.width),
        )

    def _settings(self) -> tuple[Setting, ...]:
        settings = []
        number = 1
        for index, step in enumerate(self.sequenced.settings, start=1):
            cuts = []
            for cut in step.cuts:
                cuts.append(self._cut(number, cut))
                number += 1
            settings.append(
                Setting(
                    number=index,
                    place=Place.SHOP,
                    tool=self.job.tools[step.tool].name,
                    distance=self.grid.to_length(step.distance),
                    kerf=self.job.tools[step.tool].kerf,
                    cuts=tuple(cuts),
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
        )

    def _flags(self) -> tuple[CutFlag, ...]:
        cuts = [cut for step in self.sequenced.settings for cut in step.cuts]
        return tuple(
            CutFlag(number, hazard)
            for number, cut in enumerate(cuts, start=1)
            for hazard in cut.hazards
        )

    def _pieces(self) -> tuple[tuple[Panel, ...], tuple[Leftover, ...]]:
        copies: Counter[int] = Counter()
        panels = []
        leftovers = []
        for finished in self.sequenced.pieces:
            if finished.part == NONE:
                leftovers.append(self._leftover(finished))
                continue
            part = self.job.parts[finished.part]
            copies[finished.part] += 1
            piece = self._piece(finished.box)
            turned = part.grain is Grain.WIDTH or piece.length != part.length
            panels.append(Panel(part.name, copies[finished.part], piece, turned))
        order = {part.name: index for index, part in enumerate(self.job.parts)}
        panels.sort(key=lambda panel: (order[panel.part], panel.copy))
        return tuple(panels), tuple(leftovers)

    def _leftover(self, finished: FinishedPiece) -> Leftover:
        stock = self.stock[finished.sheet]
        piece = self._piece(finished.box)
        keep = self.job.least_kept(stock.material)
        long, short = max(keep.length, keep.width), min(keep.length, keep.width)
        is_kept = max(piece.length, piece.width) >= long and min(piece.length, piece.width) >= short
        return Leftover(piece, stock.material, stock.thickness, is_kept)

    def _workpieces(self) -> tuple[Workpiece, ...]:
        return tuple(
            Workpiece(
                piece=sheet_letter(number),
                stock=stock.name,
                bought=isinstance(stock, Sheet),
                material=stock.material,
                thickness=stock.thickness,
                length=stock.length,
                width=stock.width,
                trim=stock.trim,
            )
            for number, stock in enumerate(self.stock)
        )

    def _purchases(self) -> tuple[Purchase, ...]:
        counts = Counter(stock.name for stock in self.stock if isinstance(stock, Sheet))
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
        settings: tuple[Setting, ...],
        panels: tuple[Panel, ...],
        leftovers: tuple[Leftover, ...],
    ) -> Totals:
        part_area = _area(panel.piece for panel in panels)
        kept_area = _area(leftover.piece for leftover in leftovers if leftover.keep)
        sheet_area = sum((stock.length * stock.width for stock in self.stock), Fraction(0))
        return Totals(
            sheets=sum(purchase.count for purchase in buy),
            cost=sum((purchase.cost for purchase in buy), Decimal(0)),
            setups=len(settings),
            cuts=sum(len(setting.cuts) for setting in settings),
            parts=len(panels),
            part_area=part_area,
            sheet_area=sheet_area,
            kept_offcut_area=kept_area,
            waste_percent=100 * (sheet_area - part_area - kept_area) / sheet_area,
        )


def _area(pieces: Iterable[Piece]) -> Fraction:
    return sum((piece.length * piece.width for piece in pieces), Fraction(0))

"""From a job to packing problems: one for each material and thickness, on one integer grid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from math import ceil, gcd

from cutlist.breakdown.blanks import BlankKind, BrokenSheet
from cutlist.breakdown.patterns import STORE_MARK, StoreLimits
from cutlist.errors import CannotCutError, Reason
from cutlist.model.edges import EdgeTrims
from cutlist.model.job import Grain, Job, Offcut, Part, Sheet, Stock
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.refusals import NoStock
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.planning.dividing.orientation import Orientation, orientation_on
from cutlist.planning.dividing.shop import fence_of
from cutlist.planning.remedies.remedies import Case
from cutlist.planning.remedies.transport import goes_in, is_broken_down, too_large
from cutlist.sequencing.fence import Fence
from cutlist.units.grid import Grid


@dataclass(frozen=True, slots=True)
class Group:
    """The packing problem of one material and thickness.

    Parameters
    ----------
    material, thickness
        Of every part and piece of stock in it.
    parts
        For each item of the problem its index in ``Job.parts``.
    stock
        For each bin of the problem the sheet or offcut it stands for.
    problem
        In grid units; cost in ``money`` units.
    limits
        The store and the vehicle where sheets have to be broken down; else None.
    left_behind
        Sheets that the vehicle takes neither whole nor broken down.
    sheets, kinds
        Once they are chosen: the sheets bought, and their blanks by kind. The problem's bins are
        these, then the offcuts.
    base
        What these sheets cost.
    orientations
        By the stock's name, how layouts lie where its edges are not alike.
    """

    material: str
    thickness: Fraction
    parts: tuple[int, ...]
    stock: tuple[Stock, ...]
    problem: Problem
    limits: StoreLimits | None = None
    left_behind: tuple[Sheet, ...] = ()
    sheets: tuple[BrokenSheet, ...] = ()
    kinds: tuple[BlankKind, ...] = ()
    base: int = 0
    orientations: Mapping[str, Orientation] = field(default_factory=dict)

    def broken(
        self,
        sheets: tuple[BrokenSheet, ...],
        kinds: tuple[BlankKind, ...],
        problem: Problem,
        cost: int,
    ) -> Group:
        """Return the group with the blanks of the sheets that are bought for stock.

        Parameters
        ----------
        sheets, cost
            What is bought, and what it costs.
        kinds
            Their blanks by kind.
        problem
            The parts on these and on the offcuts.
        """
        offcuts = [piece for piece in self.stock if not isinstance(piece, Sheet)]
        stock: tuple[Stock, ...] = (*(kind.sheet for kind in kinds), *offcuts)
        return replace(self, stock=stock, problem=problem, sheets=sheets, kinds=kinds, base=cost)

    @property
    def panels(self) -> int:
        """Number of panels asked for."""
        return sum(item.qty for item in self.problem.items)

    @property
    def is_limited(self) -> bool:
        """Whether there is only so much of everything that it is cut from."""
        return all(piece.available is not None for piece in self.problem.bins)

    def trims(self, bin_number: int) -> EdgeTrims[int]:
        """Return what there is to clean off the edges of a bin's stock."""
        if bin_number < len(self.kinds):
            return self.kinds[bin_number].trims
        found = self.orientations.get(self.stock[bin_number].name)
        return EdgeTrims.of(self.problem.bins[bin_number].trim) if found is None else found.trims

    def mirrored(self, bin_number: int) -> frozenset[Axis]:
        """Return the axes along which layouts of a bin's whole stock count from its high end."""
        found = self.orientations.get(self.stock[bin_number].name)
        return frozenset() if found is None else found.mirrored

    def in_job(self, layout: Layout) -> Layout:
        """Return the layout with its cells' parts counted in the job instead of the group."""

        def moved(tree: Strip | Cell) -> Strip | Cell:
            if isinstance(tree, Cell):
                return Cell(self.parts[tree.part], tree.length, tree.width)
            children = tuple(moved(child) for child in tree.children)
            return Strip(tree.axis, tree.length, tree.width, children)

        return Layout(layout.stock, moved(layout.root), layout.copies)


@dataclass(frozen=True, slots=True)
class Division:
    """A job in grid units: its groups, its saw, and what one unit of a bin's cost is worth.

    ``money`` is None where the job gives no prices; costs are then areas.
    """

    job: Job
    grid: Grid
    fence: Fence
    money: Decimal | None
    groups: tuple[Group, ...]

    @property
    def panels(self) -> int:
        """Number of panels asked for."""
        return sum(group.panels for group in self.groups)

    @property
    def least_kept(self) -> list[tuple[int, int]]:
        """Each group's least offcut worth keeping in grid units, the longer side first."""
        out = []
        for group in self.groups:
            keep = self.job.least_kept(group.material)
            sides = [ceil(side / self.grid.unit) for side in (keep.length, keep.width)]
            out.append((max(sides), min(sides)))
        return out

    def in_money(self, costs: int) -> Decimal:
        """Return what a cost in the groups' unit is worth; nothing where there are no prices."""
        return Decimal(0) if self.money is None else costs * self.money


def divide(job: Job) -> Division:
    """Divide a job into packing problems.

    Raises
    ------
    CannotCutError
        If materials have no stock that can be used, for all of them in one go.
    """
    grid = Grid.of(_lengths(job))
    fence = fence_of(job, grid)
    prices = [sheet.price for sheet in job.sheets]
    money = None
    if all(price is not None for price in prices):
        amounts = [price for price in prices if price is not None]
        amounts += [job.store.cut_price] if job.store is not None else []
        money = min((_last_place(amount) for amount in amounts), default=Decimal(1))
    keys = dict.fromkeys((part.material, part.thickness) for part in job.parts)
    groups: list[Group] = []
    reasons: list[Reason] = []
    for key in keys:
        try:
            groups.append(_group(job, key, grid, fence, money))
        except CannotCutError as error:
            reasons += error.reasons
    if reasons:
        raise CannotCutError(reasons)
    return Division(job, grid, fence, money, tuple(groups))


def _lengths(job: Job) -> list[Fraction]:
    lengths = [] if job.saws else [job.saw.max_rip or Fraction(0)]
    for saw in job.tools:
        lengths += [saw.kerf, saw.scale or Fraction(0)]
    for stock in job.stock:
        lengths += [stock.length, stock.width, *stock.trims.each]
    for part in job.parts:
        lengths += [part.length, part.width]
    if job.store is not None and job.vehicle is not None:
        lengths += [job.store.kerf, job.store.accuracy, STORE_MARK[job.units]]
    return lengths


def _last_place(price: Decimal) -> Decimal:
    """Return the worth of the price's last decimal place, at most 1."""
    exponent = price.as_tuple().exponent
    assert isinstance(exponent, int)
    return Decimal(1).scaleb(min(exponent, 0))


def _group(
    job: Job, key: tuple[str, Fraction], grid: Grid, fence: Fence, money: Decimal | None
) -> Group:
    material, thickness = key
    parts = [i for i, part in enumerate(job.parts) if (part.material, part.thickness) == key]
    stock = [
        piece
        for piece in job.stock
        if (piece.material, piece.thickness) == key and _supply(piece) != 0
    ]
    there = stock
    if not stock:
        names = tuple(job.parts[i].name for i in parts)
        raise CannotCutError([NoStock(names, material)])
    limits = None
    if job.store and job.vehicle and not all(goes_in(piece, job) for piece in stock):
        limits = StoreLimits.of(job.store, job.vehicle, grid, job.units)
        stock = [
            piece
            for piece in stock
            if goes_in(piece, job)
            or (isinstance(piece, Sheet) and is_broken_down(piece, limits, grid))
        ]
    else:
        stock = [piece for piece in stock if goes_in(piece, job)]
    has_grain = any(piece.has_grain for piece in stock or there)
    items = tuple(_item(job.parts[i], grid, has_grain=has_grain) for i in parts)
    left = tuple(piece for piece in there if isinstance(piece, Sheet) and piece not in stock)
    if not stock:
        case = Case(job, left, items, grid, fence.kerf, left)
        raise too_large([job.parts[i] for i in parts], case)
    # Whole sheets that are broken down are laid out as a bound and a guide: the store's saw divides
    # them at any place, and only blanks come to the shop.
    is_broken = limits is not None
    orientations = {
        piece.name: found for piece in stock if (found := orientation_on(piece, grid, fence))
    }
    problem = Problem(
        items=items,
        bins=_bins(stock, orientations, grid, fence, money, is_broken=is_broken),
        kerf=fence.kerf,
        reach=None if is_broken else fence.layout_reach,
    )
    return Group(
        material,
        thickness,
        tuple(parts),
        tuple(stock),
        problem,
        limits,
        left_behind=left,
        orientations=orientations,
    )


def _supply(piece: Stock) -> int | None:
    return piece.in_stock if isinstance(piece, Sheet) else piece.qty


def _item(part: Part, grid: Grid, *, has_grain: bool) -> Item:
    length, width = grid.to_int(part.length), grid.to_int(part.width)
    if part.grain is Grain.WIDTH:
        length, width = width, length
    turnable = part.grain is Grain.ANY or not has_grain
    return Item(length, width, part.qty, turnable and length != width)


def _bins(
    stock: Sequence[Stock],
    orientations: Mapping[str, Orientation],
    grid: Grid,
    fence: Fence,
    money: Decimal | None,
    *,
    is_broken: bool,
) -> tuple[Bin, ...]:
    """Return the stock as bins; sheets that are broken down lose no more than their trim."""
    sizes = [(grid.to_int(piece.length), grid.to_int(piece.width)) for piece in stock]
    if money is None:
        # Without prices the area bought is what counts.
        costs = [
            length * width if isinstance(piece, Sheet) else 0
            for piece, (length, width) in zip(stock, sizes, strict=True)
        ]
        common = gcd(*costs) or 1
        costs = [cost // common for cost in costs]
    else:
        costs = [_in_money(piece, money) for piece in stock]
    bins = []
    for piece, (length, width), cost in zip(stock, sizes, costs, strict=True):
        if piece.name in orientations:
            trims = orientations[piece.name].trims
            edges = (*trims.x, *trims.y)
            bins.append(_bin(*trims.inside(length, width), cost, _supply(piece), edges=edges))
            continue
        trim = grid.to_int(piece.trim)
        at_shop = not (is_broken and isinstance(piece, Sheet))
        if trim and at_shop and not (fence.reaches(length) and fence.reaches(width)):
            # Where the fence stands on the far side, an edge is taken off as a piece of its own.
            trim = max(trim, fence.least_off)
        bins.append(_bin(length - 2 * trim, width - 2 * trim, cost, _supply(piece), trim))
    return tuple(bins)


def _bin(
    length: int,
    width: int,
    cost: int,
    available: int | None,
    trim: int = 0,
    edges: tuple[int, int, int, int] | None = None,
) -> Bin:
    """Return a bin; of one without an inside there is none, for no panel is cut from it."""
    if min(length, width) <= 0:
        return Bin(1, 1, cost, 0, trim)
    return Bin(length, width, cost, available, trim, edges)


def _in_money(piece: Stock, money: Decimal) -> int:
    if isinstance(piece, Offcut) or piece.price is None:
        return 0
    return int(piece.price / money)

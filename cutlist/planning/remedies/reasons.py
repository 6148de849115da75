"""Why a sound job cannot be cut, in the words of the job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Part, Sheet, Stock
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.units.lengths import format_size, format_thickness


def in_words(
    job: Job,
    parts: Sequence[int],
    error: CannotCutError,
    missing: Mapping[str, int] = MappingProxyType({}),
    *,
    left_behind: Sequence[Sheet] = (),
    why: str = "",
) -> CannotCutError:
    """Return the nesting's failure told in part names.

    Parameters
    ----------
    job
        The job.
    parts
        For each item of the failed problem its index in ``job.parts``.
    error
        What the nesting raised.
    missing
        Names of sheets, and how many more of them would do; empty if unknown.
    left_behind, why
        Sheets that the vehicle does not take, and what is said of them.
    """
    also = [why] if why else []
    if isinstance(error, ItemFitsNowhereError):
        wanted = [job.parts[parts[item]] for item in error.items]
        return CannotCutError([*(_no_fit(job, part, left_behind) for part in wanted), *also])
    if isinstance(error, StockTooSmallError):
        short = {parts[item]: count for item, count in error.short.items()}
        reasons = _short(job, short, missing, left_behind, is_proven=error.proven)
        return CannotCutError([*reasons, *also], is_shortage=True)
    return error


def _no_fit(job: Job, part: Part, left_behind: Sequence[Sheet]) -> str:
    size = format_size(part.length, part.width, job.units)
    stock = [
        piece
        for piece in job.stock
        if (piece.material, piece.thickness) == (part.material, part.thickness)
        and piece not in left_behind
    ]
    listed = ", ".join(
        f"{piece.name} {format_size(piece.length, piece.width, job.units)}" for piece in stock
    )
    turn = "" if part.grain is Grain.ANY else f" with the grain along its {part.grain}"
    reach = ""
    has_grain = any(piece.has_grain for piece in stock)
    if any(_holds(piece, part, has_grain=has_grain) for piece in stock):
        reach = (
            "; the fence does not reach across it, so a sheet must be exactly its size or more than"
            " a kerf larger"
        )
    return f"{part.name} {size}{turn} cannot be cut from {listed}{reach}"


def _holds(piece: Stock, part: Part, *, has_grain: bool) -> bool:
    """Say whether a part lies within a piece of stock in some turn that its grain permits."""
    room = piece.trims.inside(piece.length, piece.width)
    straight, turned = (part.length, part.width), (part.width, part.length)
    turns = {Grain.LENGTH: (straight,), Grain.WIDTH: (turned,), Grain.ANY: (straight, turned)}
    grain = part.grain if has_grain else Grain.ANY
    return any(x <= room[0] and y <= room[1] for x, y in turns[grain])


def _short(
    job: Job,
    short: Mapping[int, int],
    missing: Mapping[str, int],
    left_behind: Sequence[Sheet],
    *,
    is_proven: bool,
) -> list[str]:
    first = min(short)
    part = job.parts[first]
    thickness = format_thickness(part.thickness, job.units)
    panels = ", ".join(f"{count} × {job.parts[index].name}" for index, count in short.items())
    verdict = (
        "cannot hold all panels" if is_proven else "did not hold all panels in any layout found"
    )
    limited = [
        f"{piece.name} ({piece.in_stock} in stock)"
        for piece in job.sheets
        if (piece.material, piece.thickness) == (part.material, part.thickness)
        and piece.in_stock is not None
        and piece not in left_behind
    ]
    remedy = f"raise in_stock of {' or '.join(limited)}" if limited else "add a sheet to buy"
    if missing:
        more = " and ".join(f"{count} more {name}" for name, count in missing.items())
        remedy = f"{more} would do: {remedy}"
    words = f"the stock of {part.material} {thickness} {verdict}: short of {panels}"
    # Where there are sheets that cannot be taken home, these are what there is to speak of.
    return [words if left_behind and not limited and not missing else f"{words}; {remedy}"]

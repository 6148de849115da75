"""Why a sound job cannot be cut, in the parts of the job."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from cutlist.errors import CannotCutError, Reason
from cutlist.model.job import Grain, Job, Part, Sheet, Stock
from cutlist.model.refusals import FitsNowhere, StockShort
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError


def refusal_of(
    job: Job,
    parts: Sequence[int],
    error: CannotCutError,
    missing: Mapping[str, int] = MappingProxyType({}),
    *,
    left_behind: Sequence[Sheet] = (),
    why: Reason | None = None,
) -> CannotCutError:
    """Return the nesting's failure told of the job's parts.

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
    also = [] if why is None else [why]
    if isinstance(error, ItemFitsNowhereError):
        wanted = [job.parts[parts[item]] for item in error.items]
        return CannotCutError([*(_fits_nowhere(job, part, left_behind) for part in wanted), *also])
    if isinstance(error, StockTooSmallError):
        counts = sorted((parts[item], count) for item, count in error.short.items())
        short = tuple((job.parts[index], count) for index, count in counts)
        reason = StockShort(
            parts=tuple(part.name for part, _ in short),
            job=job,
            short=short,
            missing=tuple(missing.items()),
            left_behind=tuple(left_behind),
            is_proven=error.proven,
        )
        return CannotCutError([reason, *also], is_shortage=True)
    return error


def _fits_nowhere(job: Job, part: Part, left_behind: Sequence[Sheet]) -> FitsNowhere:
    stock = [
        piece
        for piece in job.stock
        if (piece.material, piece.thickness) == (part.material, part.thickness)
        and piece not in left_behind
    ]
    has_grain = any(piece.has_grain for piece in stock)
    is_within = any(_holds(piece, part, has_grain=has_grain) for piece in stock)
    return FitsNowhere((part.name,), job, part, tuple(left_behind), is_within)


def _holds(piece: Stock, part: Part, *, has_grain: bool) -> bool:
    """Say whether a part lies within a piece of stock in some turn that its grain permits."""
    room = piece.trims.inside(piece.length, piece.width)
    straight, turned = (part.length, part.width), (part.width, part.length)
    turns = {Grain.LENGTH: (straight,), Grain.WIDTH: (turned,), Grain.ANY: (straight, turned)}
    grain = part.grain if has_grain else Grain.ANY
    return any(x <= room[0] and y <= room[1] for x, y in turns[grain])

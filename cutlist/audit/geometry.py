"""Geometry checked a second way, through shapely and in floating point.

What the plan says of places is compared by itself, without the cuts: panels lie inside the usable
region of their stock, nothing overlaps, and two pieces of one workpiece lie a kerf apart in x or
in y. Exact arithmetic decides elsewhere; here a difference of up to ``TOLERANCE`` units is
taken for rounding.
"""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, Any, Final

import shapely

from cutlist.audit.findings import Code, Report, show

if TYPE_CHECKING:
    from cutlist.audit.replay import Replay
    from cutlist.model.plan import Piece, Plan, Workpiece

TOLERANCE: Final = 1e-6
"""Allowance for rounding, in units of the job; a double at 3000 units is off by 5e-13 at most."""


def check_geometry(plan: Plan, run: Replay, report: Report) -> None:
    """Check the listed panels and leftovers, workpiece by workpiece."""
    kerfs = [saw.kerf for saw in plan.job.tools]
    if plan.job.store is not None:
        kerfs.append(plan.job.store.kerf)
    placed: dict[int, list[tuple[str, Piece, bool]]] = defaultdict(list)
    listed = [(f"panel {p.part} {p.copy}", p.piece, True) for p in plan.panels]
    listed += [(f"offcut {o.piece.name}", o.piece, False) for o in plan.leftovers]
    for where, piece, is_panel in listed:
        made = run.pieces.get(piece.name)
        if made is not None and made.workpiece is not None:
            placed[made.workpiece].append((where, piece, is_panel))
    for index, items in placed.items():
        workpiece = plan.workpieces[index]
        boxes = _boxes([piece for _, piece, _ in items])
        _check_inside(workpiece, items, boxes, report)
        _check_apart([where for where, _, _ in items], boxes, float(min(kerfs)), report)


def _boxes(pieces: list[Piece]) -> Any:
    """Return an array of shapely boxes, one for each piece."""
    low_x = [float(piece.x) for piece in pieces]
    low_y = [float(piece.y) for piece in pieces]
    high_x = [float(piece.x + piece.length) for piece in pieces]
    high_y = [float(piece.y + piece.width) for piece in pieces]
    return shapely.box(low_x, low_y, high_x, high_y)


def _check_inside(
    workpiece: Workpiece, items: list[tuple[str, Piece, bool]], boxes: Any, report: Report
) -> None:
    """Check that panels lie in the stock less its trim, leftovers in the stock."""
    left, right, lower, upper = (float(trim) - TOLERANCE for trim in workpiece.trims.each)
    length, width = float(workpiece.length), float(workpiece.width)
    whole = shapely.box(-TOLERANCE, -TOLERANCE, length + TOLERANCE, width + TOLERANCE)
    usable = shapely.box(left, lower, length - right, width - upper)
    in_whole = shapely.covers(whole, boxes)
    in_usable = shapely.covers(usable, boxes)
    for (where, piece, is_panel), inside, clear in zip(items, in_whole, in_usable, strict=True):
        if not (clear if is_panel else inside):
            message = (
                f"at {show(piece.x)}, {show(piece.y)} reaches out of the "
                f"{'usable region' if is_panel else 'stock'} of workpiece {workpiece.piece}"
            )
            report.add(Code.OUTSIDE_USABLE_REGION, where, message)


def _check_apart(names: list[str], boxes: Any, kerf: float, report: Report) -> None:
    """Check each two pieces that come nearer than a kerf in x and in y at once."""
    if len(names) < 2:
        return
    # Two boxes are nearer than a kerf in both directions exactly when one of them, grown by a
    # kerf on each side with its corners kept, meets the other.
    margin = kerf - TOLERANCE
    bounds = shapely.bounds(boxes)
    grown = shapely.box(
        bounds[:, 0] - margin, bounds[:, 1] - margin, bounds[:, 2] + margin, bounds[:, 3] + margin
    )
    tree = shapely.STRtree(boxes)
    first, second = tree.query(grown, predicate="intersects")
    for i, j in zip(first.tolist(), second.tolist(), strict=True):
        if i >= j:
            continue
        if shapely.area(shapely.intersection(boxes[i], boxes[j])) > TOLERANCE:
            report.add(Code.OVERLAP, names[i], f"overlaps {names[j]}")
        else:
            message = f"lies less than a kerf of {kerf:.10g} from {names[j]}"
            report.add(Code.CLOSER_THAN_KERF, names[i], message)

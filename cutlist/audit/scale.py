"""Distances that the fence's scale can show.

A distance has to be a multiple of the scale where the part's own size is one. A distance need not
be where something forces it: a part with a size off the scale, or panels and kerfs that have to add
up exactly while kerf, trim or stock is off the scale. So a distance off the scale is a finding

* where everything that could force it - the kerfs, the stock's size and trim, every panel of the
  workpiece - is a multiple of the scale; or
* where stock and trim are multiples, all panels in the kept piece lie in one row whose size is a
  multiple, and the rest holds no panel: then kept could as well be a little larger or smaller.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report, show
from cutlist.audit.operations import operations_of
from cutlist.audit.replay import spans
from cutlist.audit.settings import saw_of
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from collections.abc import Iterable

    from cutlist.audit.replay import Replay
    from cutlist.model.plan import Cut, Plan

Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Contents:
    """The panels that a piece becomes, across a rip and across a crosscut.

    Each field is the one row (start and size across the cut) that all of them share, or None
    where they lie in several rows.
    """

    rip: Span | None
    crosscut: Span | None

    def row(self, direction: Direction) -> Span | None:
        """Return the shared row across a cut."""
        return self.rip if direction is Direction.RIP else self.crosscut


def check_scale(plan: Plan, run: Replay, report: Report) -> None:
    """Check every cut at the shop whose distance is no multiple of its saw's scale."""
    suspects: dict[Fraction, list[tuple[Fraction, Cut]]] = defaultdict(list)
    for setting in plan.settings:
        saw = saw_of(plan.job, setting) if setting.place is Place.SHOP else None
        scale = None if saw is None else saw.scale
        if scale is not None and scale > 0 and not _on(scale, setting.distance):
            suspects[scale] += [(setting.distance, cut) for cut in setting.cuts]
    if not suspects:
        return
    contents = _contents(plan)
    for scale, cuts in suspects.items():
        _check_cuts(plan, run, scale, cuts, contents, report)


def _check_cuts(
    plan: Plan,
    run: Replay,
    scale: Fraction,
    suspects: list[tuple[Fraction, Cut]],
    contents: dict[str, Contents],
    report: Report,
) -> None:
    on_scale = _workpieces_on_scale(plan, run, scale)
    kerfs = [saw.kerf for saw in plan.job.tools]
    kerfs += [] if plan.job.store is None else [plan.job.store.kerf]
    kerfs_on_scale = all(_on(scale, kerf) for kerf in kerfs)
    for distance, cut in suspects:
        source = run.pieces.get(cut.piece)
        if source is None or source.workpiece is None:
            continue
        stock, panels = on_scale[source.workpiece][cut.direction]
        if not stock:
            continue
        if (kerfs_on_scale and panels) or _is_free(cut, contents, scale):
            message = (
                f"set at {show(distance)}, no multiple of the scale "
                f"{show(scale)}, where nothing asks for it"
            )
            report.add(Code.OFF_SCALE, f"cut {cut.number}", message)


def _on(scale: Fraction, value: Fraction) -> bool:
    return (value / scale).denominator == 1


def _is_free(cut: Cut, contents: dict[str, Contents], scale: Fraction) -> bool:
    if cut.rest is not None and cut.rest.name in contents:
        return False
    kept = contents.get(cut.kept.name)
    row = None if kept is None else kept.row(cut.direction)
    return row is not None and _on(scale, row[1])


def _contents(plan: Plan) -> dict[str, Contents]:
    """Return what each piece becomes; a piece that becomes no panel is left out."""
    contents = {
        panel.piece.name: Contents(
            spans(panel.piece, Direction.RIP)[:2], spans(panel.piece, Direction.CROSSCUT)[:2]
        )
        for panel in plan.panels
    }
    for _, operation in reversed(list(operations_of(plan))):
        found = [contents[one.name] for one in operation.makes if one.name in contents]
        if found:
            for name in operation.takes:
                contents[name] = Contents(
                    _shared(item.rip for item in found), _shared(item.crosscut for item in found)
                )
    return contents


def _shared(rows: Iterable[Span | None]) -> Span | None:
    distinct = set(rows)
    return distinct.pop() if len(distinct) == 1 else None


def _workpieces_on_scale(
    plan: Plan, run: Replay, scale: Fraction
) -> list[dict[Direction, tuple[bool, bool]]]:
    """Tell of each workpiece, across either cut, if the stock and if its panels are multiples."""
    sizes: dict[tuple[int, Direction], set[Fraction]] = defaultdict(set)
    for panel in plan.panels:
        made = run.pieces.get(panel.piece.name)
        if made is not None and made.workpiece is not None:
            for direction in Direction:
                sizes[made.workpiece, direction].add(spans(panel.piece, direction)[1])
    result = []
    for index, workpiece in enumerate(plan.workpieces):
        trim = all(_on(scale, trim) for trim in workpiece.trims.each)
        across = {Direction.RIP: workpiece.width, Direction.CROSSCUT: workpiece.length}
        result.append(
            {
                direction: (
                    trim and _on(scale, size),
                    all(_on(scale, panel) for panel in sizes[index, direction]),
                )
                for direction, size in across.items()
            }
        )
    return result

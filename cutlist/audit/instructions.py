"""What a plan says at the saw, held against its cuts: mark, edges, cautions, checks.

All of it follows from places and sizes, and is worked out here anew. The limits are those of the
plan format (*What is said at the saw*): common practice, and the warnings common to table-saw
manuals. Only sound cuts are looked at: of others nothing follows.
"""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.audit.edges import Side
from cutlist.audit.findings import Code, Report, show
from cutlist.audit.operations import sizes_of
from cutlist.audit.replay import spans, takes_far_edge
from cutlist.audit.settings import DEVICES, saw_of
from cutlist.model.edges import Edge
from cutlist.model.plan import Direction, Place, Purpose, SawSetup
from cutlist.model.sawing import Caution, Device, SizeDoubt
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.audit.operations import Sizes
    from cutlist.audit.replay import Made, Replay
    from cutlist.model.plan import Cut, Plan

_EDGES: Final = {
    (Direction.RIP, Side.LOW): Edge.LOWER,
    (Direction.RIP, Side.HIGH): Edge.UPPER,
    (Direction.CROSSCUT, Side.LOW): Edge.LEFT,
    (Direction.CROSSCUT, Side.HIGH): Edge.RIGHT,
}
#: Finest mark where the job gives no scale.
_FINEST: Final = {Units.INCH: Fraction(1, 64), Units.MM: Fraction(1, 10)}
#: Push block, push stick, shortest edge, longest unsupported, thinnest stock, in the job's unit.
_LIMITS: Final = {
    Units.INCH: tuple(map(Fraction, ("2", "6", "12", "60", "1/4"))),
    Units.MM: tuple(map(Fraction, (50, 150, 300, 1500, 6))),
}


def check_instructions(plan: Plan, run: Replay, report: Report) -> None:
    """Check what is said of every cut, and of the mark of every set-up."""
    if report.findings:
        return
    sizes = sizes_of(plan)
    left = _left_by_cuts(plan, sizes)
    for setting in plan.settings:
        for cut in setting.cuts:
            where, source = f"cut {cut.number}", run.pieces[cut.piece]
            side = _side(source, cut)
            _check_rides(cut, side, where, report)
            _check_cautions(plan, setting, cut, source, where, report)
            _check_takes_off(run, cut, source, side, where, report)
            wanted = cut.number in left and setting.place is Place.SHOP
            _check_size(plan, cut, source, side, wanted, where, report)
    _check_marks(plan, sizes, report)


def _side(source: Made, cut: Cut) -> Side:
    start = spans(source.piece, cut.direction)[0]
    return Side.LOW if spans(cut.kept, cut.direction)[0] == start else Side.HIGH


def _check_rides(cut: Cut, side: Side, where: str, report: Report) -> None:
    expected = _EDGES[cut.direction, side]
    if cut.rides is not expected:
        message = f"is said to ride on {cut.rides}, expected the {expected} edge"
        report.add(Code.RIDING_EDGE_WRONG, where, message)


def _cautions(plan: Plan, setting: SawSetup, cut: Cut, source: Made) -> Iterator[Caution]:
    if setting.place is Place.STORE:
        return
    block, stick, short, supported, floppy = _LIMITS[plan.job.units]
    across, along = spans(source.piece, cut.direction)[1::2]
    saw = saw_of(plan.job, setting)
    device = None if saw is None else DEVICES[saw.kind]
    if cut.hazards:
        yield Caution.UNSAFE
    if device is Device.FENCE and not cut.hazards:
        if setting.distance < block:
            yield Caution.PUSH_BLOCK
        elif setting.distance < stick:
            yield Caution.PUSH_STICK
        if along < short:
            yield Caution.SHORT
    if across - setting.distance < setting.kerf:
        yield Caution.UNDER_KERF
    if max(along, across) > supported and device is not Device.GUIDE:
        yield Caution.SUPPORT
    assert source.workpiece is not None
    if plan.workpieces[source.workpiece].thickness < floppy:
        yield Caution.THIN


def _check_cautions(
    plan: Plan, setting: SawSetup, cut: Cut, source: Made, where: str, report: Report
) -> None:
    expected = tuple(_cautions(plan, setting, cut, source))
    if cut.cautions != expected:
        told, wanted = (", ".join(one) or "nothing" for one in (cut.cautions, expected))
        report.add(Code.CAUTIONS_WRONG, where, f"is marked {told}, expected {wanted}")


def _check_takes_off(
    run: Replay, cut: Cut, source: Made, side: Side, where: str, report: Report
) -> None:
    """Check the edge that a clean-up takes off; no other cut has one."""
    expected: Edge | None = None
    if cut.purpose is Purpose.CLEAN_UP:
        off = side.other if takes_far_edge(run, source, side, cut) else side
        expected = _EDGES[cut.direction, off]
    if cut.takes_off is not expected:
        message = f"is said to take off {cut.takes_off}, expected {expected}"
        report.add(Code.EDGE_OFF_WRONG, where, message)


def _left_by_cuts(plan: Plan, sizes: Sizes) -> set[int]:
    """Return the numbers of the operations that leave a panel a size which no distance set."""
    return {
        one.operation.number
        for panel in plan.panels
        for given in sizes.get(panel.piece.name, {}).values()
        for one in given
        if one is not None and not one.is_set
    }


def _check_size(
    plan: Plan, cut: Cut, source: Made, side: Side, wanted: bool, where: str, report: Report
) -> None:
    check = cut.check
    if check is None or not wanted:
        if check is not None or wanted:
            message = "leaves a panel its size" if wanted else "leaves no panel its size"
            report.add(Code.SIZE_CHECK_WRONG, where, f"{message}, and says otherwise")
        return
    assert cut.rest is not None
    size = spans(cut.rest, cut.direction)[1]
    if check.size != size:
        message = f"has a size of {show(check.size)} checked, {show(size)} is left"
        report.add(Code.SIZE_CHECK_WRONG, where, message)
    is_true = source.edges.at(cut.direction, side).clean
    assert source.workpiece is not None
    work = plan.workpieces[source.workpiece]
    start, length = spans(source.piece, cut.direction)[:2]
    whole = work.width if cut.direction is Direction.RIP else work.length
    is_own = work.bought and (start == 0 if side is Side.LOW else start + length == whole)
    allowed = {SizeDoubt.EDGE_NOT_TRUE} if not is_true else {SizeDoubt.REMAINDER}
    if is_true and is_own:
        allowed.add(SizeDoubt.SHEETS_DIFFER)
    if check.doubt not in allowed:
        message = f"doubts a size because {check.doubt.value}, which is not so"
        report.add(Code.SIZE_CHECK_WRONG, where, message)
    is_marked = check.doubt is not SizeDoubt.REMAINDER
    if check.mark_from is not (_EDGES[cut.direction, side.other] if is_marked else None):
        message = f"marks a size from {check.mark_from}"
        report.add(Code.SIZE_CHECK_WRONG, where, message)


def _check_marks(plan: Plan, sizes: Sizes, report: Report) -> None:
    """Check that each mark is the distance, or beside it where the scale has none there."""
    sized = _distances_of_panels(plan, sizes)
    told: dict[tuple[str, Fraction], set[Fraction]] = defaultdict(set)
    for setting in plan.settings:
        distance, mark, where = setting.distance, setting.mark, f"setting {setting.number}"
        saw = saw_of(plan.job, setting) if setting.place is Place.SHOP else None
        if saw is None:
            if mark != distance:
                report.add(Code.MARK_WRONG, where, f"is set to {show(mark)} at the store")
            continue
        scale = saw.scale or _FINEST[plan.job.units]
        told[setting.tool, distance].add(mark)
        low = distance // scale * scale
        near = {distance} if low == distance else {low, low + scale} - {Fraction(0)}
        if low == 0:
            near.add(distance)
        if low != distance and (setting.tool, distance) in sized:
            near = {low if distance - low < low + scale - distance else low + scale} - {Fraction(0)}
            near = near or {distance}
        if mark not in near:
            wanted = " or ".join(map(show, sorted(near)))
            report.add(Code.MARK_WRONG, where, f"is set to {show(mark)}, expected {wanted}")
    for (tool, distance), marks in told.items():
        if len(marks) > 1:
            message = f"{tool} is set to several marks for {show(distance)}"
            report.add(Code.MARK_WRONG, "the settings", message)


def _distances_of_panels(plan: Plan, sizes: Sizes) -> set[tuple[str, Fraction]]:
    """Return each tool and distance that gives a panel its size."""
    return {
        (one.setup.tool, one.setup.distance)
        for panel in plan.panels
        for given in sizes.get(panel.piece.name, {}).values()
        for one in given
        if one is not None
        and one.is_set
        and isinstance(one.setup, SawSetup)
        and one.setup.place is Place.SHOP
    }

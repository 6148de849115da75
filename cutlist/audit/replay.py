"""The cuts replayed one by one: which pieces exist, where they lie, how clean their edges are.

The replay trusts nothing that it can work out, yet goes on after a fault with what the plan
declares, so that one wrong cut does not hide what is wrong with the next.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.audit.edges import Edges, Side, after_cut, new_edges
from cutlist.audit.findings import Code, Report, show
from cutlist.model.edges import EdgeTrims
from cutlist.model.job import FactoryEdge
from cutlist.model.plan import Direction, Piece, Place, Purpose

if TYPE_CHECKING:
    from cutlist.model.plan import Cut, Plan, SawSetup, Workpiece

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Made:
    """A piece as the replay knows it.

    Parameters
    ----------
    piece
        Its name, place and size.
    workpiece
        Index of the workpiece that it comes from; None where a fault hides that.
    edges
        How much has still to come off each edge.
    purpose
        Purpose of the cut that kept it; None for a workpiece and for the rest of a cut.
    """

    piece: Piece
    workpiece: int | None
    edges: Edges
    purpose: Purpose | None = None


@dataclass(slots=True)
class Replay:
    """What the cuts made of the workpieces.

    Parameters
    ----------
    pieces
        Every piece that ever existed, by name, in the order in which they came to be.
    final
        Names of the pieces left at the end, in the same order (the values carry nothing).
    at_home
        Names of the pieces there are after the last store cut.
    useful
        Names of the pieces that are cut again or are panels: all others go to waste.
    """

    pieces: dict[str, Made] = field(default_factory=dict)
    final: dict[str, None] = field(default_factory=dict)
    at_home: tuple[str, ...] = ()
    useful: frozenset[str] = frozenset()


def replay(plan: Plan, run: Replay, report: Report) -> None:
    """Run all cuts in order: what they make goes to ``run``, faults go to the report."""
    for index, workpiece in enumerate(plan.workpieces):
        _add(run, _whole(plan, workpiece, index), f"workpiece {workpiece.piece}", report)
    last_store = max(
        (i for i, s in enumerate(plan.settings) if s.place is Place.STORE and s.cuts), default=-1
    )
    run.at_home = tuple(run.final)
    consumed = {cut.piece for setting in plan.settings for cut in setting.cuts}
    run.useful = frozenset(consumed | {panel.piece.name for panel in plan.panels})
    number = 0
    for position, setting in enumerate(plan.settings):
        for cut in setting.cuts:
            number += 1
            if cut.number != number:
                message = f"is numbered {cut.number}, expected {number}"
                report.add(Code.CUT_NUMBER, f"cut {cut.number}", message)
            _run_cut(plan, run, setting, cut, report)
        if position == last_store:
            run.at_home = tuple(run.final)


def _whole(plan: Plan, workpiece: Workpiece, index: int) -> Made:
    """Return a workpiece before it is cut; only a sheet's own edges may be straight."""
    piece = Piece(workpiece.piece, ZERO, ZERO, workpiece.length, workpiece.width)
    are_straight = workpiece.bought and any(
        sheet.name == workpiece.stock and sheet.factory_edge is FactoryEdge.STRAIGHT
        for sheet in plan.job.sheets
    )
    return Made(piece, index, new_edges(workpiece.trims, are_straight=are_straight))


def _add(run: Replay, made: Made, where: str, report: Report) -> None:
    name = made.piece.name
    if not name:
        report.add(Code.NAME_EMPTY, where, "has a piece without a name")
    if name in run.pieces:
        report.add(Code.NAME_TAKEN, where, f"piece {name}: an earlier piece has this name")
    if made.piece.length <= 0 or made.piece.width <= 0:
        size = f"{show(made.piece.length)} × {show(made.piece.width)}"
        report.add(Code.PIECE_WITHOUT_SIZE, where, f"piece {name} measures {size}")
    run.pieces[name] = made
    run.final[name] = None


def _run_cut(plan: Plan, run: Replay, setting: SawSetup, cut: Cut, report: Report) -> None:
    where = f"cut {cut.number}"
    source = run.pieces.get(cut.piece)
    if source is None:
        report.add(Code.PIECE_UNKNOWN, where, f"piece {cut.piece} does not exist")
    elif cut.piece not in run.final:
        report.add(Code.PIECE_GONE, where, f"piece {cut.piece} is cut already")
    run.final.pop(cut.piece, None)
    if cut.purpose is Purpose.BREAK_DOWN and setting.place is not Place.STORE:
        report.add(Code.BREAK_DOWN_AT_SHOP, where, "a break-down cut is made at the store")
    if setting.place is Place.STORE:
        _check_bought(plan, source, where, report)

    origin = None
    kept_edges = rest_edges = new_edges(EdgeTrims())
    if source is not None:
        origin = source.workpiece
        side = _check_geometry(source.piece, setting, cut, where, report)
        kept_edges, rest_edges = _divide(plan, source, side, setting, cut)
        if side is not None:
            _check_edges(plan, run, source, side, setting, cut, report)
    _add(run, Made(cut.kept, origin, kept_edges, cut.purpose), where, report)
    if cut.rest is not None:
        _add(run, Made(cut.rest, origin, rest_edges), where, report)


def _check_bought(plan: Plan, source: Made | None, where: str, report: Report) -> None:
    if source is None or source.workpiece is None:
        return
    workpiece = plan.workpieces[source.workpiece]
    if not workpiece.bought:
        message = f"the store cuts workpiece {workpiece.piece}, which is on hand"
        report.add(Code.STORE_CUTS_OFFCUT, where, message)


def spans(piece: Piece, direction: Direction) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    """Return a piece's start and size across the cut, then its start and size along the cut."""
    if direction is Direction.RIP:
        return piece.y, piece.width, piece.x, piece.length
    return piece.x, piece.length, piece.y, piece.width


def _check_geometry(
    piece: Piece, setting: SawSetup, cut: Cut, where: str, report: Report
) -> Side | None:
    """Check that kept and rest tile the piece; return the side at the fence if there is one."""
    start, size, along, run_length = spans(piece, cut.direction)
    kept_start, kept_size = spans(cut.kept, cut.direction)[:2]
    results = [cut.kept] if cut.rest is None else [cut.kept, cut.rest]
    if any(spans(made, cut.direction)[2:] != (along, run_length) for made in results):
        other = Direction.CROSSCUT if cut.direction is Direction.RIP else Direction.RIP
        turned = spans(piece, other)
        if all(spans(made, other)[2:] == turned[2:] for made in results):
            message = f"is called a {cut.direction.value} but divides the piece as a {other.value}"
            report.add(Code.WRONG_DIRECTION, where, message)
            return None
        message = f"kept or rest does not reach from edge to edge of piece {piece.name}"
        report.add(Code.NOT_EDGE_TO_EDGE, where, message)
    if kept_size != setting.distance:
        message = f"kept measures {show(kept_size)} from the fence, set at {show(setting.distance)}"
        report.add(Code.KEPT_NOT_DISTANCE, where, message)

    left = size - kept_size
    if left <= 0:
        message = f"kept measures {show(kept_size)} of the piece's {show(size)}"
        report.add(Code.NOTHING_TAKEN_OFF, where, message)
    side = None
    if kept_start == start:
        side = Side.LOW
    elif kept_start + kept_size == start + size:
        side = Side.HIGH
    else:
        message = f"kept shares no edge of piece {piece.name} that could ride the fence"
        report.add(Code.KEPT_OFF_THE_EDGE, where, message)
    _check_rest(cut, side, (start, size), setting.kerf, where, report)
    return side


def _check_rest(
    cut: Cut,
    side: Side | None,
    span: tuple[Fraction, Fraction],
    kerf: Fraction,
    where: str,
    report: Report,
) -> None:
    start, size = span
    kept_start, kept_size = spans(cut.kept, cut.direction)[:2]
    expected = size - kept_size - kerf
    if cut.rest is None:
        if expected > 0:
            message = f"a rest of {show(expected)} is left but not given"
            report.add(Code.REST_MISSING, where, message)
        return
    if expected <= 0:
        message = f"a rest is given where {show(size - kept_size)} is left, no more than the kerf"
        report.add(Code.REST_IMPOSSIBLE, where, message)
        return
    if side is None:
        return
    rest_start = kept_start + kept_size + kerf if side is Side.LOW else start
    if spans(cut.rest, cut.direction)[:2] != (rest_start, expected):
        found = spans(cut.rest, cut.direction)
        message = (
            f"rest starts at {show(found[0])} and measures {show(found[1])}, expected "
            f"{show(rest_start)} and {show(expected)}: kept, one kerf, rest make up the piece"
        )
        report.add(Code.REST_NOT_A_KERF_AWAY, where, message)


def _divide(
    plan: Plan, source: Made, side: Side | None, setting: SawSetup, cut: Cut
) -> tuple[Edges, Edges]:
    """Return the edges of kept and of rest."""
    if side is None:
        return source.edges, source.edges
    size = spans(source.piece, cut.direction)[1]
    kept_size = spans(cut.kept, cut.direction)[1]
    at_store = setting.place is Place.STORE
    rough = plan.job.store.accuracy if at_store and plan.job.store is not None else ZERO
    return (
        after_cut(source.edges, cut.direction, side.other, size - kept_size, rough),
        after_cut(source.edges, cut.direction, side, kept_size + setting.kerf, rough),
    )


def _check_edges(
    plan: Plan,
    run: Replay,
    source: Made,
    side: Side,
    setting: SawSetup,
    cut: Cut,
    report: Report,
) -> None:
    """Check the edge riding the fence, and what a clean-up takes off."""
    where = f"cut {cut.number}"
    riding = source.edges.at(cut.direction, side)
    if cut.purpose is Purpose.PART and setting.place is Place.SHOP and not riding.may_ride:
        message = f"{riding.kind} edge of piece {cut.piece} rides the fence"
        report.add(Code.UNCLEAN_REFERENCE_EDGE, where, message)
    if cut.purpose is Purpose.CLEAN_UP:
        kept_size = spans(cut.kept, cut.direction)[1]
        if takes_far_edge(run, source, side, cut):
            taken = spans(source.piece, cut.direction)[1] - kept_size
            needed = _clean_up_needed(plan, source, cut.direction, side.other)
        else:
            # The bad edge lies at the fence: what comes off it is the kept piece itself.
            taken = kept_size + setting.kerf
            needed = _clean_up_needed(plan, source, cut.direction, side)
        if taken < needed:
            message = f"takes off {show(taken)}, at least {show(needed)} is needed"
            report.add(Code.CLEAN_UP_TOO_SMALL, where, message)


def takes_far_edge(run: Replay, source: Made, side: Side, cut: Cut) -> bool:
    """Tell which edge a clean-up takes off: that of the piece which goes to waste.

    Where both go to waste it is that of the smaller one, where both go on the one at the fence if
    that is not clean.
    """
    if cut.rest is None:
        return True
    uses_kept, uses_rest = (made.name in run.useful for made in (cut.kept, cut.rest))
    if uses_kept is not uses_rest:
        return uses_kept
    if uses_kept:
        return source.edges.at(cut.direction, side).clean
    return spans(cut.rest, cut.direction)[1] <= spans(cut.kept, cut.direction)[1]


def _clean_up_needed(plan: Plan, source: Made, direction: Direction, side: Side) -> Fraction:
    """Return what a clean-up of an edge takes off at least: all of trim or accuracy, no instalment.

    An edge that is clean already asks for its side's trim like a factory edge: the format gives no
    smaller figure.
    """
    edge, trim = source.edges.at(direction, side), ZERO
    if source.workpiece is not None:
        whole = new_edges(plan.workpieces[source.workpiece].trims)
        trim = whole.at(direction, side).factory
    if edge.store <= 0:
        return trim
    accuracy = plan.job.store.accuracy if plan.job.store is not None else ZERO
    return max(accuracy, trim) if edge.factory > 0 else accuracy

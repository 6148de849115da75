"""What is left at the end: every panel is one whole piece of its part, the rest is listed."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report, show
from cutlist.audit.transport import fits
from cutlist.model.job import Grain
from cutlist.model.plan import Purpose

if TYPE_CHECKING:
    from cutlist.audit.replay import Made, Replay
    from cutlist.model.job import KeepFrom, Part
    from cutlist.model.plan import Leftover, Panel, Piece, Plan


def check_panels(plan: Plan, run: Replay, report: Report) -> None:
    """Check every panel against its piece and its part, and every part's quantity."""
    parts = {part.name: part for part in plan.job.parts}
    copies: dict[str, list[int]] = defaultdict(list)
    for panel in plan.panels:
        where = f"panel {panel.part} {panel.copy}"
        copies[panel.part].append(panel.copy)
        made = _listed_piece(run, panel.piece, where, report)
        if made is not None:
            _check_edges(made, where, report)
            if made.purpose is Purpose.ROUGH:
                message = f"piece {panel.piece.name} was cut rough, to be cut again, and was not"
                report.add(Code.ROUGH_CUT_IS_LAST, where, message)
        part = parts.get(panel.part)
        if part is None:
            report.add(Code.PART_UNKNOWN, where, f"the job has no part {panel.part}")
            continue
        index = None if made is None else made.workpiece
        workpiece = None if index is None else plan.workpieces[index]
        has_grain = workpiece is None or workpiece.has_grain
        _check_size(panel, part, where, report, has_grain=has_grain)
        asked = (part.material, part.thickness)
        if workpiece is not None and (workpiece.material, workpiece.thickness) != asked:
            message = (
                f"cut from {workpiece.material} {show(workpiece.thickness)}, asked for "
                f"{part.material} {show(part.thickness)}"
            )
            report.add(Code.PANEL_MATERIAL, where, message)
    short = {entry.part: entry.count for entry in plan.short}
    for part in plan.job.parts:
        _check_copies(part, short.pop(part.name, 0), copies[part.name], report)
    for name in short:
        report.add(Code.PART_UNKNOWN, "what is short", f"the job has no part {name}")


def _check_copies(part: Part, short: int, copies: list[int], report: Report) -> None:
    where = f"part {part.name}"
    wanted = part.qty - short
    if len(copies) != wanted or short < 0:
        left_out = f", {short} of them left out" if short else ""
        message = f"the plan has {len(copies)} panels, asked for {part.qty}{left_out}"
        report.add(Code.QUANTITY_NOT_MET, where, message)
    wrong = sorted(c for c, n in Counter(copies).items() if n > 1 or not 1 <= c <= wanted)
    if wrong:
        numbers = ", ".join(str(copy) for copy in wrong)
        message = f"copies count from 1 to {wanted}, each once; wrong: {numbers}"
        report.add(Code.COPY_NUMBER, where, message)


def _check_size(panel: Panel, part: Part, where: str, report: Report, *, has_grain: bool) -> None:
    piece = panel.piece
    found = (piece.length, piece.width)
    straight = (part.length, part.width)
    turned = (part.width, part.length)
    wanted = turned if panel.turned else straight
    if found == wanted:
        is_free = part.grain is Grain.ANY or not has_grain
        grain_allows = is_free or panel.turned == (part.grain is Grain.WIDTH)
        if not grain_allows:
            how = "turned" if panel.turned else "not turned"
            message = f"is {how}, but the part's {part.grain.value} has to lie along the grain"
            report.add(Code.PANEL_GRAIN, where, message)
    elif found in (straight, turned):
        how = "turned" if panel.turned else "not turned"
        message = f"is called {how}, but its piece lies the other way"
        report.add(Code.PANEL_GRAIN, where, message)
    else:
        message = (
            f"piece {piece.name} measures {show(piece.length)} × {show(piece.width)}, "
            f"expected {show(wanted[0])} × {show(wanted[1])}"
        )
        report.add(Code.PANEL_SIZE, where, message)


def _check_edges(made: Made, where: str, report: Report) -> None:
    for words, edge in made.edges.each():
        if edge.factory > 0:
            message = f"has a factory edge at the {words}: {show(edge.factory)} has to come off"
            report.add(Code.PANEL_FACTORY_EDGE, where, message)
        if edge.store > 0:
            message = f"has a store-cut edge at the {words}: {show(edge.store)} has to come off"
            report.add(Code.PANEL_STORE_EDGE, where, message)


def check_leftovers(plan: Plan, run: Replay, report: Report) -> None:
    """Check every leftover, and that each piece left at the end is listed once."""
    for leftover in plan.leftovers:
        where = f"offcut {leftover.piece.name}"
        made = _listed_piece(run, leftover.piece, where, report)
        if made is not None and made.workpiece is not None:
            workpiece = plan.workpieces[made.workpiece]
            wanted = (workpiece.material, workpiece.thickness)
            if (leftover.material, leftover.thickness) != wanted:
                message = (
                    f"is called {leftover.material} {show(leftover.thickness)}, "
                    f"its workpiece is {wanted[0]} {show(wanted[1])}"
                )
                report.add(Code.LEFTOVER_MATERIAL, where, message)
        if plan.job.keep_from is not None:
            _check_keep(leftover, plan.job.least_kept(leftover.material), where, report)
    listed = Counter(panel.piece.name for panel in plan.panels)
    listed.update(leftover.piece.name for leftover in plan.leftovers)
    for name, count in listed.items():
        if count > 1:
            message = f"is listed {count} times among panels and offcuts"
            report.add(Code.LISTED_TWICE, f"piece {name}", message)
    for name in run.final:
        if name not in listed:
            message = "is left at the end, but neither a panel nor a listed offcut"
            report.add(Code.FINAL_PIECE_UNLISTED, f"piece {name}", message)


def _check_keep(leftover: Leftover, least: KeepFrom, where: str, report: Report) -> None:
    worth = fits(least.length, least.width, leftover.piece.length, leftover.piece.width)
    if leftover.keep != worth:
        message = "is marked to keep, but too small" if leftover.keep else "is not marked to keep"
        report.add(Code.KEEP_MARK_WRONG, where, message)


def _listed_piece(run: Replay, piece: Piece, where: str, report: Report) -> Made | None:
    """Return the piece that a panel or leftover names, or None where none is left."""
    if piece.name not in run.final:
        message = f"piece {piece.name} is not among the pieces left at the end"
        report.add(Code.LISTED_PIECE_MISSING, where, message)
        return None
    made = run.pieces[piece.name]
    if piece != made.piece:
        message = f"piece {piece.name} lies or measures otherwise than the cuts leave it"
        report.add(Code.LISTED_PLACE_DIFFERS, where, message)
    return made

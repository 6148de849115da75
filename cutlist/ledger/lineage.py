"""What becomes of each piece: the plan looked up by piece name.

Everything is derived from the plan's list of cuts; a piece is a panel, is cut again, or stays.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.plan import Direction, Piece, Place
from cutlist.planning.instructions.cautions import cut_flags

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from cutlist.model.job import SawKind
    from cutlist.model.plan import Cut, Hazard, Leftover, Panel, Plan, Setting, Workpiece
    from cutlist.planning.instructions.cautions import Flag

__all__ = ["CutLine", "Story", "read_story"]


@dataclass(frozen=True, slots=True)
class CutLine:
    """The blade's way across a workpiece, in the workpiece's frame.

    ``start`` and ``end`` run along the cut, ``middle`` is the centre of the kerf across it;
    ``depth`` counts the cuts before it that made its piece.
    """

    setting: Setting
    cut: Cut
    middle: Fraction
    start: Fraction
    end: Fraction
    depth: int

    @property
    def direction(self) -> Direction:
        """A rip runs along x, a crosscut along y."""
        return self.cut.direction


@dataclass(frozen=True, slots=True)
class Story:
    """The plan by piece name.

    Parameters
    ----------
    pieces
        Every piece that ever exists, workpieces included, at its place on its sheet.
    stock_of
        The workpiece that each comes from.
    made_at
        The number of the setting that made it; missing for a workpiece.
    divided_by
        The setting and cut that divides it; missing for a piece that stays.
    panel_of, leftover_of
        What a piece that stays is.
    qty_of
        How many panels of each part the plan has.
    lines
        The cut lines of each workpiece, in cutting order.
    hazards
        For each cut that no saw makes safely, by its number, why.
    """

    plan: Plan
    pieces: Mapping[str, Piece]
    stock_of: Mapping[str, Workpiece]
    made_at: Mapping[str, int]
    divided_by: Mapping[str, tuple[Setting, Cut]]
    panel_of: Mapping[str, Panel]
    leftover_of: Mapping[str, Leftover]
    qty_of: Mapping[str, int]
    lines: Mapping[str, tuple[CutLine, ...]]
    hazards: Mapping[int, tuple[Hazard, ...]]
    _final: Mapping[str, tuple[Piece, ...]]

    def staying(self, workpiece: str) -> tuple[Piece, ...]:
        """Give the pieces of one workpiece that are left at the end, in order of their making."""
        return self._final[workpiece]

    def store_lines(self, workpiece: str) -> tuple[CutLine, ...]:
        """Give the cuts that the store makes in one workpiece, in their order."""
        lines = self.lines[workpiece]
        return tuple(line for line in lines if line.setting.place is Place.STORE)

    def blanks(self, workpiece: str) -> tuple[Piece, ...]:
        """Give the pieces that the store's cuts leave of a workpiece; none where it makes none."""
        made = (
            piece
            for line in self.store_lines(workpiece)
            for piece in (line.cut.kept, line.cut.rest)
            if piece is not None
        )
        return tuple(piece for piece in made if not self._is_cut_at_store(piece.name))

    def _is_cut_at_store(self, piece: str) -> bool:
        divided = self.divided_by.get(piece)
        return divided is not None and divided[0].place is Place.STORE

    def flags(self, setting: Setting, cut: Cut) -> tuple[Flag, ...]:
        """Give the marks printed beside a cut."""
        piece, job = self.pieces[cut.piece], self.plan.job
        kind = self.kind_of(setting)
        unsafe, thickness = cut.number in self.hazards, self.stock_of[cut.piece].thickness
        return cut_flags(setting, cut, piece, job.units, kind, unsafe=unsafe, thickness=thickness)

    def kind_of(self, setting: Setting) -> SawKind | None:
        """Give the kind of saw that a setting is at; None for a table saw that is the only one."""
        return next((saw.kind for saw in self.plan.job.saws if saw.name == setting.tool), None)

    @property
    def has_tools(self) -> bool:
        """Whether more than one tool is set up."""
        return len({(setting.place, setting.tool) for setting in self.plan.settings}) > 1

    def is_kept_offcut(self, piece: str) -> bool:
        """Tell whether the piece is an offcut worth keeping."""
        leftover = self.leftover_of.get(piece)
        return leftover is not None and leftover.keep

    def sizes_panels(self, cut: Cut) -> bool:
        """Tell whether a panel gets the size across this cut by being what the cut leaves.

        Such a size was never set at a fence or stop: it carries the errors of the sheet's size, of
        the kerfs and of the cuts before.
        """
        return cut.rest is not None and self._leads_to_panel(cut.rest, cut.direction)

    def sets_panels(self, cut: Cut) -> bool:
        """Tell whether a panel gets the size across this cut by the distance that is set."""
        return self._leads_to_panel(cut.kept, cut.direction)

    def leaves_panels(self, cut: Cut, piece: Piece | None) -> bool:
        """Tell whether the size of a piece of this cut goes into that of a panel.

        It does where the panel is the piece, across this cut, or what later cuts leave of it.
        """
        return piece is not None and self._leads_to_panel(piece, cut.direction, with_rest=True)

    def _leads_to_panel(self, piece: Piece, way: Direction, *, with_rest: bool = False) -> bool:
        """Follow a piece through the cuts across ``way``, and along with what they leave of it."""
        waiting = [piece.name]
        while waiting:
            name = waiting.pop()
            if name in self.panel_of:
                return True
            if name in self.divided_by:
                following = self.divided_by[name][1]
                both: tuple[Piece | None, ...] = (following.kept, following.rest)
                if following.direction is way:
                    both = (None, following.rest if with_rest else None)
                waiting.extend(child.name for child in both if child is not None)
        return False


def read_story(plan: Plan) -> Story:
    """Follow the cuts of a plan through; one pass, linear in their number."""
    pieces: dict[str, Piece] = {}
    stock_of: dict[str, Workpiece] = {}
    lines: dict[str, list[CutLine]] = {}
    depth: dict[str, int] = {}
    made_at: dict[str, int] = {}
    divided_by: dict[str, tuple[Setting, Cut]] = {}
    for workpiece in plan.workpieces:
        name = workpiece.piece
        zero = Fraction(0)
        pieces[name] = Piece(name, zero, zero, workpiece.length, workpiece.width)
        stock_of[name] = workpiece
        lines[name] = []
        depth[name] = 0
    for setting, cut in _cuts(plan):
        piece = pieces[cut.piece]
        stock = stock_of[cut.piece]
        divided_by[cut.piece] = (setting, cut)
        lines[stock.piece].append(_line(setting, cut, piece, depth[cut.piece]))
        for child in (cut.kept, cut.rest):
            if child is not None:
                pieces[child.name] = child
                made_at[child.name] = setting.number
                stock_of[child.name] = stock
                depth[child.name] = depth[cut.piece] + 1
    final: dict[str, list[Piece]] = {workpiece.piece: [] for workpiece in plan.workpieces}
    for name, piece in pieces.items():
        if name not in divided_by:
            final[stock_of[name].piece].append(piece)
    return Story(
        plan=plan,
        pieces=pieces,
        stock_of=stock_of,
        made_at=made_at,
        divided_by=divided_by,
        panel_of={panel.piece.name: panel for panel in plan.panels},
        leftover_of={leftover.piece.name: leftover for leftover in plan.leftovers},
        qty_of=Counter(panel.part for panel in plan.panels),
        lines={name: tuple(found) for name, found in lines.items()},
        hazards=_hazards(plan),
        _final={name: tuple(found) for name, found in final.items()},
    )


def _hazards(plan: Plan) -> dict[int, tuple[Hazard, ...]]:
    found: dict[int, tuple[Hazard, ...]] = {}
    for flag in plan.flags:
        found[flag.cut] = (*found.get(flag.cut, ()), flag.hazard)
    return found


def _cuts(plan: Plan) -> Iterator[tuple[Setting, Cut]]:
    for setting in plan.settings:
        for cut in setting.cuts:
            yield setting, cut


def _line(setting: Setting, cut: Cut, piece: Piece, depth: int) -> CutLine:
    """Place the blade: beside ``kept``, on the side away from the fence, inside ``piece``."""
    if cut.direction is Direction.RIP:
        near, far = piece.y, piece.y + piece.width
        kept_near, kept_far = cut.kept.y, cut.kept.y + cut.kept.width
        start, end = piece.x, piece.x + piece.length
    else:
        near, far = piece.x, piece.x + piece.length
        kept_near, kept_far = cut.kept.x, cut.kept.x + cut.kept.length
        start, end = piece.y, piece.y + piece.width
    if kept_near > near:
        middle = max(kept_near - setting.kerf / 2, near)
    else:
        middle = min(kept_far + setting.kerf / 2, far)
    return CutLine(setting, cut, middle, start, end, depth)

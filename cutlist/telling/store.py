"""What is said to whoever cuts at the store: which sheets, how, and what to mind."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.charges import store_charge
from cutlist.ledger.taken_home import is_tight, mixed_up
from cutlist.model.plan import Direction, Place
from cutlist.model.sawing import is_thin
from cutlist.telling.grain import has_grain
from cutlist.telling.take_home import some_names
from cutlist.telling.wording import also_words, counted, money, paper_name, piece_size
from cutlist.units.lengths import format_length, format_size, format_thickness

if TYPE_CHECKING:
    from collections.abc import Sequence
    from fractions import Fraction

    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.store_sheets import CutAlike
    from cutlist.ledger.taken_home import Taken
    from cutlist.model.job import Job

__all__ = [
    "about_sheets",
    "arrow_words",
    "briefly_named",
    "cuts_words",
    "how_words",
    "note_words",
    "sheets_named",
    "sheets_title",
    "step_words",
    "steps_title",
    "store_distance",
]

#: Sheets whose letters are all written out, and that have a box to tick each.
MOST_TICKED: Final = 8
#: Sheets on all of which a piece is named, at length and in brief.
_FEW: Final = 4
_PAIR: Final = 2


def store_distance(distance: Fraction, job: Job) -> str:
    """Print a distance as it is: the store's saw need not share the marks of the shop's."""
    return format_length(distance, job.units)


def sheets_named(group: CutAlike, piece: str) -> str:
    """Name a piece of the first sheet on all of them: ``A1, B1``."""
    names = [paper_name(name) for name in group.names(piece)]
    return ", ".join(names) if len(names) <= _FEW else f"{names[0]}, {names[1]} … {names[-1]}"


def briefly_named(group: CutAlike, piece: str) -> str:
    """Name a piece of the first sheet on all of them, of more than two on the ends alone."""
    names = [paper_name(name) for name in group.names(piece)]
    return ", ".join(names) if len(names) <= _PAIR else f"{names[0]} … {names[-1]}"


def sheets_title(group: CutAlike) -> str:
    """Name the sheets that are cut alike."""
    letters = group.letters
    if len(letters) == 1:
        return f"Sheet {letters[0]}"
    listed = ", ".join(letters) if len(letters) <= MOST_TICKED else f"{letters[0]} … {letters[-1]}"
    return f"{len(letters)} sheets alike: {listed}"


def about_sheets(ledger: Ledger, group: CutAlike) -> str:
    """Say what the sheets are, and how many cuts and pieces each comes to."""
    job, first, letters = ledger.plan.job, group.first, group.letters
    each = " each" if len(letters) > 1 else ""
    about = (
        f"{first.material} {format_thickness(first.thickness, job.units)},"
        f" {format_size(first.length, first.width, job.units)} ({first.stock}):"
        f" {counted(len(group.lines), 'cut')}, {counted(len(group.blanks), 'piece')}{each}"
    )
    return about + (f"; sheets {', '.join(letters)}" if len(letters) > MOST_TICKED else "")


def arrow_words(ledger: Ledger, group: CutAlike) -> str:
    """Explain the arrow above the sketch."""
    along = "; the grain runs along it" if has_grain(ledger.plan.job, group.first) else ""
    return f"the arrow to pencil on each piece{along}"


def cuts_words(ledger: Ledger) -> tuple[str, str]:
    """Say how many cuts the store makes in how many sheets, and what it charges for them."""
    store = ledger.plan.job.store
    assert store is not None
    charge = store_charge(ledger)
    cuts = sum(count for _, count in charge.trips)
    sheets = sum(len(letters) for letters, _ in charge.trips)
    words = f"{counted(cuts, 'cut')} in {counted(sheets, 'sheet')}"
    if not store.cut_price:
        return words, ""
    if not charge.paid:
        return words, "all free"
    free = f" beyond the {store.free_cuts} free" if store.free_cuts else ""
    each = " on each trip" if free and len(charge.trips) > 1 else ""
    return words, f"{money(charge.amount)} to pay for {counted(charge.paid, 'cut')}{free}{each}"


def how_words(ledger: Ledger) -> str:
    """Say how to cut, to whoever has only this page."""
    job, store = ledger.plan.job, ledger.plan.job.store
    assert store is not None
    rough = ""
    if store.accuracy:
        off = format_length(store.accuracy, job.units)
        rough = f" It may be off by {off}: each edge that is cut here is cleaned up at home."
    kerf = format_length(store.kerf, job.units)
    return (
        "Make the cuts of a sheet in the order of their numbers, each straight through from edge "
        "to edge. The measure is what comes off at the end or edge that is named, as the piece "
        f"lies in the sketch; the width of the saw's cut, {kerf}, goes off the rest."
        f"{rough}{_largest_words(job)}{_between_words(ledger)} Pencil its name on each piece as it "
        "comes off, and an arrow that points to the right in the sketch."
    )


def _largest_words(job: Job) -> str:
    """Say how large a piece may be, for whoever cuts a little over."""
    if job.vehicle is None:
        return ""
    sizes = [format_size(*opening, job.units) for opening in job.vehicle.openings]
    return f" No piece may come out larger than {' or '.join(sizes)}."


def _between_words(ledger: Ledger) -> str:
    """Explain the name of a piece that is cut again at the store, by the first there is."""
    for setting in ledger.plan.settings:
        for cut in setting.cuts if setting.place is Place.STORE else ():
            for piece in (cut.kept, cut.rest):
                said = "" if piece is None else paper_name(piece.name)
                if piece is not None and said != piece.name:
                    *some, last = said.split("+")
                    of = f"{', '.join(some)} and {last}" if some else said.replace("…", " to ")
                    return f" {said} is the piece that {of} are still in."
    return ""


def steps_title(group: CutAlike) -> str:
    """Head the list of a sheet's cuts."""
    if len(group.workpieces) == 1:
        return f"Sheet {group.first.piece}, cut by cut"
    return f"Each of the {len(group.workpieces)} sheets, cut by cut"


def step_words(ledger: Ledger, group: CutAlike, number: int, line: CutLine) -> tuple[str, ...]:
    """Say of a cut what is done, from where, and what it gives, cell by cell."""
    job, cut = ledger.plan.job, line.cut
    done = (
        " ".join(group.letters) if len(group.letters) <= MOST_TICKED else f"{len(group.letters)}×"
    )
    piece = "whole sheet" if cut.piece == group.first.piece else briefly_named(group, cut.piece)
    other = also_words(line.setting.distance, job)
    measure = store_distance(line.setting.distance, job) + (f" ({other})" if other else "")
    rest = "" if cut.rest is None else briefly_named(group, cut.rest.name)
    before = ledger.pieces[cut.piece]
    if line.direction is Direction.RIP:
        edge, way = "lower edge" if cut.kept.y == before.y else "upper edge", "along"
    else:
        edge, way = "left end" if cut.kept.x == before.x else "right end", "across"
    return done, str(number), piece, measure, edge, way, briefly_named(group, cut.kept.name), rest


def note_words(ledger: Ledger, group: CutAlike, taken: Sequence[Taken]) -> list[str]:
    """Warn of thin stock, of what may not come out larger, and of what is mixed up in a pile."""
    job = ledger.plan.job
    notes = []
    if is_thin(group.first.thickness, job.units):
        notes.append(
            "Thin stock: it bends, and its corners break. Hold it up along its whole length, and "
            "carry it flat on a thicker board."
        )
    here = {blank.name for blank in group.blanks}
    tight = [
        sheets_named(group, next(name for name in one.names if name in here))
        for one in taken
        if here & {*one.names} and is_tight(one, job)
    ]
    if tight:
        notes.append(
            f"As large as goes into the vehicle, so rather under than over: {'; '.join(tight)}."
        )
    groups = [
        ", ".join(f"{some_names(one.names)} {piece_size(one.piece, job)}" for one in group)
        for group in mixed_up(here, taken)
    ]
    if groups:
        notes.append(f"Easily mixed up, so pencil their names on at once: {'; '.join(groups)}.")
    return notes

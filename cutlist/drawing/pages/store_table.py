"""What the store cut, in the sequence of the shop: a row for each cut, to tick what came home."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.frame import add_note
from cutlist.drawing.pages.table import Column, add_table
from cutlist.drawing.primitives import Role
from cutlist.model.plan import Place
from cutlist.telling.store import store_distance
from cutlist.telling.wording import counted, panel_words, paper_name, piece_size

if TYPE_CHECKING:
    from cutlist.drawing.frame import Flow
    from cutlist.drawing.pages.sequence_rows import Progress
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Piece

__all__ = ["add_store_table"]

_COLUMNS: Final = (
    Column("done, cut", bold=True, ticks=True, role=Role.CUT_NUMBER),
    Column("setting", right=True),
    Column("piece", bold=True, flexible=True),
    Column("way"),
    Column("distance", right=True, bold=True),
    Column("comes off", flexible=True),
    Column("what is left", flexible=True),
)


def add_store_table(flow: Flow, ledger: Ledger, progress: Progress) -> None:
    """Add the table; nothing where the store cuts nothing.

    ``progress`` is moved on by the panels that come from the store ready made.
    """
    rows = []
    for setting in ledger.plan.settings:
        for cut in setting.cuts if setting.place is Place.STORE else ():
            rows.append(
                (
                    str(cut.number),
                    str(setting.number),
                    paper_name(cut.piece),
                    cut.direction.value,
                    store_distance(setting.distance, ledger.plan.job),
                    _piece_words(ledger, cut.kept, progress),
                    "nothing" if cut.rest is None else _piece_words(ledger, cut.rest, progress),
                )
            )
    if not rows:
        return
    title = f"At the store: {counted(len(rows), 'cut')}, made before the work in the shop begins"
    add_table(flow, _COLUMNS, rows, title=title, gap=3.0)
    words = (
        "Behind each piece stand the setting and the cut that it goes on with. The pages for the "
        "store's saw have the cuts sheet by sheet, in the order in which they are made there."
    )
    add_note(flow, words, theme.BODY, gap=1.5)


def _piece_words(ledger: Ledger, piece: Piece, progress: Progress) -> str:
    """Say what a piece is and at which cut of which setting it goes on."""
    words = f"{paper_name(piece.name)} {piece_size(piece, ledger.plan.job)}"
    panel = ledger.panel_of.get(piece.name)
    if panel is not None:
        progress.finish(panel.part)
        return f"{words}: finished, {panel_words(panel, ledger.qty_of[panel.part])}"
    if ledger.is_used(piece.name):
        setup, following = ledger.consumer_of[piece.name]
        return f"{words}, {setup.number}·{following.number}"
    return f"{words}, {'offcut to keep' if ledger.is_kept_offcut(piece.name) else 'waste'}"

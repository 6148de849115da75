"""Edges in words: which one lies at the fence or the stop, and which are to be cleaned.

It matters where more has to come off one of the two edges than off the other: a piece turned about
would ride the fence on its rough edge, or lose the wrong one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.edges import kept_edges, unclean
from cutlist.model.edges import Edge
from cutlist.model.plan import Place, Purpose
from cutlist.model.sawing import Device, SizeDoubt
from cutlist.telling.wording import length_words

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.ledger.edges import EdgeState
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Job
    from cutlist.model.plan import Cut, Piece, SawSetup, Workpiece

__all__ = ["mark_words", "riding_words", "takes_words", "trim_words", "unclean_words"]

_WORDS: Final = {
    Device.FENCE: "{} to the fence",
    Device.STOP: "{} to the stop",
    Device.GUIDE: "from the {}",
    Device.STORE: "from the {}",
}
_NAMES: Final = {
    Edge.LEFT: "left end",
    Edge.RIGHT: "right end",
    Edge.LOWER: "lower edge",
    Edge.UPPER: "upper edge",
}


def riding_words(ledger: Ledger, setting: SawSetup, cut: Cut) -> str:
    """Say which edge the distance begins at; empty where the opposite one is just like it.

    An oversize piece keeps the edge that it lies with, to be cleaned off later: that one is named
    in any case.
    """
    if setting.place is Place.STORE:
        return ""
    entry = ledger.entries[cut.piece]
    at, opposite = kept_edges(entry.piece, cut)
    state = entry.edges[at]
    stays_rough = cut.purpose is Purpose.ROUGH and not state.is_clean
    if state.trim == entry.edges[opposite].trim and not stays_rough:
        return ""
    return _WORDS[setting.device].format(_named(at, state))


def mark_words(ledger: Ledger, cut: Cut, size: str) -> str:
    """Say how a panel that the cut leaves gets its ``size`` where the distance cannot give it.

    Empty where the cut leaves no panel of its own size, or where the piece is cut on all sides as
    it should be.
    """
    check = cut.check
    if check is None or check.mark_from is None:
        return ""
    edges = ledger.entries[cut.piece].edges
    if check.doubt is SizeDoubt.EDGE_NOT_TRUE:
        at = kept_edges(ledger.pieces[cut.piece], cut)[0]
        why = f"its {_NAMES[at]} is {edges[at].kind}, not true"
    else:
        why = check.doubt.value
    end = _NAMES[check.mark_from]
    if edges[check.mark_from].is_clean:
        end = f"clean {end}"
    return f"{why}: mark {size} from the {end} and cut to the mark"


def takes_words(cut: Cut) -> str:
    """Say which edge a clean-up cut takes off; empty for any other cut."""
    return "" if cut.takes_off is None else f"takes its {_NAMES[cut.takes_off]} off"


def _named(edge: Edge, state: EdgeState) -> str:
    """Name an edge and what it is like."""
    return f"{'clean' if state.is_clean else state.kind} {_NAMES[edge]}"


def trim_words(stock: Workpiece, job: Job) -> str:
    """Say what comes off which edges of stock, as ``1/4"``, or ``1/4": left, lower; 1/8": upper``.

    Empty where all are clean.
    """
    by_trim: dict[Fraction, list[str]] = {}
    for edge, trim in stock.trims.unclean.items():
        by_trim.setdefault(trim, []).append(edge)
    groups = [(length_words(trim, job), edges) for trim, edges in by_trim.items()]
    if len(groups) == 1 and len(groups[0][1]) == len(Edge):
        return groups[0][0]
    return "; ".join(f"{words}: {', '.join(edges)}" for words, edges in groups)


def unclean_words(ledger: Ledger, piece: Piece) -> str:
    """Name the edges of a piece from which something has to come off; empty where all are clean.

    They are the sheet's own where it has a trim, and those that the store cut, as the layout shows
    them.
    """
    edges = tuple(unclean(ledger.entries[piece.name].edges))
    return "all" if len(edges) == len(Edge) else ", ".join(edges)

"""What is said of the pieces that are taken home from the store, to tell them apart."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.ledger.taken_home import is_like, is_tight, needs_second_opening
from cutlist.telling.edges import unclean_words
from cutlist.telling.grain import has_grain
from cutlist.telling.wording import counted, piece_size
from cutlist.units.lengths import format_thickness

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.taken_home import Taken
    from cutlist.model.job import Job

__all__ = ["alike_words", "home_title", "mind_words", "near_words", "side_words", "some_names"]

#: So many pieces that are not told apart are named.
_FEW: Final = 4
#: What is said of a piece that goes into the vehicle only if the store does not cut it too large.
_TIGHT: Final = "as large as goes in: rather under than over"


def some_names(names: Sequence[str]) -> str:
    """Name a few pieces; of many the first and the last."""
    return ", ".join(names) if len(names) <= _FEW else f"{names[0]} … {names[-1]}"


def near_words(one: Taken, others: Sequence[Taken], job: Job) -> list[str]:
    """Say which other pieces this one could be taken for, and how they differ."""
    mine = (one.piece.length, one.piece.width)
    same: list[str] = []
    turned: list[str] = []
    near: dict[str, list[str]] = {}
    for other in others:
        if other is one or not is_like(one, other):
            continue
        its = (other.piece.length, other.piece.width)
        if mine == its:
            same.append(f"{some_names(other.names)} ({', '.join(other.cut_edges) or 'none'})")
        elif mine == its[::-1]:
            turned.extend(other.names)
        else:
            near.setdefault(piece_size(other.piece, job), []).extend(other.names)
    said = []
    if same:
        own = ", ".join(one.cut_edges) or "none"
        said.append(f"edges cut at the store: {own}; as large: {', '.join(same)}")
    if turned:
        way = "the grain the other way" if has_grain(job, one.workpiece) else "the other way round"
        said.append(f"as large, {way}: {some_names(turned)}")
    if near:
        listed = ", ".join(f"{some_names(names)} ({size})" for size, names in near.items())
        said.append(f"nearly as large: {listed}")
    return said


def alike_words(one: Taken) -> str:
    """Say of pieces that are one like the other that their names do not matter; else nothing."""
    count = len(one.names)
    return "" if count == 1 else f"{'either' if count == 2 else 'any'} name will do"


def home_title(taken: Sequence[Taken], job: Job) -> str:
    """Head the list of the pieces of one material."""
    count = sum(len(one.names) for one in taken)
    order = ", the longest first" if len(taken) > 1 else ""
    material = f"{taken[0].material} {format_thickness(taken[0].thickness, job.units)}"
    return f"To take home, {material}: {counted(count, 'piece')}{order}"


def side_words(taken: Sequence[Taken], job: Job) -> str:
    """Say which side of the pieces is given first."""
    return "grain" if any(has_grain(job, one.workpiece) for one in taken) else "arrow"


def mind_words(ledger: Ledger, one: Taken, others: Sequence[Taken]) -> str:
    """Say what is to be minded of a piece; maybe nothing."""
    job = ledger.plan.job
    said = [alike_words(one), *near_words(one, others, job)]
    if one.is_whole:
        said.append("goes whole")
    if needs_second_opening(one, job.vehicle):
        said.append("goes in by the second opening")
    if is_tight(one, job):
        said.append(_TIGHT)
    if one.is_spare:
        said.append("spare: no part is cut from it")
        edges = unclean_words(ledger, one.piece)
        is_said = any(f"cut at the store: {edges};" in words for words in said)
        said.append(f"edges to clean: {edges}" if edges and not is_said else "")
    return "; ".join(words for words in said if words)

"""What is known of a piece, and the walk back through the operations that made it.

Whoever asks where a piece or a size comes from asks :func:`followed_back`: it knows of an operation
what that says itself, and nothing of its kind.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

    from cutlist.ledger.edges import EdgeStates
    from cutlist.model.plan import Direction, Operation, Piece, Setup, SizeOrigin, Workpiece

__all__ = ["Entry", "followed_back"]


@dataclass(frozen=True, slots=True)
class Entry:
    """One piece.

    Parameters
    ----------
    piece
        Its name, place and size.
    origins
        The workpieces that are in it: one, unless pieces were joined, or it comes from nothing that
        the plan knows of.
    edges
        Its four edges; a piece that was joined or shaped has those of the first one that goes on as
        it.
    maker
        The set-up and operation that made it; None for a workpiece.
    depth
        How many operations led to it.
    """

    piece: Piece
    origins: tuple[Workpiece, ...]
    edges: EdgeStates
    maker: tuple[Setup, Operation] | None
    depth: int

    @property
    def stock(self) -> Workpiece | None:
        """The workpiece it comes from; of several the first, None where there is none."""
        return self.origins[0] if self.origins else None

    def size_origin(self, across: Direction) -> SizeOrigin | None:
        """Say where it has its size across a cut from; None for a workpiece, which brings it."""
        return None if self.maker is None else self.maker[1].size_origin(self.piece.name, across)


def followed_back(
    entries: Mapping[str, Entry], starts: Iterable[str], passes: Callable[[Entry], bool]
) -> Iterator[Entry]:
    """Yield pieces, and the pieces that went on as these, each once.

    Parameters
    ----------
    entries
        Every piece by its name.
    starts
        Names to begin at; names that there are no pieces of are passed over.
    passes
        Whether to go on from a piece to those that went on as it.
    """
    waiting = list(starts)
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in seen or name not in entries:
            continue
        seen.add(name)
        entry = entries[name]
        yield entry
        if entry.maker is not None and passes(entry):
            waiting.extend(before for before, after in entry.maker[1].continues if after == name)

"""What the command tells of the offcut rack, as lines of plain text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.telling.rack import edges_words, grain_words, rack_material, rack_size
from cutlist.telling.tables import NO_BREAK, USUAL_WIDTH, hanging, table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.rack import Booking, Rack, RackOffcut
    from cutlist.rack import Change
    from cutlist.units.system import Units

__all__ = ["change_lines", "history_lines", "rack_lines", "taken_lines"]

_AT = 11
#: A name of so many characters is not parted where a line ends.
_SHORT_NAME = 20


def rack_lines(rack: Rack, width: int = USUAL_WIDTH) -> list[str]:
    """List what is on a rack."""
    if not rack.offcuts:
        return [f"{rack.file}: there is nothing on the rack"]
    rows = [("name", "material", "size", "clean off", "since", "from")]
    rows += [
        (
            one.name.replace(" ", NO_BREAK),
            rack_material(one, rack.units),
            ", ".join(map(_bound, filter(None, (rack_size(one, rack.units), grain_words(one))))),
            _bound(edges_words(one, rack.units), until=":"),
            "" if one.day is None else one.day.isoformat(),
            one.job,
        )
        for one in rack.offcuts
    ]
    return table(rows, flexible=(0, 1, 2, 3, 5), width=width)


def _bound(text: str, until: str = "") -> str:
    """Keep text on one line, up to its first ``until`` where one is given."""
    head, mark, rest = text.partition(until) if until else (text, "", "")
    return head.replace(" ", NO_BREAK) + mark + rest


def _size(piece: RackOffcut, units: Units) -> str:
    return ", ".join(filter(None, (rack_size(piece, units), grain_words(piece))))


def change_lines(change: Change, units: Units, width: int = USUAL_WIDTH) -> list[str]:
    """Tell what a change did."""
    moved = [("on", piece) for piece in change.entered] + [("off", piece) for piece in change.left]
    return [
        line
        for way, piece in moved
        for line in hanging(f"  {way}", _words(piece, units), at=_AT, width=width)
    ]


def _words(piece: RackOffcut, units: Units) -> str:
    edges = edges_words(piece, units)
    clean = f", clean off {edges}" if edges else ""
    return f"{piece.name}: {rack_material(piece, units)}, {_size(piece, units)}{clean}"


def taken_lines(
    booking: Booking, change: Change, rack: Rack, width: int = USUAL_WIDTH
) -> list[str]:
    """Tell what a plan did to the rack: what left it, and what to pencil on what came onto it."""
    lines = [f"taken: {booking.job}"]
    for piece in change.left:
        lines += hanging("  off", _words(piece, rack.units), at=_AT, width=width)
    for piece, before in zip(change.entered, booking.entering, strict=True):
        words = f"piece {before.name} is now {_words(piece, rack.units)}"
        lines += hanging("  on", words, at=_AT, width=width)
    if not change.left and not change.entered:
        lines.append("  nothing comes off the rack, and nothing worth keeping is left")
    count = f"{len(rack.offcuts)} on it now"
    return [*lines, *hanging("  rack", f"{rack.file}, {count}", at=_AT, width=width)]


def history_lines(changes: Sequence[Change], width: int | None = USUAL_WIDTH) -> list[str]:
    """List every change there was, the last one first; on one line each where width is None."""
    if not changes:
        return ["nothing was ever put on the rack"]
    rows = [("change", "date", "what", "state", "on and off the rack")]
    for change in reversed(changes):
        state = "undone for good" if change.is_final else "undone" if change.is_undone else ""
        rows.append(
            (
                str(change.number),
                change.day.isoformat(),
                f"{change.kind}: {change.job}" if change.job else change.kind,
                state,
                "; ".join(filter(None, (_named("on", change.entered), _named("off", change.left)))),
            )
        )
    most = sum(map(len, (cell for row in rows for cell in row)))
    return table(rows, right={0}, flexible=(2, 4), width=most if width is None else width)


def _named(way: str, pieces: Sequence[RackOffcut]) -> str:
    """Name what moved one way; a short name stays on one line."""
    names = (one.name for one in pieces)
    bound = [name if len(name) > _SHORT_NAME else _bound(name) for name in names]
    return f"{way} {', '.join(bound)}" if bound else ""

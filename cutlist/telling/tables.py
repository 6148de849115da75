"""Tables of plain text that keep within the width of a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Sequence
from typing import Final

#: The width that every terminal offers.
USUAL_WIDTH: Final = 80
NO_BREAK: Final = "\u00a0"
_GUTTER: Final = 2


def table(
    rows: Sequence[Sequence[str]],
    *,
    right: Collection[int] = (),
    flexible: Collection[int] = (),
    indent: int = 0,
    width: int = USUAL_WIDTH,
) -> list[str]:
    """Align the columns of a table.

    Parameters
    ----------
    rows
        The heads, then the rows; all of the same length. A cell does not part at a no-break space.
    right
        Columns set to the right.
    flexible
        Columns whose text runs on below itself where the table would be too wide, none below its
        longest word: one alone if that is enough, else the widest first.
    indent
        Blanks before each line.
    width
        Most characters of a line. A table that cannot be as narrow is wider.
    """
    columns = range(len(rows[0]))
    widths = [max(len(row[column]) for row in rows) for column in columns]
    least = [
        max((len(word) for row in rows for word in row[column].split(" ")), default=0)
        for column in columns
    ]
    sides = [">" if column in right else "<" for column in columns]
    excess = indent + sum(widths) + _GUTTER * (len(widths) - 1) - width
    alone = [column for column in flexible if widths[column] - least[column] >= excess > 0]
    if alone:
        # One column gives way by itself: the one that breaks the fewest lines.
        column = min(alone, key=lambda column: _height(rows, column, widths[column] - excess))
        widths[column] -= excess
        excess = 0
    for _ in range(excess):
        able = [column for column in flexible if widths[column] > least[column]]
        if not able:
            break
        widths[max(able, key=lambda column: widths[column])] -= 1
    wrapped = [[_wrapped(cell, widths[column]) for column, cell in enumerate(row)] for row in rows]
    # A column whose lines break early needs less than it was left.
    widths = [max(len(line) for row in wrapped for line in row[column]) for column in columns]
    lines = []
    for row in wrapped:
        for number in range(max(map(len, row))):
            cells = [
                f"{cell[number] if number < len(cell) else '':{side}{wide}}"
                for cell, wide, side in zip(row, widths, sides, strict=True)
            ]
            line = " " * indent + (" " * _GUTTER).join(cells).rstrip()
            lines.append(line.replace(NO_BREAK, " "))
    return lines


def _height(rows: Sequence[Sequence[str]], column: int, width: int) -> int:
    return sum(len(_wrapped(row[column], width)) for row in rows)


def _wrapped(cell: str, width: int) -> list[str]:
    return textwrap.wrap(cell, width, break_long_words=False) if len(cell) > width else [cell]


def hanging(label: str, text: str, *, at: int, width: int = USUAL_WIDTH) -> list[str]:
    """Set text beside its label, running on in column ``at`` where the line would be too wide.

    It does not part at a no-break space.
    """
    first = label.ljust(at)
    lines = [first + text]
    if len(lines[0]) > width:
        lines = textwrap.wrap(
            text,
            max(width, at + 20),
            initial_indent=first,
            subsequent_indent=" " * at,
            break_long_words=False,
            break_on_hyphens=False,
        )
    return [line.replace(NO_BREAK, " ") for line in lines]

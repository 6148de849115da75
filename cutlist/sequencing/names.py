"""Piece names that a person can pencil on a piece and follow: A, A1, A1b.

A sheet has a letter. The pieces that one piece is divided into along an axis share its name and
count on, in figures and letters by turns: A is ripped into A1 and what remains, A2; A2 is ripped
on into A3 and A4; A1 is crosscut into A1a and A1b. Letters that look like figures are left out.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import count

from cutlist.model.layout import Axis

_LETTERS = "abcdefghjkmnpqrstuvwxyz"


def letters(number: int) -> str:
    """Return the ``number``-th letter mark from 0: a, b, … z, aa, ab."""
    base = len(_LETTERS)
    text = ""
    number += 1
    while number:
        number, digit = divmod(number - 1, base)
        text = _LETTERS[digit] + text
    return text


def sheet_letter(number: int) -> str:
    """Return the name of the ``number``-th piece of stock, from 0."""
    return letters(number).upper()


@dataclass(slots=True)
class Family:
    """Pieces that come off one piece along one axis."""

    prefix: str
    axis: Axis
    numbers: count[int] = field(default_factory=count)

    def next_name(self) -> str:
        """Return the next name: figures after a letter, letters after a figure."""
        number = next(self.numbers)
        mark = letters(number) if self.prefix[-1].isdigit() else str(number + 1)
        return self.prefix + mark

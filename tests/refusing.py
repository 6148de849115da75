"""Reasons in tests: what they say, and some that say just what they are given."""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.errors import CannotCutError, Reason
from cutlist.telling.refusals import reason_words


def said(error: CannotCutError) -> tuple[str, ...]:
    """Return the reasons of an error in words."""
    return tuple(map(reason_words, error.reasons))


@dataclass(frozen=True, slots=True)
class Because(Reason):
    """A reason in words of its own."""

    words: str = ""

    def __str__(self) -> str:
        return self.words


def because(words: str) -> tuple[Reason, ...]:
    """Return a single reason that says this."""
    return (Because((), words),)

"""Collecting what is wrong, and guessing what was meant."""

from __future__ import annotations

from difflib import get_close_matches
from itertools import islice
from typing import TYPE_CHECKING, Final

from cutlist.errors import Fault

if TYPE_CHECKING:
    from collections.abc import Iterable

    from cutlist.errors import FaultCode
    from cutlist.reading.places import Mark, Spot

_LONGEST_FOUND: Final = 60
#: A hint is not worth more comparisons than this, nor a longer list of choices.
_MOST_COMPARED: Final = 100
_MOST_LISTED: Final = 8


class Faults:
    """Everything found wrong in one job so far."""

    def __init__(self) -> None:
        self._faults: list[tuple[Mark, Fault]] = []

    def __bool__(self) -> bool:
        return bool(self._faults)

    def __len__(self) -> int:
        return len(self._faults)

    def add(
        self,
        code: FaultCode,
        mark: Mark,
        path: str,
        found: str,
        message: str,
        accepted: str = "",
    ) -> None:
        """Note a fault; ``found`` is shortened to one line."""
        fault = Fault(mark.line, mark.column, path, shortened(found), message, accepted, code)
        self._faults.append((mark, fault))

    def at(self, spot: Spot, code: FaultCode, message: str, accepted: str) -> None:
        """Note a fault of the value that stands at a spot."""
        self.add(code, spot.mark, spot.path, spot.text, message, accepted)

    def in_order(self) -> tuple[Fault, ...]:
        """Give the faults in file order."""
        marked = sorted(self._faults, key=lambda one: (one[0].line, one[0].column, one[0].order))
        return tuple(fault for _, fault in marked)


def shortened(text: str) -> str:
    """Give ``text`` on one line, cut off where it is long, nothing unprintable in it."""
    line = "".join(c if c.isprintable() else "�" for c in " ".join(text.split()))
    return line if len(line) <= _LONGEST_FOUND else line[: _LONGEST_FOUND - 1] + "…"


def closest(word: str, options: Iterable[str]) -> str | None:
    """Give the option that ``word`` is probably meant to be, or None; case does not count."""
    folded = {option.casefold(): option for option in islice(options, _MOST_COMPARED)}
    # A slip of the keyboard is short; comparing costs the square of the length.
    if len(word) > _LONGEST_FOUND:
        return None
    matches = get_close_matches(word.casefold(), folded, n=1)
    return folded[matches[0]] if matches else None


def did_you_mean(word: str, options: Iterable[str], otherwise: str) -> str:
    """Give ``did you mean …?`` where a near option exists, else ``otherwise``."""
    match = closest(word, options)
    return otherwise if match is None else f"did you mean {match}?"


def one_of(options: Iterable[str]) -> str:
    """Give ``one of a, b, c``, a long list cut off."""
    names = list(islice(options, _MOST_LISTED + 1))
    more = ["…"] if len(names) > _MOST_LISTED else []
    return f"one of {', '.join(names[:_MOST_LISTED] + more)}"

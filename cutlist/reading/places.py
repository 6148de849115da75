"""Where in a file, or in a job built in code, something stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mark:
    """A place in the file, line and column counted from 1.

    What was built in code has neither; ``order`` then counts the values in the order in which they
    are read.
    """

    line: int
    column: int
    order: int = 0


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a value stands: its mark, its key path, and its text as found."""

    mark: Mark
    path: str
    text: str = ""

    @property
    def place(self) -> str:
        """Say where it is, for a text about another value: ``in line 19``, ``at parts[1].name``."""
        return f"in line {self.mark.line}" if self.mark.line else f"at {self.path}"

"""Where in a file something stands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Mark:
    """A place in the file, line and column counted from 1."""

    line: int
    column: int

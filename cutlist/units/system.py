"""The two units that a job's lengths may be in."""

from __future__ import annotations

from enum import StrEnum


class Units(StrEnum):
    """The unit of every length in a job."""

    INCH = "in"
    MM = "mm"

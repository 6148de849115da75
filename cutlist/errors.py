"""Every error this package raises on purpose.

The tree::

    CutlistError                exit status 1
    +-- JobFileError            2   the job file or the command line is wrong
    +-- LengthError             2   a length or a size that cannot be read
    +-- PlanFileError           2   a plan's file that cannot be read
    +-- CannotCutError          1   the job is sound, but no plan can cut it
    +-- AuditError              3   the audit refused the tool's own plan
    +-- WriteError              1   a document could not be written
    +-- RackError               1   the offcut rack cannot be changed as asked
    +-- RackFileError           2   no offcut rack, or names that are not on it, or on it already
    +-- StoppedError          130   interrupted before any plan existed

An error carries what its reader needs as attributes; only the command line prints.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Sequence


class CutlistError(Exception):
    """Root of the package's errors; ``exit_status`` is what the command ends with."""

    exit_status: ClassVar[int] = 1


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a job file.

    Parameters
    ----------
    line, column
        Where it stands, both counted from 1; 0 where no place can be given.
    path
        The key it belongs to, such as ``parts[2].size``; empty for the whole file.
    found
        What stands there, shortened, or an empty string.
    message
        What is wrong, in one sentence.
    accepted
        An accepted form or value to write instead, or an empty string.
    """

    line: int
    column: int
    path: str
    found: str
    message: str
    accepted: str = ""


class JobFileError(CutlistError, ValueError):
    """The job file is wrong; ``faults`` lists everything found, in file order."""

    exit_status = 2

    def __init__(self, file: str, faults: Sequence[Fault]) -> None:
        self.file = file
        self.faults = tuple(faults)
        noun = "fault" if len(self.faults) == 1 else "faults"
        super().__init__(f"{file}: {len(self.faults)} {noun}; first: {self.faults[0].message}")


class LengthError(CutlistError, ValueError):
    """A length or a size that cannot be read.

    ``found`` is the text as it stood, shortened; ``problem`` says what is wrong with it, and
    ``accepted`` shows forms to write instead.
    """

    exit_status = 2

    def __init__(self, found: str, problem: str, accepted: str) -> None:
        self.found = found
        self.problem = problem
        self.accepted = accepted
        super().__init__(f"{found!r}: {problem}; accepted: {accepted}")


class PlanFileError(CutlistError, ValueError):
    """A file is no ``plan.json``, or none of the format that is read."""

    exit_status = 2

    def __init__(self, file: str, message: str) -> None:
        self.file = file
        super().__init__(f"{file}: {message}")


class CannotCutError(CutlistError, ValueError):
    """The job is sound but cannot be cut; ``reasons`` says which part, and why.

    ``is_shortage`` tells that a part of the panels could be cut from the stock there is.
    """

    exit_status = 1

    def __init__(self, reasons: Sequence[str], *, is_shortage: bool = False) -> None:
        self.reasons = tuple(reasons)
        self.is_shortage = is_shortage
        super().__init__("; ".join(self.reasons))


class AuditError(CutlistError, RuntimeError):
    """The audit refused a plan; ``findings`` are the audit's coded findings as text lines."""

    exit_status = 3

    def __init__(self, findings: Sequence[str]) -> None:
        self.findings = tuple(findings)
        super().__init__(f"the audit refused the plan: {len(self.findings)} findings")


class WriteError(CutlistError, OSError):
    """A document could not be written; nothing half-written is left behind."""

    exit_status = 1


class RackError(CutlistError, OSError):
    """The offcut rack cannot be changed now: a plan taken before, a piece gone, a full disk.

    The rack is as it was.
    """

    exit_status = 1


class RackFileError(CutlistError, ValueError):
    """What was named is not an offcut rack, or does not go with what is on it."""

    exit_status = 2


class StoppedError(CutlistError):
    """Interrupted before any plan existed."""

    exit_status = 130

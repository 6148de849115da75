"""Every error this package raises on purpose.

The tree::

    CutlistError                exit status 1
    +-- JobError                2   the job is wrong, in a file or built in code
    |   +-- JobFileError        2   the job file or the command line is wrong
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
from enum import StrEnum
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Sequence


class CutlistError(Exception):
    """Root of the package's errors; ``exit_status`` is what the command ends with."""

    exit_status: ClassVar[int] = 1


class FaultCode(StrEnum):
    """What kind of fault a job has, for programs: the messages may change their words, these not.

    The first three are found in files alone, ``WRONG_TYPE`` and ``LOSSY`` in code alone.
    """

    #: The file is not there, is empty, too large, or no text.
    FILE = "file"
    #: The file is not YAML.
    SYNTAX = "syntax"
    #: YAML that a job file does without: tags, anchors, references, a second document.
    NOT_READ = "not read"
    UNKNOWN_KEY = "unknown key"
    REPEATED_KEY = "repeated key"
    MISSING_KEY = "missing key"
    MISSING_VALUE = "missing value"
    #: A list, a value or keys where another of the three is wanted.
    WRONG_SHAPE = "wrong shape"
    #: A value of a type that stands for nothing in a job, such as a truth value.
    WRONG_TYPE = "wrong type"
    #: A float that is the nearest one to a number that it does not keep.
    LOSSY = "lossy number"
    #: A text that is no value of the kind wanted.
    WRONG_VALUE = "wrong value"
    #: A length or a size that cannot be read, or is not one that can be.
    WRONG_LENGTH = "wrong length"
    OUT_OF_RANGE = "out of range"
    MISSING_UNIT = "missing unit"
    #: A figure out of all proportion: the unit is mixed up.
    UNIT_DOUBT = "unit in doubt"
    NAME_TAKEN = "name taken"
    NO_PARTS = "no parts"
    NO_STOCK = "no stock"
    #: Two things are said that exclude each other.
    CONTRADICTION = "contradiction"
    PRICE_MISSING = "price missing"
    #: A material, a part or a rack is named that is not there.
    UNKNOWN_NAME = "unknown name"
    #: A thickness that the material does not come in, or none where it comes in several.
    THICKNESS = "thickness"
    PART_TOO_LARGE = "part too large"
    PART_TOO_NARROW = "part too narrow"
    #: A trim leaves nothing of its stock.
    TRIM = "trim"
    #: Panels that shall match and cannot, or of which it is not said how.
    MATCH = "match"
    #: Lengths too fine for each other to be counted in one whole unit.
    NO_COMMON_STEP = "no common step"
    #: More than is read: jobs, saws, bytes, levels.
    TOO_MANY = "too many"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a job.

    Parameters
    ----------
    line, column
        Where it stands in the file, both counted from 1; 0 where no place can be given.
    path
        The key it belongs to, such as ``parts[2].size``; entries of lists are counted from 1. Empty
        for the whole file.
    found
        What stands there, shortened, or an empty string.
    message
        What is wrong, in one sentence.
    accepted
        An accepted form or value to write instead, or an empty string.
    code
        Which kind of fault it is.
    """

    line: int
    column: int
    path: str
    found: str
    message: str
    accepted: str = ""
    code: FaultCode = FaultCode.WRONG_VALUE

    def __str__(self) -> str:
        """Return the fault in one line: ``parts[2].qty: this is out of range; found -1; …``."""
        place = f"line {self.line}, column {self.column}: " if self.line else ""
        key = f"{self.path}: " if self.path else ""
        found = f"; found: {self.found}" if self.found else ""
        accepted = f"; accepted: {self.accepted}" if self.accepted else ""
        return f"{place}{key}{self.message}{found}{accepted}"


class JobError(CutlistError, ValueError):
    """The job is wrong; ``faults`` lists everything found, in the order of the job.

    ``source`` says where the job comes from: a file's name, or ``the job`` of one built in code.
    """

    exit_status = 2

    def __init__(self, source: str, faults: Sequence[Fault]) -> None:
        self.source = source
        self.faults = tuple(faults)
        noun = "fault" if len(self.faults) == 1 else "faults"
        lines = [f"{source}: {len(self.faults)} {noun}", *map(str, self.faults)]
        super().__init__("\n  ".join(lines))


class JobFileError(JobError):
    """The job file, or what the command line says of it, is wrong."""


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


class ReasonCode(StrEnum):
    """Why a sound job cannot be cut."""

    NO_STOCK = "no stock"
    FITS_NOWHERE = "fits nowhere"
    STOCK_SHORT = "stock too small"
    LEFT_BEHIND = "sheets left behind"
    NO_SHEET_HOME = "no sheet goes home"
    PART_TOO_LARGE = "part too large for a blank"
    NOT_WHOLE = "not uncut"
    WOULD_HELP = "what would help"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a sound job cannot be cut; what more there is to it stands in its class.

    ``code`` tells the kind, ``parts`` are the names of the parts that it is about. The sentence is
    made by :func:`cutlist.telling.refusals.reason_words`.
    """

    code: ClassVar[ReasonCode] = ReasonCode.OTHER
    parts: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.code.value}: {', '.join(self.parts)}" if self.parts else self.code.value


class CannotCutError(CutlistError, ValueError):
    """The job is sound but cannot be cut; ``reasons`` says which parts, and why.

    ``is_shortage`` tells that a part of the panels could be cut from the stock there is.
    """

    exit_status = 1

    def __init__(self, reasons: Sequence[Reason], *, is_shortage: bool = False) -> None:
        self.reasons = tuple(reasons)
        self.is_shortage = is_shortage
        super().__init__("; ".join(map(str, self.reasons)))


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

"""The terminal: what is printed to it, and errors as text with an exit status."""

from __future__ import annotations

import re
import shutil
import sys
import textwrap
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final, NoReturn

import typer

from cutlist.errors import AuditError, CannotCutError, CutlistError, JobError, StoppedError
from cutlist.telling.tables import USUAL_WIDTH

__all__ = ["broken", "complain", "errors", "say", "width", "width_of_rows"]

#: What a line says first where it stands below another: ``    accepted: ``.
_LABEL: Final = re.compile(r" +\w+: +")


def say(lines: list[str]) -> None:
    """Print lines to standard output."""
    try:
        sys.stdout.write("\n".join(lines) + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever reads has had enough; that is no error of ours.
        sys.stderr.close()
        raise typer.Exit from None
    except OSError as error:
        complain([f"error: standard output: {error.strerror}"], CutlistError.exit_status)


def width() -> int:
    """Give the width to print to: that of the terminal, or the usual one."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else USUAL_WIDTH


def width_of_rows() -> int | None:
    """Give the width for rows that a program may read: None, for any, where it is no terminal."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else None


def complain(lines: list[str], status: int) -> NoReturn:
    """Print lines to standard error and end with a status.

    On a terminal they are broken between words, not where it ends; elsewhere each stays one line.
    """
    if sys.stderr.isatty():
        columns = shutil.get_terminal_size().columns
        lines = [part for line in "\n".join(lines).split("\n") for part in broken(line, columns)]
    sys.stderr.write("\n".join(lines) + "\n")
    raise typer.Exit(status)


def broken(line: str, columns: int) -> list[str]:
    """Break a line between words; what runs on stands farther in, below what a label says.

    A word that is too long by itself, such as a path, stays whole.
    """
    if len(line) <= columns:
        return [line]
    indent = len(line) - len(line.lstrip())
    label = _LABEL.match(line)
    at = label.end() if label else indent + 4
    return textwrap.wrap(
        line,
        max(columns, at + 20),
        subsequent_indent=" " * at,
        break_long_words=False,
        break_on_hyphens=False,
        drop_whitespace=True,
    )


@contextmanager
def errors(*, debug: bool, undone: str = "nothing was planned") -> Iterator[None]:
    """Turn every error into text on standard error and an exit status.

    ``undone`` says what was not done where a file is wrong.
    """
    try:
        yield
    except (CutlistError, KeyboardInterrupt) as error:
        if debug:
            raise
        if isinstance(error, JobError):
            from cutlist.telling.report import fault_lines

            complain(fault_lines(error, undone), error.exit_status)
        if isinstance(error, CannotCutError):
            from cutlist.telling.refusals import reason_words

            lines = [f"cannot be cut: {reason_words(reason)}" for reason in error.reasons]
            if error.is_shortage:
                lines.append("with --partial the panels that are worth most are planned")
            complain(lines, error.exit_status)
        if isinstance(error, AuditError):
            head = "the audit refused the plan; nothing was written. This is a bug of cutlist."
            complain([head, *(f"  {finding}" for finding in error.findings)], error.exit_status)
        if isinstance(error, KeyboardInterrupt | StoppedError):
            complain(["interrupted before there was a plan"], StoppedError.exit_status)
        complain([f"error: {error}"], error.exit_status)

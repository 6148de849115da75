"""The command line: thin, and the only place that prints or sets an exit status."""

from __future__ import annotations

import io
import json
import os
import re
import shutil
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NoReturn

import typer

from cutlist.errors import AuditError, CannotCutError, CutlistError, JobFileError, StoppedError
from cutlist.tables import USUAL_WIDTH

if TYPE_CHECKING:
    from cutlist.nesting.stopping import WhenAsked
    from cutlist.progress import QuietWatcher, TerminalWatcher

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan a sheet-goods job: what to buy, how to lay it out, in what order to cut it.",
)


class PaperName(StrEnum):
    """Paper of the PDF."""

    A4 = "a4"
    LETTER = "letter"


JobArgument = Annotated[Path, typer.Argument(metavar="JOB", help="The job file (YAML).")]
OutOption = Annotated[
    Path | None,
    typer.Option("-o", "--out", metavar="DIR", help="Folder for the documents."),
]
SecondsOption = Annotated[
    float | None,
    typer.Option(
        min=0.0,
        metavar="N",
        help="Search budget; the plan is the best found when it ends. With --steps too, "
        "whichever budget is used up first ends the search.",
    ),
]
StepsOption = Annotated[
    int | None,
    typer.Option(
        min=1, metavar="N", help="Search budget in steps: alone, it is repeatable for a seed."
    ),
]
SeedOption = Annotated[int, typer.Option(min=0, help="Start of the random numbers.")]
QuietOption = Annotated[bool, typer.Option("--quiet", help="Print nothing but errors.")]
DebugOption = Annotated[bool, typer.Option("--debug", help="Show a traceback on an error.")]


def _version(asked: bool) -> None:
    if asked:
        import cutlist

        _say([f"cutlist {cutlist.__version__}"])
        raise typer.Exit


@app.callback()
def options(
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_version, is_eager=True, help="Say which version it is."
        ),
    ] = False,
) -> None:
    """Options of the command itself."""


def _day(text: str) -> date:
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            raise ValueError
        return date.fromisoformat(text)
    except ValueError:
        message = f"found {text}; accepted: a day such as 2026-01-02"
        raise typer.BadParameter(message) from None


@app.command()
def check(job: JobArgument, debug: DebugOption = False) -> None:
    """Read and check a job file and print what was understood; plan nothing."""
    with _errors(debug=debug):
        from cutlist.reading import describe, read_job

        _say(describe(read_job(job), _width()))


@app.command()
def plan(
    job: JobArgument,
    out: OutOption = None,
    seconds: SecondsOption = None,
    steps: StepsOption = None,
    seed: SeedOption = 0,
    documents: Annotated[
        str, typer.Option("--write", metavar="LIST", help="Documents to write: pdf, json.")
    ] = "pdf,json",
    paper: Annotated[
        PaperName | None,
        typer.Option(case_sensitive=False, help="Paper of the PDF; by the job's unit if left out."),
    ] = None,
    day: Annotated[
        date | None,
        typer.Option("--date", parser=_day, metavar="DAY", help="Date to print, not today's."),
    ] = None,
    partial: Annotated[
        bool,
        typer.Option("--partial", help="Where the stock falls short, cut what is worth most."),
    ] = False,
    quiet: QuietOption = False,
    debug: DebugOption = False,
) -> None:
    """Buy, lay out, sequence and audit a job, and write its documents."""
    words = _documents(documents)
    with _errors(debug=debug):
        from cutlist.nesting.warmth import warm_up
        from cutlist.planning.budget import DEFAULT_SECONDS, Budget
        from cutlist.planning.make import make_plan
        from cutlist.reading import read_job
        from cutlist.report import plan_lines
        from cutlist.writing import check_folder, write_documents

        asked_for = read_job(job)
        folder = check_folder(out or _default_folder(job))
        if seconds is None and steps is None:
            seconds = DEFAULT_SECONDS
        with _watcher(quiet=quiet) as watcher:
            warm_up()
            budget = Budget(seconds=seconds, steps=steps)
            with _interruptible(budget.asked, watcher):
                made = make_plan(
                    asked_for, seed=seed, budget=budget, watcher=watcher, partial=partial
                )
                paths = write_documents(
                    made,
                    folder,
                    words,
                    paper=_paper(paper),
                    day=day or date.today(),
                )
        if not quiet:
            _say(plan_lines(made, paths, _width()))


@app.command()
def compare(
    job: JobArgument,
    out: OutOption = None,
    seconds: SecondsOption = None,
    steps: StepsOption = None,
    seed: SeedOption = 0,
    quiet: QuietOption = False,
    debug: DebugOption = False,
) -> None:
    """Plan the same parts on each sheet size that could serve, and on the best mix.

    The budget is for each of these plans. With --out the figures are written to compare.json.
    """
    with _errors(debug=debug):
        from cutlist.nesting.warmth import warm_up
        from cutlist.planning.budget import Budget
        from cutlist.planning.compare import compare as compare_sheets
        from cutlist.reading import read_job
        from cutlist.report import comparison_document, comparison_lines
        from cutlist.writing import check_folder, write_compared

        asked_for = read_job(job)
        if out is not None:
            check_folder(out)
        if seconds is None and steps is None:
            seconds = 2.0
        with _watcher(quiet=quiet):
            warm_up()
            variants = compare_sheets(
                asked_for, seed=seed, budget=lambda: Budget(seconds=seconds, steps=steps)
            )
        lines = comparison_lines(variants, asked_for.units, _width())
        if out is not None:
            text = json.dumps(comparison_document(variants), indent=1, ensure_ascii=False)
            lines.append(f"written  {write_compared(out, text)}")
        if not quiet:
            _say(lines)
        if all(variant.plan is None for variant in variants):
            raise typer.Exit(CannotCutError.exit_status)


def main() -> None:
    """Run the command."""
    # Ctrl-C while libraries are loaded ends at once: some turn it into an error of their own.
    signal.signal(signal.SIGINT, _leave)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that lacks a sign shows a stand-in for it.
            stream.reconfigure(errors="replace")
    app()


def _leave(*_: object) -> NoReturn:
    os.write(2, b"interrupted before there was a plan\n")
    os._exit(StoppedError.exit_status)


def _say(lines: list[str]) -> None:
    try:
        sys.stdout.write("\n".join(lines) + "\n")
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever reads has had enough; that is no error of ours.
        sys.stderr.close()
        raise typer.Exit from None
    except OSError as error:
        _complain([f"error: standard output: {error.strerror}"], CutlistError.exit_status)


def _width() -> int:
    """Give the width to print to: that of the terminal, or the usual one."""
    return shutil.get_terminal_size().columns if sys.stdout.isatty() else USUAL_WIDTH


def _complain(lines: list[str], status: int) -> NoReturn:
    sys.stderr.write("\n".join(lines) + "\n")
    raise typer.Exit(status)


def _documents(text: str) -> tuple[str, ...]:
    from cutlist.writing import DOCUMENTS

    words = tuple(word.strip() for word in text.split(",") if word.strip())
    unknown = [word for word in words if word not in DOCUMENTS]
    if unknown or not words:
        found = ", ".join(unknown) or "nothing"
        raise typer.BadParameter(
            f"found {found}; accepted: {', '.join(DOCUMENTS)}", param_hint="--write"
        )
    return words


def _default_folder(job: Path) -> Path:
    folder = job.with_suffix("")
    return folder if folder != job else job.with_name(job.name + "-plan")


def _paper(name: PaperName | None) -> Any:
    if name is None:
        return None
    from cutlist.drawing.paper import A4, LETTER

    return {PaperName.A4: A4, PaperName.LETTER: LETTER}[name]


@contextmanager
def _errors(*, debug: bool) -> Iterator[None]:
    """Turn every error into text on standard error and an exit status."""
    try:
        yield
    except (CutlistError, KeyboardInterrupt) as error:
        if debug:
            raise
        if isinstance(error, JobFileError):
            from cutlist.report import fault_lines

            _complain(fault_lines(error), error.exit_status)
        if isinstance(error, CannotCutError):
            lines = [f"cannot be cut: {reason}" for reason in error.reasons]
            if error.is_shortage:
                lines.append("with --partial the panels that are worth most are planned")
            _complain(lines, error.exit_status)
        if isinstance(error, AuditError):
            head = "the audit refused the plan; nothing was written. This is a bug of cutlist."
            _complain([head, *(f"  {finding}" for finding in error.findings)], error.exit_status)
        if isinstance(error, KeyboardInterrupt | StoppedError):
            _complain(["interrupted before there was a plan"], StoppedError.exit_status)
        _complain([f"error: {error}"], error.exit_status)


@contextmanager
def _watcher(*, quiet: bool) -> Iterator[TerminalWatcher | QuietWatcher]:
    from cutlist.progress import QuietWatcher, TerminalWatcher

    if quiet or not sys.stderr.isatty():
        yield QuietWatcher()
        return
    with TerminalWatcher(note=_first_run_note()) as watcher:
        yield watcher


def _first_run_note() -> str:
    from cutlist.nesting.warmth import is_compiled

    if is_compiled():
        return "looking for a first plan"
    return "first run on this machine: compiling the search, once, takes some 10 seconds"


@contextmanager
def _interruptible(asked: WhenAsked, watcher: TerminalWatcher | QuietWatcher) -> Iterator[None]:
    """Let the first Ctrl-C end the search, but not the writing, if there is a plan to write."""

    def on_interrupt(*_: object) -> None:
        is_too_early = asked.was_asked or not watcher.has_plan
        asked.ask()
        if is_too_early:
            raise KeyboardInterrupt

    before = signal.signal(signal.SIGINT, on_interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)

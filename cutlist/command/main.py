"""The command line: thin, and the only place that prints or sets an exit status."""

from __future__ import annotations

import gc
import io
import re
import signal
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cutlist.command.interrupts import alone, interruptible, leave, leave_at_once
from cutlist.command.offcuts import commands as offcut_commands
from cutlist.command.terminal import errors, say, width
from cutlist.drawing.paper import PAPERS, Paper
from cutlist.errors import CannotCutError, StoppedError

if TYPE_CHECKING:
    from cutlist.command.progress import QuietWatcher, TerminalWatcher
    from cutlist.model.job import Job
    from cutlist.model.plan import Plan
    from cutlist.model.variants import Variant
    from cutlist.planning.stages import Stages

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan a sheet-goods job: what to buy, how to lay it out, in what order to cut it.",
)


app.add_typer(offcut_commands, name="offcuts")


def _paper(text: str) -> Paper:
    try:
        return PAPERS[text.lower()]
    except KeyError:
        message = f"found {text}; accepted: {', '.join(PAPERS)}"
        raise typer.BadParameter(message) from None


def _day(text: str) -> date:
    try:
        if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII):
            raise ValueError
        return date.fromisoformat(text)
    except ValueError:
        message = f"found {text}; accepted: a day such as 2026-01-02"
        raise typer.BadParameter(message) from None


JobArgument = Annotated[Path, typer.Argument(metavar="JOB", help="The job file (YAML).")]
OutOption = Annotated[
    Path | None,
    typer.Option("-o", "--out", metavar="DIR", help="Folder for the documents."),
]
WriteOption = Annotated[
    str, typer.Option("--write", metavar="LIST", help="Documents to write: pdf, json.")
]
PaperOption = Annotated[
    Paper | None,
    typer.Option(
        "--paper",
        parser=_paper,
        metavar=f"[{'|'.join(PAPERS)}]",
        help="Paper of the PDF; by the job's unit if left out.",
    ),
]
DateOption = Annotated[
    date | None,
    typer.Option("--date", parser=_day, metavar="DAY", help="Date to print, not today's."),
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

        say([f"cutlist {cutlist.__version__}"])
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


@app.command()
def check(job: JobArgument, debug: DebugOption = False) -> None:
    """Read and check a job file and print what was understood; plan nothing."""
    with errors(debug=debug):
        from cutlist.reading import read_job
        from cutlist.telling.understood import describe

        say(describe(read_job(job), width()))


@app.command()
def schema(debug: DebugOption = False) -> None:
    """Print the JSON Schema of the job file, for completion and checking in an editor."""
    with errors(debug=debug):
        import json

        from cutlist.reading.schema import job_schema

        say([json.dumps(job_schema(), indent=2, ensure_ascii=False)])


@app.command()
def plan(
    ctx: typer.Context,
    job: JobArgument,
    out: OutOption = None,
    seconds: SecondsOption = None,
    steps: StepsOption = None,
    seed: SeedOption = 0,
    documents: WriteOption = "pdf,json",
    paper: PaperOption = None,
    day: DateOption = None,
    partial: Annotated[
        bool,
        typer.Option("--partial", help="Where the stock falls short, cut what is worth most."),
    ] = False,
    take: Annotated[
        bool,
        typer.Option(
            "--take",
            help="The work is done: bring the offcut rack up to date. Takes the plan that lies in "
            "the folder as it is; only where none does, makes one first.",
        ),
    ] = False,
    quiet: QuietOption = False,
    debug: DebugOption = False,
) -> None:
    """Buy, lay out, sequence and audit a job, and write its documents."""
    began = time.monotonic()
    words = _documents(documents)
    with errors(debug=debug):
        from cutlist.nesting.allowance import Allowance
        from cutlist.nesting.stopping import WhenAsked
        from cutlist.output.writing import check_folder, seconds_to_write, write_documents
        from cutlist.planning.kernels import is_compiled, prepare_kernels
        from cutlist.planning.make import make_plan
        from cutlist.planning.terms.terms import DEFAULT_SECONDS, LEAST_SEARCH
        from cutlist.reading import read_job
        from cutlist.telling.report import plan_lines

        asked_for = read_job(job)
        folder = check_folder(out or _default_folder(job))
        if take and _take(asked_for, folder, if_there=True, quiet=quiet):
            return
        if seconds is None and steps is None:
            seconds = DEFAULT_SECONDS
        asked = WhenAsked()

        def planned() -> Plan:
            is_first_run = not is_compiled()
            prepare_kernels()
            # Compiling takes longer than a budget, and is no part of it.
            start = time.monotonic() if is_first_run else began
            whole = Allowance(seconds, steps, asked=asked, started=start)
            return make_plan(
                asked_for,
                seed=seed,
                allowance=whole.less(seconds_to_write(asked_for, words), least=LEAST_SEARCH),
                watcher=watcher,
                partial=partial,
                stages=ctx.obj,
            )

        with _watcher(quiet=quiet) as watcher, interruptible(asked, watcher):
            made = alone(planned)
            paths = write_documents(
                made,
                folder,
                words,
                paper=paper,
                day=day or date.today(),
            )
        if not quiet:
            say(plan_lines(made, paths, width()))
            if asked_for.rack is not None and not take:
                say(["  rack     not changed yet; once all is cut: cutlist plan JOB --take"])
        if take:
            _take(asked_for, folder, if_there=False, quiet=quiet)


@app.command()
def compare(
    job: JobArgument,
    out: OutOption = None,
    seconds: SecondsOption = None,
    steps: StepsOption = None,
    seed: SeedOption = 0,
    vary: Annotated[
        list[str] | None,
        typer.Option(
            "--vary",
            metavar="KEY=V1,V2",
            help="Plan with each of these values of a number in the job, such as "
            "saw.kerf=1/8,3/32; may be given again for another key.",
        ),
    ] = None,
    documents: WriteOption = "pdf,json",
    paper: PaperOption = None,
    day: DateOption = None,
    quiet: QuietOption = False,
    debug: DebugOption = False,
) -> None:
    """Plan the same parts on each sheet size that could serve, and on the best mix.

    The budget is for each of these plans. With --out the figures are written to compare.json, and
    a page with charts and small layouts to compare.pdf.
    """
    words = _documents(documents)
    with errors(debug=debug):
        from cutlist.command.progress import ComparingWatcher
        from cutlist.nesting.allowance import Allowance
        from cutlist.nesting.stopping import WhenAsked
        from cutlist.output.compare_json import comparison_text
        from cutlist.output.writing import check_folder, compared_pdf, write_compared
        from cutlist.planning.compare import ROW_SECONDS, side_by_side
        from cutlist.planning.compare import compare as compare_ways
        from cutlist.planning.kernels import prepare_kernels
        from cutlist.reading import read_job
        from cutlist.reading.varying import read_varied, read_varying
        from cutlist.telling.compare_report import comparison_lines

        asked_for = read_job(job)
        varied = read_varied(job, [read_varying(text) for text in vary or ()])
        if out is not None:
            check_folder(out)
        if seconds is None and steps is None:
            seconds = ROW_SECONDS
        asked = WhenAsked()

        def compared() -> list[Variant]:
            prepare_kernels()
            return compare_ways(
                asked_for,
                seed=seed,
                allowance=lambda: Allowance(seconds, steps),
                varied=varied,
                watcher=watcher,
                at_once=side_by_side(is_timed=seconds is not None),
                asked=asked,
            )

        with ComparingWatcher(is_shown=not quiet and sys.stderr.isatty()) as watcher:
            watcher.note(_first_run_note())
            with interruptible(asked, watcher):
                variants = alone(compared)
                is_empty = all(variant.plan is None for variant in variants)
                if is_empty and not all(variant.is_planned for variant in variants):
                    raise StoppedError
                lines = comparison_lines(variants, asked_for.units, width())
                if out is not None:
                    makers = {
                        "json": lambda: comparison_text(variants, asked_for.units).encode(),
                        "pdf": lambda: compared_pdf(
                            variants, asked_for, paper=paper, day=day or date.today()
                        ),
                    }
                    paths = write_compared(out, {word: makers[word]() for word in words})
                    lines += [f"written  {path}" for path in paths]
        if not quiet:
            say(lines)
        if is_empty:
            raise typer.Exit(CannotCutError.exit_status)


def _take(asked_for: Job, folder: Path, *, if_there: bool, quiet: bool) -> bool:
    """Bring the rack up to date; where ``if_there``, only if a plan lies in the folder."""
    from cutlist.output.taking import take_plan, waiting_plan
    from cutlist.rack import read_rack
    from cutlist.telling.rack_report import taken_lines

    if if_there and waiting_plan(asked_for, folder) is None:
        return False
    booking, change = take_plan(asked_for, folder, day=date.today())
    if not quiet and asked_for.rack is not None:
        rack = read_rack(Path(asked_for.rack.file))
        say(taken_lines(booking, change, rack, width()))
    return True


def main(stages: Stages | None = None) -> None:
    """Run the command; ``stages`` may replace the usual way through planning."""
    # A large plan is millions of small values that stay: to look for circles among them all the
    # while takes a tenth of the time, and the process ends soon.
    gc.set_threshold(200_000, 50, 100)
    # Ctrl-C while libraries are loaded ends at once: some turn it into an error of their own.
    signal.signal(signal.SIGINT, leave_at_once)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            # A terminal that lacks a sign shows a stand-in for it.
            stream.reconfigure(errors="replace")
    try:
        app(obj=stages)
    except SystemExit as end:
        leave(end.code if isinstance(end.code, int) else int(end.code is not None))


def _documents(text: str) -> tuple[str, ...]:
    from cutlist.output.writing import DOCUMENTS

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


@contextmanager
def _watcher(*, quiet: bool) -> Iterator[TerminalWatcher | QuietWatcher]:
    from cutlist.command.progress import QuietWatcher, TerminalWatcher

    if quiet or not sys.stderr.isatty():
        yield QuietWatcher()
        return
    with TerminalWatcher(note=_first_run_note()) as watcher:
        yield watcher


def _first_run_note() -> str:
    from cutlist.planning.kernels import is_compiled

    if is_compiled():
        return "looking for a first plan"
    return "first run on this machine: compiling the search, once, takes up to a minute"

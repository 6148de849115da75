"""Exact plans for cutting sheet goods: what to buy, how to lay it out, in what order to cut it.

The entrance for programs::

    job = cutlist.read_job("counter.yaml")
    plan = cutlist.plan(job, seconds=5)
    cutlist.write(plan, "counter")

Importing the package is light: the model, the search, the audit and the PDF are loaded when first
used. ``docs/for-programs.md`` has worked examples.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    import datetime
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from cutlist.drawing.paper import A4, LETTER, Paper
    from cutlist.errors import (
        AuditError,
        CannotCutError,
        CutlistError,
        Fault,
        FaultCode,
        JobError,
        JobFileError,
        LengthError,
        PlanFileError,
        RackError,
        RackFileError,
        Reason,
        ReasonCode,
        StoppedError,
        WriteError,
    )
    from cutlist.model.edges import Edge, EdgeTrims
    from cutlist.model.job import (
        FactoryEdge,
        Goal,
        Grain,
        Job,
        KeepFrom,
        Match,
        Offcut,
        Part,
        Remainders,
        Saw,
        SawKind,
        Sheet,
        Store,
        Vehicle,
    )
    from cutlist.model.plan import (
        Bounds,
        Cut,
        Direction,
        Leftover,
        Operation,
        Panel,
        Piece,
        Place,
        Plan,
        Purchase,
        Purpose,
        SawSetup,
        Setup,
        SizeOrigin,
        Totals,
        Workpiece,
    )
    from cutlist.model.sawing import Caution, Device, Hazard, SizeCheck
    from cutlist.model.variants import Variant
    from cutlist.model.weights import Density
    from cutlist.nesting.stopping import WhenAsked
    from cutlist.planning.compare import CompareWatcher
    from cutlist.planning.terms.progress import PlanSoFar, Watcher
    from cutlist.units.system import Units

__all__ = [
    "A4",
    "LETTER",
    "AuditError",
    "Bounds",
    "CannotCutError",
    "Caution",
    "CompareWatcher",
    "Cut",
    "CutlistError",
    "Density",
    "Device",
    "Direction",
    "Edge",
    "EdgeTrims",
    "FactoryEdge",
    "Fault",
    "FaultCode",
    "Goal",
    "Grain",
    "Hazard",
    "Job",
    "JobError",
    "JobFileError",
    "KeepFrom",
    "Leftover",
    "LengthError",
    "Match",
    "Offcut",
    "Operation",
    "Panel",
    "Paper",
    "Part",
    "Piece",
    "Place",
    "Plan",
    "PlanFileError",
    "PlanSoFar",
    "Purchase",
    "Purpose",
    "RackError",
    "RackFileError",
    "Reason",
    "ReasonCode",
    "Remainders",
    "Saw",
    "SawKind",
    "SawSetup",
    "Setup",
    "Sheet",
    "SizeCheck",
    "SizeOrigin",
    "StoppedError",
    "Store",
    "Totals",
    "Units",
    "Variant",
    "Vehicle",
    "Watcher",
    "WhenAsked",
    "Workpiece",
    "WriteError",
    "__version__",
    "compare",
    "job_from",
    "plan",
    "read_job",
    "read_plan",
    "write",
]

__version__ = "0.1.0"

#: Where the classes are told that this module only names.
_TOLD_IN: Final = {
    "cutlist.drawing.paper": "A4 LETTER Paper",
    "cutlist.errors": "AuditError CannotCutError CutlistError Fault FaultCode JobError "
    "JobFileError LengthError PlanFileError RackError RackFileError Reason ReasonCode "
    "StoppedError WriteError",
    "cutlist.model.edges": "Edge EdgeTrims",
    "cutlist.model.job": "FactoryEdge Goal Grain Job KeepFrom Match Offcut Part Remainders Saw "
    "SawKind Sheet Store Vehicle",
    "cutlist.model.plan": "Bounds Cut Direction Leftover Operation Panel Piece Place Plan Purchase "
    "Purpose SawSetup Setup SizeOrigin Totals Workpiece",
    "cutlist.model.sawing": "Caution Device Hazard SizeCheck",
    "cutlist.model.variants": "Variant",
    "cutlist.model.weights": "Density",
    "cutlist.nesting.stopping": "WhenAsked",
    "cutlist.planning.compare": "CompareWatcher",
    "cutlist.planning.terms.progress": "PlanSoFar Watcher",
    "cutlist.units.system": "Units",
}
_MODULE_OF: Final = {name: module for module, names in _TOLD_IN.items() for name in names.split()}


def __getattr__(name: str) -> Any:
    """Load a class when it is first asked for."""
    if name not in _MODULE_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_MODULE_OF[name]), name)


def __dir__() -> list[str]:
    """List every public name, loaded or not."""
    return sorted({*globals(), *__all__})


def read_job(path: Path | str) -> Job:
    """Read and check a job file.

    Raises
    ------
    JobFileError
        With every fault of the file, its line and its column.
    """
    from cutlist.reading import read_job as read

    return read(path)


def job_from(mapping: Mapping[str, object], *, folder: Path | str = ".") -> Job:
    """Make a job of the keys and values that a job file would hold.

    Parameters
    ----------
    mapping
        The keys of the job file. Lengths are numbers in the job's unit, exact ones or floats that
        keep what was meant, or texts as in a file.
    folder
        Where a rack's path starts.

    Raises
    ------
    JobError
        With every fault, and the key that each belongs to.
    """
    from cutlist.reading import job_from as make

    return make(mapping, folder=folder)


def plan(
    job: Job,
    *,
    seconds: float | None = 5.0,
    steps: int | None = None,
    seed: int = 0,
    partial: bool = False,
    watcher: Watcher | None = None,
    stop: WhenAsked | None = None,
) -> Plan:
    """Plan a job; the plan has passed the audit.

    Parameters
    ----------
    job
        What is asked for. One that was built in code is checked as a file is.
    seconds
        Search budget in wall-clock time; None for none, which takes a budget in steps.
    steps
        Search budget in search steps. With steps alone (``seconds=None``) equal jobs and seeds
        give equal plans.
    seed
        Start of the random numbers.
    partial
        Where the stock does not suffice, plan the most valuable panels instead of raising.
    watcher
        Hears of progress.
    stop
        Ends the search with the best plan so far once its ``ask()`` is called, by any thread.

    Raises
    ------
    ValueError
        If neither seconds nor steps are given, or one is negative.
    JobError
        If the job is wrong, with every fault.
    CannotCutError
        If a part cannot be cut from the stock.
    StoppedError
        If it was stopped before any plan existed.
    AuditError
        If the audit refuses the plan, which is a bug of this package.
    """
    from cutlist.nesting.allowance import Allowance
    from cutlist.planning.kernels import prepare_kernels
    from cutlist.planning.make import make_plan
    from cutlist.reading import checked

    sound = checked(job)
    Allowance(seconds, steps)  # is what is wrong with these told before the compiler is waited for
    prepare_kernels()
    allowance = Allowance(seconds, steps, asked=stop)
    return make_plan(sound, seed=seed, allowance=allowance, watcher=watcher, partial=partial)


def compare(
    job: Job,
    *,
    seconds: float | None = 2.0,
    steps: int | None = None,
    seed: int = 0,
    watcher: CompareWatcher | None = None,
    stop: WhenAsked | None = None,
) -> tuple[Variant, ...]:
    """Plan every material of a job on each of its sheets alone, and on all of them.

    Parameters
    ----------
    job, seed, watcher, stop
        As for :func:`plan`; what is not planned yet when it is stopped has no plan.
    seconds, steps
        Search budget of each plan.

    Raises
    ------
    ValueError, JobError
        As :func:`plan` does.
    """
    from cutlist.nesting.allowance import Allowance
    from cutlist.planning.compare import compare as plan_all
    from cutlist.planning.kernels import prepare_kernels
    from cutlist.reading import checked

    sound = checked(job)
    Allowance(seconds, steps)
    prepare_kernels()
    made = plan_all(
        sound,
        seed=seed,
        allowance=lambda: Allowance(seconds, steps, asked=stop),
        watcher=watcher,
        asked=stop,
    )
    return tuple(made)


def read_plan(path: Path | str) -> Plan:
    """Read a ``plan.json`` again; the plan equals the one that was written.

    Raises
    ------
    PlanFileError
        If the file cannot be read, is of another format, or lacks something.
    """
    from cutlist.output.plan_reading import read_plan as read

    return read(path)


def write(
    plan: Plan,
    folder: Path | str,
    documents: Sequence[str] = ("pdf", "json"),
    *,
    paper: Paper | None = None,
    date: datetime.date | None = None,
) -> tuple[Path, ...]:
    """Write the documents of a plan into a folder and return their paths.

    Parameters
    ----------
    plan
        The plan.
    folder
        Made if need be; files of the same name are replaced.
    documents
        Which: ``pdf``, ``json``.
    paper
        Of the PDF: :data:`A4`, :data:`LETTER` or another; what is usual with the unit if left out.
    date
        Printed on the PDF; today if left out.

    Raises
    ------
    ValueError
        If a document is none of these.
    WriteError
        If a file cannot be written; each file is whole or not there.
    """
    from cutlist.output.writing import DOCUMENTS, write_documents

    unknown = [word for word in documents if word not in DOCUMENTS]
    if unknown:
        raise ValueError(f"documents: found {unknown[0]!r}; accepted: {', '.join(DOCUMENTS)}")
    return write_documents(plan, folder, documents, paper=paper, day=date)

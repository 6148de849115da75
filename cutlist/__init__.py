"""Exact plans for cutting sheet goods: what to buy, how to lay it out, in what order to cut it.

The entrance for programs::

    job = cutlist.read_job("counter.yaml")
    plan = cutlist.plan(job, seconds=5)
    cutlist.write(plan, "counter")

Importing the package is light: the search, the audit and the PDF are loaded when first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from cutlist.model.job import Job
    from cutlist.model.plan import Plan

__all__ = ["__version__", "plan", "read_job", "write"]

__version__ = "0.1.0"


def read_job(path: Path | str) -> Job:
    """Read and check a job file.

    Raises
    ------
    JobFileError
        With every fault of the file, its line and its column.
    """
    from cutlist.reading import read_job as read

    return read(path)


def plan(job: Job, *, seconds: float | None = 5.0, steps: int | None = None, seed: int = 0) -> Plan:
    """Plan a job; the plan has passed the audit.

    Parameters
    ----------
    job
        What is asked for.
    seconds
        Search budget in wall-clock time; None for none, which takes a budget in steps.
    steps
        Search budget in search steps. With steps alone (``seconds=None``) equal jobs and seeds
        give equal plans.
    seed
        Start of the random numbers.

    Raises
    ------
    CannotCutError
        If a part cannot be cut from the stock.
    AuditError
        If the audit refuses the plan, which is a bug of this package.
    """
    from cutlist.planning.budget import Budget
    from cutlist.planning.kernels import prepare_kernels
    from cutlist.planning.make import make_plan

    prepare_kernels()
    return make_plan(job, seed=seed, budget=Budget(seconds=seconds, steps=steps))


def write(
    plan: Plan, folder: Path | str, documents: tuple[str, ...] = ("pdf", "json")
) -> tuple[Path, ...]:
    """Write the documents of a plan into a folder and return their paths.

    Raises
    ------
    WriteError
        If a file cannot be written; each file is whole or not there.
    """
    from cutlist.output.writing import write_documents

    return write_documents(plan, folder, documents)

"""A file, a mapping or the model's own classes to a sound Job: all faults at once, with places."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.errors import FaultCode, JobError, JobFileError
from cutlist.reading.builder import build_job, draft_job
from cutlist.reading.built import SOURCE, checked
from cutlist.reading.checks import check
from cutlist.reading.faults import Faults
from cutlist.reading.nodes import load_bytes, parse
from cutlist.reading.places import Mark
from cutlist.reading.values import NodeMaker

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.model.job import Job
    from cutlist.reading.nodes import Node

__all__ = ["checked", "job_from", "read_job", "read_nodes"]


def read_job(path: Path | str) -> Job:
    """Read and check a job file.

    Raises
    ------
    JobFileError
        With every fault found, in file order. A file that is not UTF-8 or not YAML has that one
        fault, and those that stand before it.
    """
    file = Path(path)
    return _read(load_bytes(file), str(file))


def job_from(mapping: Mapping[str, object], *, folder: Path | str = ".") -> Job:
    """Make a job of the keys and values that a job file would hold.

    Parameters
    ----------
    mapping
        The keys of the job file. Texts are read as they are there; numbers may be ``int``,
        ``Fraction``, ``Decimal``, or a ``float`` that keeps what was meant: of it the shortest
        decimal is taken, which has to have at most 15 digits.
    folder
        Where a rack's path starts.

    Raises
    ------
    JobError
        With every fault found, in the order of the mapping.
    """
    faults = Faults()
    draft = draft_job(NodeMaker(faults).node(mapping), faults, Path(folder))
    check(draft, faults)
    if faults:
        raise JobError(SOURCE, faults.in_order())
    return build_job(draft, "", "")


def _read(data: bytes, file: str) -> Job:
    faults = Faults()
    root = parse(data, file, faults)
    if root is None:
        message, accepted = "the file is empty", "job: a name for the job"
        faults.add(FaultCode.FILE, Mark(1, 1), "", "", message, accepted)
        raise JobFileError(file, faults.in_order())
    return read_nodes(root, data, folder=Path(file).parent, file=file, faults=faults)


def read_nodes(
    root: Node, data: bytes, *, folder: Path, file: str, faults: Faults | None = None
) -> Job:
    """Read and check the nodes of a job file.

    Parameters
    ----------
    root, data
        The nodes, and the bytes that they come from.
    folder
        Where a rack's path starts.
    file
        What faults name the file.
    faults
        Those found so far.

    Raises
    ------
    JobFileError
        With every fault found, in file order.
    """
    faults = faults or Faults()
    draft = draft_job(root, faults, folder)
    check(draft, faults)
    if faults:
        raise JobFileError(file, faults.in_order())
    return build_job(draft, hashlib.sha256(data).hexdigest(), data.decode("utf-8", "replace"))

"""YAML to Job: all faults at once, with line and column."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.errors import FaultCode, JobFileError
from cutlist.reading.builder import build_job, draft_job
from cutlist.reading.checks import check
from cutlist.reading.faults import Faults
from cutlist.reading.nodes import load_bytes, parse
from cutlist.reading.places import Mark

if TYPE_CHECKING:
    from cutlist.model.job import Job
    from cutlist.reading.nodes import Node

__all__ = ["read_job", "read_nodes"]


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

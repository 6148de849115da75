"""Taking a plan whose work is done: the rack is changed as the plan says.

The documents come first, then ``rack.json``, then, only when asked for, the rack, in one
transaction. Killed before that, the rack is as it was and the plan can still be taken; killed
after, it is taken, and taking it again is refused. Nothing has to be mended in between.
"""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from cutlist.errors import RackFileError
from cutlist.output.writing import BOOKING, DOCUMENTS
from cutlist.rack import read_booking, take

if TYPE_CHECKING:
    from cutlist.model.job import Job
    from cutlist.model.rack import Booking
    from cutlist.rack import Change

__all__ = ["take_plan", "waiting_plan"]


def waiting_plan(job: Job, folder: Path) -> Booking | None:
    """Find what the plan in a folder does to the rack; None where no plan lies there.

    Raises
    ------
    RackFileError
        If the job names no rack, or the plan is not that of the job as it stands now.
    """
    if job.rack is None:
        raise RackFileError(
            "the job names no offcut rack; that takes a line such as: offcuts: rack.db"
        )
    path = folder / BOOKING
    if path.exists():
        booking = read_booking(path)
        if booking.sha256 != job.sha256:
            message = (
                "the job file was changed since this plan was made; put it back, or plan again"
            )
            raise RackFileError(f"{folder}: {message}")
        return booking
    for name in DOCUMENTS.values():
        if (folder / name).exists():
            message = "this plan was made without a rack, or not written to its end; plan again"
            raise RackFileError(f"{folder / name}: {message}")
    return None


def take_plan(job: Job, folder: Path, *, day: datetime.date) -> tuple[Booking, Change]:
    """Change the rack as the plan in a folder says, and tell what was changed.

    Raises
    ------
    RackError
        If the plan was taken before, or uses a piece that is gone, or the disk refuses.
    RackFileError
        If there is no plan to take.
    """
    booking = waiting_plan(job, folder)
    if booking is None or job.rack is None:
        raise RackFileError(f"{folder}: there is no plan here")
    return booking, take(Path(job.rack.file), booking, day=day)

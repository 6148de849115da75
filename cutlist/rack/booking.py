"""What a plan does to the rack: found out when it is made, kept beside its documents, read again.

Nothing of this changes the rack; see :func:`cutlist.rack.changes.take`.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from cutlist.errors import RackFileError
from cutlist.ledger.edges import unclean
from cutlist.ledger.ledger import read_ledger
from cutlist.model.edges import Edge
from cutlist.model.rack import Booking, Leaving, RackGrain, RackOffcut
from cutlist.units.lengths import convert
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.ledger.entries import Entry
    from cutlist.model.plan import Leftover, Plan

__all__ = ["book", "booking_text", "read_booking"]

FORMAT: Final = "cutlist-rack/1"


def book(plan: Plan) -> Booking | None:
    """Give what a plan does to the rack that its job names; None where it names none."""
    rack = plan.job.rack
    if rack is None:
        return None
    there = {offcut.name: offcut for offcut in rack.offcuts}
    used = [there[one.stock] for one in plan.workpieces if not one.bought]
    entries = read_ledger(plan).entries
    kept = tuple(
        _kept(left, plan, entries[left.piece.name])
        for left in plan.leftovers
        # Stock that no cut touched stays what it is.
        if left.keep and left.piece.name not in {one.piece for one in plan.workpieces}
    )
    return Booking(
        plan=_digest(plan, rack.state),
        job=plan.job.name,
        sha256=plan.job.sha256,
        leaving=tuple(Leaving(offcut.number, offcut.name) for offcut in used),
        entering=kept,
    )


def _digest(plan: Plan, state: str) -> str:
    """Digest what is cut and what was on the rack: the same plan made again has the same."""
    content = (plan.job.sha256, state, plan.workpieces, plan.setups, plan.panels, plan.leftovers)
    return hashlib.sha256(repr(content).encode()).hexdigest()


def _kept(left: Leftover, plan: Plan, entry: Entry) -> RackOffcut:
    edges = unclean(entry.edges)
    has_grain = any(stock.has_grain for stock in entry.origins)

    def mm(value: Fraction) -> Fraction:
        return convert(value, plan.job.units, Units.MM)

    return RackOffcut(
        name=left.piece.name,
        material=left.material,
        thickness=mm(left.thickness),
        length=mm(left.piece.length),
        width=mm(left.piece.width),
        grain=RackGrain.LENGTH if has_grain else RackGrain.NONE,
        trim=mm(max(edges.values(), default=Fraction(0))),
        edges=tuple(edge for edge in Edge if edge in edges),
        job=plan.job.name,
    )


def booking_text(booking: Booking) -> str:
    """Write a booking as JSON; exact lengths are text, in millimetres. It ends with a newline."""
    document = {"format": FORMAT, **asdict(booking)}
    for piece in document["entering"]:
        del piece["day"], piece["number"]
    return json.dumps(document, indent=1, ensure_ascii=False, default=str) + "\n"


def read_booking(path: Path) -> Booking:
    """Read a booking again.

    Raises
    ------
    RackFileError
        If the file is not there, or is not one that :func:`booking_text` wrote.
    """
    try:
        document = json.loads(path.read_text(encoding="utf-8"))
        if document["format"] != FORMAT:
            raise ValueError
        return Booking(
            plan=str(document["plan"]),
            job=str(document["job"]),
            sha256=str(document["sha256"]),
            leaving=tuple(
                Leaving(int(one["number"]), str(one["name"])) for one in document["leaving"]
            ),
            entering=tuple(_entering(one) for one in document["entering"]),
        )
    except OSError as error:
        raise RackFileError(f"{path}: {error.strerror}") from error
    except (ValueError, KeyError, TypeError, ArithmeticError) as error:
        message = f"{path}: this is not what a plan leaves for the rack; plan the job again"
        raise RackFileError(message) from error


def _entering(one: dict[str, Any]) -> RackOffcut:
    keys = ("thickness", "length", "width", "trim")
    thickness, length, width, trim = (Fraction(one[key]) for key in keys)
    if min(thickness, length, width) <= 0 or trim < 0:
        raise ValueError
    return RackOffcut(
        name=str(one["name"]),
        material=str(one["material"]),
        thickness=thickness,
        length=length,
        width=width,
        trim=trim,
        grain=RackGrain(one["grain"]),
        edges=tuple(Edge(edge) for edge in one["edges"]),
        job=str(one["job"]),
    )

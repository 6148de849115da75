"""Which tool of a job's shop makes a cut, for plans that need no search."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from cutlist.model.job import MINUTES_A_CUT, Job, Saw
from cutlist.model.plan import Cut, Direction, Piece, Place, SawSetup
from cutlist.model.sawing import Device, Hazard


def hazards_of(saw: Saw, cut: Cut, piece: Piece, distance: Fraction) -> tuple[Hazard, ...]:
    """Say what the limits of a saw have against a cut, in the order of the hazards."""
    along, across = piece.length, piece.width
    if cut.direction is Direction.CROSSCUT:
        along, across = across, along
    is_fence = saw.device is Device.FENCE
    held = {Device.FENCE: along, Device.STOP: across}.get(saw.device, min(along, across))
    steady = saw.steady_edge is not None and along >= saw.steady_edge
    carried = any(across <= most and along <= far for most, far in saw.largest_pieces)
    found = {
        Hazard.TOO_LONG: saw.longest_cut is not None and along > saw.longest_cut,
        Hazard.UNSTEADY: is_fence and across > along and not steady,
        Hazard.TOO_LARGE: bool(saw.largest_pieces) and not carried,
        Hazard.TOO_SMALL: held < saw.smallest_piece,
        Hazard.TOO_THIN: is_fence and distance < saw.thinnest_strip,
    }
    return tuple(hazard for hazard, holds in found.items() if holds)


def tool_for(job: Job, cut: Cut, piece: Piece, distance: Fraction) -> tuple[Saw, Cut]:
    """Return the first saw that makes a cut within its limits, and the cut.

    Where none does it is the one with the fewest hazards, and the cut is flagged with them.
    """
    reaching = [saw for saw in job.tools if saw.max_rip is None or distance <= saw.max_rip]
    told = [(hazards_of(saw, cut, piece, distance), saw) for saw in reaching]
    hazards, saw = min(told, key=lambda one: len(one[0]))
    return saw, Cut(
        cut.number, cut.piece, cut.direction, cut.purpose, cut.kept, cut.rest, hazards=hazards
    )


def set_ups(
    job: Job, distance: Fraction, cuts: Sequence[tuple[Cut, Piece]], first: int
) -> list[SawSetup]:
    """Give the set-ups, from number ``first`` on, that make cuts at one distance of given pieces.

    A tool makes all that is there for it before the next one is taken; a guide that is laid anew
    makes one cut each time.
    """
    left = [tool_for(job, cut, piece, distance) for cut, piece in cuts]
    waiting = {made.name for _, cut in left for made in cut.makes}
    made: list[SawSetup] = []
    while left:
        saw = next(saw for saw, cut in left if cut.piece not in waiting)
        now: list[Cut] = []
        later: list[tuple[Saw, Cut]] = []
        for one, cut in left:
            is_full = saw.serves_one_cut and bool(now)
            if one.name == saw.name and cut.piece not in waiting and not is_full:
                now.append(cut)
                waiting -= {piece.name for piece in cut.makes}
            else:
                later.append((one, cut))
        left = later
        made.append(
            SawSetup(
                first + len(made), Place.SHOP, saw.name, distance, saw.kerf, tuple(now),
                mark=distance, device=saw.device,
            )
        )  # fmt: skip
    return made


def shop_figures(job: Job, settings: Sequence[SawSetup]) -> dict[str, Any]:
    """Give what the totals of a plan say of its set-ups, by the names of their fields."""
    shop = [one for one in settings if one.place is Place.SHOP]
    minutes = {saw.name: job.minutes_of(saw) for saw in job.tools}
    cuts = sum(len(one.cuts) for one in shop)
    return {
        "setups": len(shop),
        "setups_by_device": tuple(
            (device, sum(one.device is device for one in shop))
            for device in (Device.FENCE, Device.STOP, Device.GUIDE)
        ),
        "store_setups": len(settings) - len(shop),
        "minutes": sum((minutes[one.tool] for one in shop), cuts * MINUTES_A_CUT),
    }

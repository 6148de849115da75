"""What set-ups are made with, in words: the fence, a stop or a guide, and how many of each.

A cut is called by what the hands do: a rip is made along the fence, a crosscut at the stop, a
guided cut along a guide, however the grain runs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.model.plan import Place
from cutlist.model.sawing import Device
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Iterable
    from fractions import Fraction

    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Cut, SawSetup

__all__ = [
    "COMES_OFF",
    "UNDER",
    "by_device_words",
    "cut_word",
    "kerf_words",
    "laid_anew",
    "minutes_words",
]

#: What the distance of a set-up lies between.
UNDER: Final = {
    Device.FENCE: "fence to blade",
    Device.STOP: "stop to blade",
    Device.GUIDE: "edge to cut",
    Device.STORE: "edge to cut",
}
#: How the column of what comes off is headed.
COMES_OFF: Final = {
    Device.FENCE: "comes off at the fence",
    Device.STOP: "comes off at the stop",
    Device.GUIDE: "comes off, measured from its edge",
    Device.STORE: "comes off",
}
_CUTS: Final = {Device.FENCE: "rip", Device.STOP: "crosscut", Device.GUIDE: "guided cut"}
#: From so many minutes on a time is told in hours and minutes.
_LONG: Final = 120


def cut_word(setting: SawSetup, cut: Cut) -> str:
    """Name a cut: at the store, where nobody says how it is held, by the way it runs."""
    return _CUTS.get(setting.device, cut.direction.value)


def by_device_words(counts: Iterable[tuple[Device, int]]) -> str:
    """Say how many set-ups each device has: ``5 fence, 6 stop``; empty where there are none."""
    return ", ".join(f"{count} {device.value}" for device, count in counts if count)


def minutes_words(minutes: Fraction) -> str:
    """Print a time to the minute: ``58 min``, from two hours on ``2 h 5 min``."""
    whole = round(minutes)
    if whole < _LONG:
        return f"{whole} min"
    hours, left = divmod(whole, 60)
    return f"{hours} h {left} min" if left else f"{hours} h"


def laid_anew(ledger: Ledger) -> frozenset[str]:
    """Give the tools of the shop that are set anew for every cut."""
    return frozenset(saw.name for saw in ledger.plan.job.tools if saw.serves_one_cut)


def kerf_words(ledger: Ledger) -> str:
    """Give each tool's kerf as the plan reckons with it, and how far its distance can be set."""
    job = ledger.plan.job
    reaches = {saw.name: saw.max_rip for saw in job.tools}
    said: dict[str, None] = {}
    for setting in ledger.plan.settings:
        kerf = f"kerf {format_length(setting.kerf, job.units)}"
        if setting.place is Place.STORE:
            said[f"store: {kerf}"] = None
            continue
        reach = reaches.get(setting.tool)
        most = "" if reach is None else f", set to {format_length(reach, job.units)} at most"
        said[f"{setting.tool}: {kerf}{most}"] = None
    text = "; ".join(said)
    return f"{text[0].upper()}{text[1:]}."

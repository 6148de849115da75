"""What guides the cuts, in words: the fence, a stop or a guide."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Final

from cutlist.model.plan import Place
from cutlist.model.sawing import Device
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.ledger import Ledger
    from cutlist.model.matches import Matched
    from cutlist.model.plan import Cut, SawSetup

__all__ = [
    "DEVICE_WORDS",
    "comes_off_words",
    "device_runs",
    "devices",
    "has_mixed",
    "kerf_words",
    "match_devices",
    "tool_words",
    "under_words",
]

#: How cuts are said to be made with each device.
DEVICE_WORDS: Final = {
    Device.FENCE: "along the fence",
    Device.STOP: "at the stop of the sled",
    Device.GUIDE: "along a guide, with the guided saw",
    Device.STORE: "at the store",
}
_COMES_OFF: Final = {
    Device.FENCE: "comes off at the fence",
    Device.STOP: "comes off at the stop",
    Device.GUIDE: "comes off, measured from its edge",
    Device.STORE: "comes off",
}


def devices(setting: SawSetup) -> tuple[Device, ...]:
    """Give what a set-up's cuts are guided by, the fence first."""
    used = {cut.device for cut in setting.cuts}
    return tuple(device for device in Device if device in used)


def has_mixed(ledger: Ledger) -> bool:
    """Tell whether one set-up of the plan is set on more than one device."""
    return any(len(devices(setting)) > 1 for setting in ledger.plan.settings)


def device_runs(setting: SawSetup) -> tuple[tuple[Device, tuple[Cut, ...]], ...]:
    """Part a set-up's cuts, as they stand, into runs on one device."""
    runs = groupby(setting.cuts, key=lambda cut: cut.device)
    return tuple((device, tuple(cuts)) for device, cuts in runs)


def tool_words(ledger: Ledger, setting: SawSetup) -> str:
    """Name what is set: the saw as the job calls it, or the devices of a saw that does all."""
    if ledger.kind_of(setting) is not None or setting.place is Place.STORE:
        return setting.tool
    names = {Device.FENCE: setting.tool, Device.STOP: "sled", Device.GUIDE: "guided saw"}
    return ", ".join(names[device] for device in devices(setting))


def under_words(setting: SawSetup) -> str:
    """Say what the distance lies between."""
    used = devices(setting)
    blade = {Device.FENCE: "fence", Device.STOP: "stop"}
    to_blade = " and ".join(blade[device] for device in used if device in blade)
    said = [f"{to_blade} to blade"] if to_blade else []
    return ", ".join([*said, *(["edge to cut"] if Device.GUIDE in used else [])])


def kerf_words(ledger: Ledger) -> str:
    """Give each saw's kerf as the plan reckons with it, and how far its distance can be set."""
    job = ledger.plan.job
    shop = [one for one in ledger.plan.settings if one.place is not Place.STORE]
    has_others = not job.saws and any(devices(one) != (Device.FENCE,) for one in shop)
    too = " (reckoned for sled and guided saw too)" if has_others else ""
    said: dict[str, None] = {}
    for setting in ledger.plan.settings:
        kerf = f"kerf {format_length(setting.kerf, job.units)}"
        if setting.place is Place.STORE:
            said[f"store: {kerf}"] = None
            continue
        saw = next((one for one in job.saws if one.name == setting.tool), job.saw)
        reach = saw.max_rip
        most = "" if reach is None else f", set to {format_length(reach, job.units)} at most"
        said[f"{setting.tool}: {kerf}{too}{most}"] = None
    text = "; ".join(said)
    return f"{text[0].upper()}{text[1:]}."


def comes_off_words(used: Sequence[Device]) -> str:
    """Head the column of what comes off."""
    return _COMES_OFF[used[0]] if len(used) == 1 else "comes off"


def match_devices(ledger: Ledger, matched: Matched, number: int) -> tuple[Device, ...]:
    """Give what sets the common size of matching panels at one set-up, the fence first."""
    setting = next(one for one in ledger.plan.settings if one.number == number)
    parts = next(one.parts for one in ledger.plan.job.matches if one.name == matched.name)
    used = {cut.device for cut in setting.cuts if _sizes_part(ledger, cut, parts)}
    return tuple(device for device in Device if device in used)


def _sizes_part(ledger: Ledger, cut: Cut, parts: Sequence[str]) -> bool:
    """Tell whether a panel of the parts has the size across a cut that the cut gave its piece."""
    waiting = [cut.kept.name]
    while waiting:
        name = waiting.pop()
        panel = ledger.panel_of.get(name)
        if panel is not None and panel.part in parts:
            return True
        if name in ledger.divided_by:
            following = ledger.divided_by[name][1]
            if following.direction is not cut.direction:
                waiting.extend(piece.name for piece in following.makes)
    return False

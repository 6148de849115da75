"""What guides each cut: the fence, a stop or a guide; told apart where one saw stands for all."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING, Final

from cutlist.model.job import SawKind
from cutlist.model.plan import Place
from cutlist.planning.instructions.cautions import Flag
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.ledger.lineage import Story
    from cutlist.model.matches import Matched
    from cutlist.model.plan import Cut, Setting

__all__ = [
    "Device",
    "comes_off_words",
    "device_of",
    "device_runs",
    "devices",
    "has_mixed",
    "kerf_words",
    "match_devices",
    "tool_words",
    "under_words",
]


class Device(Enum):
    """What the distance is measured to; the value is how many cuts are said to be made."""

    FENCE = "along the fence"
    STOP = "at the stop of the sled"
    GUIDE = "along a guide, with the guided saw"


_BY_KIND: Final = {
    SawKind.TABLE_SAW: Device.FENCE,
    SawKind.SLED: Device.STOP,
    SawKind.MITRE_GAUGE: Device.STOP,
    SawKind.TRACK_SAW: Device.GUIDE,
    SawKind.CIRCULAR_SAW: Device.GUIDE,
}
_COMES_OFF: Final = {
    Device.FENCE: "comes off at the fence",
    Device.STOP: "comes off at the stop",
    Device.GUIDE: "comes off, measured from its edge",
}


def device_of(story: Story, setting: Setting, cut: Cut) -> Device:
    """Tell what guides a cut: by the kind of its saw, or by its marks where one saw does all."""
    kind = story.kind_of(setting)
    if kind is not None:
        return _BY_KIND[kind]
    flags = story.flags(setting, cut)
    if Flag.GUIDED_SAW in flags:
        return Device.GUIDE
    return Device.STOP if Flag.SLED in flags else Device.FENCE


def devices(story: Story, setting: Setting) -> tuple[Device, ...]:
    """Give what a setting's cuts are guided by, the fence first."""
    used = {device_of(story, setting, cut) for cut in setting.cuts}
    return tuple(device for device in Device if device in used)


def has_mixed(story: Story) -> bool:
    """Tell whether one setting of the plan is set on more than one device."""
    return any(len(devices(story, setting)) > 1 for setting in story.plan.settings)


def device_runs(story: Story, setting: Setting) -> tuple[tuple[Device, tuple[Cut, ...]], ...]:
    """Part a setting's cuts into runs on one device, no cut before the one that makes its piece.

    A run takes all that is there to be cut on its device; the next begins with the first cut left.
    """
    left = list(setting.cuts)
    waiting = {piece.name for cut in left for piece in (cut.kept, cut.rest) if piece}
    runs: list[tuple[Device, tuple[Cut, ...]]] = []
    while left:
        device = next(device_of(story, setting, c) for c in left if c.piece not in waiting)
        run = []
        for cut in left:
            if cut.piece not in waiting and device_of(story, setting, cut) is device:
                run.append(cut)
                waiting -= {piece.name for piece in (cut.kept, cut.rest) if piece}
        done = {cut.number for cut in run}
        left = [cut for cut in left if cut.number not in done]
        runs.append((device, tuple(run)))
    return tuple(runs)


def tool_words(story: Story, setting: Setting) -> str:
    """Name what is set: the saw as the job calls it, or the devices of a saw that does all."""
    if story.kind_of(setting) is not None:
        return setting.tool
    names = {Device.FENCE: setting.tool, Device.STOP: "sled", Device.GUIDE: "guided saw"}
    return ", ".join(names[device] for device in devices(story, setting))


def under_words(story: Story, setting: Setting) -> str:
    """Say what the distance lies between."""
    used = devices(story, setting)
    blade = {Device.FENCE: "fence", Device.STOP: "stop"}
    to_blade = " and ".join(blade[device] for device in used if device in blade)
    said = [f"{to_blade} to blade"] if to_blade else []
    return ", ".join([*said, *(["edge to cut"] if Device.GUIDE in used else [])])


def kerf_words(story: Story) -> str:
    """Give each saw's kerf as the plan reckons with it, and how far its distance can be set."""
    job = story.plan.job
    shop = [one for one in story.plan.settings if one.place is not Place.STORE]
    has_others = not job.saws and any(devices(story, one) != (Device.FENCE,) for one in shop)
    too = " (reckoned for sled and guided saw too)" if has_others else ""
    said: dict[str, None] = {}
    for setting in story.plan.settings:
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


def match_devices(story: Story, matched: Matched, number: int) -> tuple[Device, ...]:
    """Give what sets the common size of matching panels at one setting, the fence first."""
    setting = next(one for one in story.plan.settings if one.number == number)
    parts = next(one.parts for one in story.plan.job.matches if one.name == matched.name)
    used = {
        device_of(story, setting, cut)
        for cut in setting.cuts
        if _sizes_part(story, cut, parts)
    }  # fmt: skip
    return tuple(device for device in Device if device in used)


def _sizes_part(story: Story, cut: Cut, parts: Sequence[str]) -> bool:
    """Tell whether a panel of the parts has the size across a cut that the cut gave its piece."""
    waiting = [cut.kept.name]
    while waiting:
        name = waiting.pop()
        panel = story.panel_of.get(name)
        if panel is not None and panel.part in parts:
            return True
        if name in story.divided_by:
            following = story.divided_by[name][1]
            if following.direction is not cut.direction:
                both = (following.kept, following.rest)
                waiting.extend(piece.name for piece in both if piece is not None)
    return False

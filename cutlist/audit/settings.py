"""The settings: their numbers, what they share, that none is set twice, what the tools reach.

A guide is laid anew for every cut, and such settings of one distance may follow one another; all
others serve every cut until the tool is set again.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.audit.findings import Code, Report, show
from cutlist.audit.operations import FOLLOWED
from cutlist.model.job import SawKind
from cutlist.model.plan import Place
from cutlist.model.sawing import Device

if TYPE_CHECKING:
    from cutlist.model.job import Job, Saw
    from cutlist.model.plan import Plan, SawSetup


#: What the distance of each kind of saw is measured to.
DEVICES: Final = {
    SawKind.TABLE_SAW: Device.FENCE,
    SawKind.SLED: Device.STOP,
    SawKind.MITRE_GAUGE: Device.STOP,
    SawKind.TRACK_SAW: Device.GUIDE,
    SawKind.CIRCULAR_SAW: Device.GUIDE,
}


def check_settings(plan: Plan, report: Report) -> None:
    """Check each setting and each two neighbours."""
    for setup in plan.setups:
        if not isinstance(setup, FOLLOWED):
            message = f"is a {type(setup).__name__}, which no rule tells how to follow"
            report.add(Code.SETUP_UNKNOWN, f"set-up {setup.number}", message)
    before: SawSetup | None = None
    shop_begun = False
    for number, setting in enumerate(plan.settings, start=1):
        where = f"setting {setting.number}"
        if setting.number != number:
            message = f"is numbered {setting.number}, expected {number}"
            report.add(Code.SETTING_NUMBER, where, message)
        if not setting.cuts:
            report.add(Code.SETTING_EMPTY, where, "has no cuts")
        if setting.distance <= 0:
            report.add(Code.DISTANCE_NOT_POSITIVE, where, f"is set at {show(setting.distance)}")
        is_laid_anew = serves_one_cut(plan.job, setting)
        if before is not None and _set_up(before) == _set_up(setting) and not is_laid_anew:
            message = "has place, tool and distance of the setting before it"
            report.add(Code.SETTING_REPEATED, where, message)
        if is_laid_anew and len(setting.cuts) > 1:
            message = f"has {len(setting.cuts)} cuts along a guide that is laid anew for each"
            report.add(Code.SETTING_OF_SEVERAL_CUTS, where, message)
        if setting.place is Place.STORE:
            _check_store(plan.job, setting, shop_begun, where, report)
        else:
            shop_begun = True
            _check_shop(plan.job, setting, where, report)
        before = setting


def _set_up(setting: SawSetup) -> tuple[Place, str, Fraction]:
    return setting.place, setting.tool, setting.distance


def _check_store(job: Job, setting: SawSetup, late: bool, where: str, report: Report) -> None:
    if late:
        report.add(Code.STORE_CUT_LATE, where, "is at the store, after cuts at the shop")
    if job.store is None:
        report.add(Code.NO_STORE, where, "is at the store, but the job has no store that cuts")
        return
    _check_device(setting, Device.STORE, where, report)
    _check_kerf(setting, job.store.kerf, where, report)


def saw_of(job: Job, setting: SawSetup) -> Saw | None:
    """Return the saw at the shop that a setting names; None where the job has no such saw."""
    return next((saw for saw in job.tools if saw.name == setting.tool), None)


def serves_one_cut(job: Job, setting: SawSetup) -> bool:
    """Tell whether a setting is a guide's that is laid anew for every cut."""
    saw = saw_of(job, setting) if setting.place is Place.SHOP else None
    return saw is not None and DEVICES[saw.kind] is Device.GUIDE and not saw.repeats


def _check_shop(job: Job, setting: SawSetup, where: str, report: Report) -> None:
    saw = saw_of(job, setting)
    if saw is None:
        report.add(Code.TOOL_UNKNOWN, where, f"the job has no {setting.tool or 'unnamed tool'}")
        return
    _check_device(setting, DEVICES[saw.kind], where, report)
    _check_kerf(setting, saw.kerf, where, report)
    if saw.max_rip is not None and setting.distance > saw.max_rip:
        message = f"is set at {show(setting.distance)}, the saw reaches {show(saw.max_rip)}"
        report.add(Code.BEYOND_REACH, where, message)


def _check_device(setting: SawSetup, expected: Device, where: str, report: Report) -> None:
    if setting.device is not expected:
        message = f"is said to be set at the {setting.device}, expected the {expected}"
        report.add(Code.DEVICE_WRONG, where, message)


def _check_kerf(setting: SawSetup, kerf: Fraction, where: str, report: Report) -> None:
    if setting.kerf != kerf:
        message = f"has a kerf of {show(setting.kerf)}, the blade's is {show(kerf)}"
        report.add(Code.KERF_NOT_THE_BLADES, where, message)

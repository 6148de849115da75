"""What a cut asks for, in words."""

from __future__ import annotations

from cutlist.model.sawing import LIMITS, Caution
from cutlist.model.weights import TWO_PEOPLE_KG
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit
from cutlist.units.system import Units

__all__ = ["caution_word", "legend"]


def caution_word(caution: Caution) -> str:
    """Give the mark printed beside a cut."""
    return "not safe" if caution is Caution.UNSAFE else caution.value


def legend(units: Units) -> tuple[tuple[Caution, str], ...]:
    """Explain the marks, with the limits in the job's unit."""
    limits = LIMITS[units]
    unit = "in" if units is Units.INCH else "mm"
    most = f"{round(in_weight_unit(TWO_PEOPLE_KG, units))} {WEIGHT_UNIT[units]}"
    return (
        (
            Caution.UNSAFE,
            "no saw of the shop makes this cut within its limits, the row says why: find another "
            "way before you make it, or leave it out",
        ),
        (Caution.PUSH_BLOCK, f"fence nearer the blade than {limits.block} {unit}: push block"),
        (Caution.PUSH_STICK, f"fence nearer the blade than {limits.stick} {unit}: push stick"),
        (
            Caution.SHORT,
            f"edge along the fence shorter than {limits.short} {unit}: sled, or push block if the "
            "manual allows the cut at all",
        ),
        (
            Caution.UNDER_KERF,
            "less than the blade's width comes off, so that it has wood on one side alone and "
            "wanders: hold the piece well against the fence, the stop or the bench, feed slowly, "
            "and check the size",
        ),
        (
            Caution.SUPPORT,
            f"longer than {limits.supported} {unit}: hold it up beside and behind the saw; a "
            f"second person for a full sheet, more or a lifting aid where it weighs over {most}",
        ),
        (
            Caution.THIN,
            f"stock thinner than {limits.floppy} {unit}: it bends and slides under the fence. "
            "Clamp a strip of wood to the fence that stands on the table, hold the piece down "
            "close to the blade, and keep it flat behind the saw",
        ),
    )

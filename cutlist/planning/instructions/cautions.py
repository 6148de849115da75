"""What a cut asks for beside what its device holds: marks printed beside it.

The limits are those that table-saw manuals give in the warnings common to the standards for such
saws: push stick where the fence is nearer the blade than 150 mm (6 in), push block where it is
nearer than 50 mm (2 in), push stick or block for a workpiece shorter than 300 mm (12 in). That a
piece longer than 1500 mm (60 in) wants holding up outside the table is common practice, and so is
that sheets thinner than 6 mm (1/4 in) bend and slide under the fence, and that a blade wanders
where less than its width comes off, since it has wood on one side alone. The marks are reminders;
the manual of the saw decides.

A cut that no saw of the shop makes within its limits carries its hazards; it is marked as unsafe,
and nothing is said of how to push it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.plan import Direction, Place
from cutlist.model.sawing import LIMITS, Caution, Device, is_thin

if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction

    from cutlist.model.plan import Cut, Piece, SawSetup
    from cutlist.model.sawing import CautionLimits
    from cutlist.units.system import Units

__all__ = ["cautions_of"]


def cautions_of(
    setting: SawSetup,
    cut: Cut,
    piece: Piece,
    units: Units,
    *,
    thickness: Fraction | None = None,
) -> tuple[Caution, ...]:
    """Give the cautions of a cut that divides ``piece``; none for a cut made at the store.

    Parameters
    ----------
    thickness
        Of the stock; None where it is not to be judged.
    """
    if setting.place is Place.STORE:
        return ()
    return tuple(_cautions(setting, cut, piece, units, thickness))


def _cautions(
    setting: SawSetup, cut: Cut, piece: Piece, units: Units, thickness: Fraction | None
) -> Iterator[Caution]:
    limits = LIMITS[units]
    along, across = piece.length, piece.width
    if cut.direction is Direction.CROSSCUT:
        along, across = across, along
    if cut.hazards:
        yield Caution.UNSAFE
    elif setting.device is Device.FENCE:
        yield from _pushed(setting.distance, along, limits)
    if across - setting.distance < setting.kerf:
        yield Caution.UNDER_KERF
    is_on_table = setting.device is not Device.GUIDE
    if is_on_table and max(piece.length, piece.width) > limits.supported:
        yield Caution.SUPPORT
    if thickness is not None and is_thin(thickness, units):
        yield Caution.THIN


def _pushed(distance: Fraction, along: Fraction, limits: CautionLimits) -> Iterator[Caution]:
    """Say what pushes a piece along the fence; a saw may be allowed shorter edges than usual."""
    if distance < limits.block:
        yield Caution.PUSH_BLOCK
    elif distance < limits.stick:
        yield Caution.PUSH_STICK
    if along < limits.short:
        yield Caution.SHORT

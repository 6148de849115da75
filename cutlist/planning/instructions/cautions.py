"""Cuts that ask for more than the fence: marks printed beside them.

The limits are those that table-saw manuals give in the warnings common to the standards for such
saws: push stick where the fence is nearer the blade than 150 mm (6 in), push block where it is
nearer than 50 mm (2 in), push stick or block for a workpiece shorter than 300 mm (12 in). That
a workpiece longer across the fence than along it turns off the fence is common practice, and so is
that a sled takes about 600 mm (24 in), that a longer piece than 1500 mm (60 in) wants holding up
outside the table, that nothing thinner than 10 mm (3/8 in) is cut off between fence and blade, and
that sheets thinner than 6 mm (1/4 in) bend and slide under the fence. The marks are reminders; the
manual of the saw decides.

Where the job lists its saws each cut has a saw that makes it, and the plan names those that none
makes safely: the marks for another saw give way to that one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.job import SawKind
from cutlist.model.plan import Direction, Place
from cutlist.model.sawing import LIMITS, Caution, is_thin
from cutlist.units.system import Units

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.plan import Cut, Piece, SawSetup
    from cutlist.model.sawing import CautionLimits

__all__ = ["cautions_of"]


def cautions_of(
    setting: SawSetup,
    cut: Cut,
    piece: Piece,
    units: Units,
    kind: SawKind | None = None,
    *,
    thickness: Fraction | None = None,
) -> tuple[Caution, ...]:
    """Give the cautions of a cut that divides ``piece``; none for a cut made at the store.

    Parameters
    ----------
    kind
        Of the saw; None for a table saw that is the only one, whose cuts may ask for another.
    thickness
        Of the stock; None where it is not to be judged.
    """
    if setting.place is Place.STORE:
        return ()
    limits = LIMITS[units]
    thin = (Caution.THIN,) if thickness is not None and is_thin(thickness, units) else ()
    if cut.direction is Direction.RIP:
        along, across = piece.length, piece.width
    else:
        along, across = piece.width, piece.length
    found = []
    if kind is not None:
        if cut.hazards:
            found.append(Caution.UNSAFE)
        if kind is SawKind.TABLE_SAW and not cut.hazards:
            found.extend(_push(setting.distance, limits))
        if max(along, across) > limits.supported:
            found.append(Caution.SUPPORT)
        return (*found, *thin)
    if setting.distance < limits.thin or (across > along and along > limits.sled):
        return (Caution.GUIDED_SAW, *thin)
    if across > along:
        found.append(Caution.SLED)
    else:
        found.extend(_push(setting.distance, limits))
        if along < limits.short:
            found.append(Caution.SHORT)
    if max(along, across) > limits.supported:
        found.append(Caution.SUPPORT)
    return (*found, *thin)


def _push(distance: Fraction, limits: CautionLimits) -> tuple[Caution, ...]:
    if distance < limits.block:
        return (Caution.PUSH_BLOCK,)
    return (Caution.PUSH_STICK,) if distance < limits.stick else ()

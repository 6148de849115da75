"""What guides each cut: the fence, a stop or a guide; told apart where one saw stands for all.

Where the job lists its saws the kind of the saw says it. The table saw alone stands for a sled and
a hand-held saw along a guide, too: what it does not do well along its fence is theirs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.model.job import SawKind
from cutlist.model.plan import Place
from cutlist.model.sawing import Caution, Device

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.plan import Cut

_BY_KIND: Final = {
    SawKind.TABLE_SAW: Device.FENCE,
    SawKind.SLED: Device.STOP,
    SawKind.MITRE_GAUGE: Device.STOP,
    SawKind.TRACK_SAW: Device.GUIDE,
    SawKind.CIRCULAR_SAW: Device.GUIDE,
}


def device_of(place: Place, kind: SawKind | None, cautions: Sequence[Caution]) -> Device:
    """Tell what guides a cut: by the kind of its saw, or by its cautions where one saw does all."""
    if place is Place.STORE:
        return Device.STORE
    if kind is not None:
        return _BY_KIND[kind]
    if Caution.GUIDED_SAW in cautions:
        return Device.GUIDE
    return Device.STOP if Caution.SLED in cautions else Device.FENCE


def by_device(cuts: Sequence[Cut]) -> tuple[Cut, ...]:
    """Order a set-up's cuts so that each device is taken up as seldom as may be.

    No cut stands before the one that makes its piece. A run takes all that is there to be cut on
    its device; the next begins with the first cut left.
    """
    left = list(cuts)
    waiting = {piece.name for cut in left for piece in cut.makes}
    ordered: list[Cut] = []
    while left:
        device = next(cut.device for cut in left if cut.piece not in waiting)
        later: list[Cut] = []
        for cut in left:
            if cut.piece not in waiting and cut.device is device:
                ordered.append(cut)
                waiting -= {piece.name for piece in cut.makes}
            else:
                later.append(cut)
        left = later
    return tuple(ordered)

"""The smallest offcut worth keeping: one size for all, or one for each material."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.errors import FaultCode
from cutlist.model.job import DEFAULT_KEEP_FROM, KeepFrom
from cutlist.reading import keys
from cutlist.reading.drafts import KeepDraft
from cutlist.reading.faults import did_you_mean, one_of
from cutlist.reading.nodes import Items, Scalar

if TYPE_CHECKING:
    from cutlist.reading.drafts import JobDraft
    from cutlist.reading.faults import Faults
    from cutlist.reading.section import Section
    from cutlist.units.system import Units


def draft_keeping(top: Section, units: Units) -> tuple[KeepDraft, ...]:
    """Read ``keep_from``: a size, or a list of entries with a material and a size."""
    node = top.node(keys.KEEP_FROM.name)
    if isinstance(node, Items) and not all(isinstance(item, Scalar) for item in node.items):
        return tuple(
            KeepDraft(
                entry.spot, entry.get(keys.KEPT_MATERIAL, units), entry.get(keys.KEPT_SIZE, units)
            )
            for entry in top.each(keys.KEPT_OF_EACH).or_else(())
        )
    size = top.get(keys.KEEP_FROM, units)
    return (KeepDraft(size.spot, None, size),) if size.given else ()


def check_keeping(draft: JobDraft, faults: Faults) -> None:
    """Check that each material is one of the job's, and stands there once."""
    materials = [stock.material.value for stock in draft.stock if stock.material.value is not None]
    materials += [part.material.value for part in draft.parts or () if part.material.value]
    seen: set[str | None] = set()
    for entry in draft.keep_from:
        found = entry.material
        name = None if found is None else found.value
        spot = entry.spot if found is None or not found.given else found.spot
        if found is not None and found.is_wrong:
            continue
        if name in seen:
            message = "the smallest offcut worth keeping of this is given twice"
            faults.at(spot, FaultCode.CONTRADICTION, message, "each material once")
        elif name is not None and name not in materials:
            message = f"nothing in the job is of the material {name}"
            hint = did_you_mean(name, materials, one_of(dict.fromkeys(materials)))
            faults.at(spot, FaultCode.UNKNOWN_NAME, message, hint)
        seen.add(name)


def build_keeping(draft: JobDraft) -> tuple[KeepFrom, tuple[tuple[str, KeepFrom], ...]]:
    """Give the size for all, and those of single materials."""
    sizes = {
        None if entry.material is None else entry.material.value: KeepFrom(*entry.size.sure())
        for entry in draft.keep_from
    }
    general = sizes.pop(None, DEFAULT_KEEP_FROM[draft.units])
    return general, tuple((name, size) for name, size in sizes.items() if name is not None)

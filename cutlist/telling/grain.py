"""Which stock has a grain to speak of: what is said along it is else said along the sheet's length.

A job that says nothing of the grain of MDF, HDF, hardboard or particleboard need not mean that it
has one: fibres and chips lie in it every way (common knowledge of the trade). With a face of
another stuff, or where the job lays a part of it by the grain, it is taken at its word.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from cutlist.model.job import Grain

if TYPE_CHECKING:
    from cutlist.model.job import Job
    from cutlist.model.plan import Plan, Workpiece

__all__ = ["along_words", "has_grain", "is_grainless"]

_GRAINLESS: Final = frozenset(
    ("mdf", "hdf", "hardboard", "fibreboard", "fiberboard", "particleboard", "chipboard")
)
#: How the words begin that tell of a face, which may have a grain, or a print of one.
_FACED: Final = ("veneer", "melamine", "laminate", "faced")


def is_grainless(material: str) -> bool:
    """Tell by its name whether a material is of fibres or chips, all the way to its faces."""
    words = re.findall(r"[^\W\d_]+", material.lower())
    return not _GRAINLESS.isdisjoint(words) and not any(word.startswith(_FACED) for word in words)


def has_grain(job: Job, stock: Workpiece) -> bool:
    """Tell whether stock has a grain to speak of."""
    if not stock.has_grain or not is_grainless(stock.material):
        return stock.has_grain
    return any(
        part.material == stock.material and part.grain is not Grain.ANY for part in job.parts
    )


def along_words(plan: Plan) -> str:
    """Name what sizes of a plan are given along first: the grain, the length of sheets, or both."""
    found = {has_grain(plan.job, stock) for stock in plan.workpieces}
    if found == {True}:
        return "grain of the sheet"
    return "length of the sheet" if found == {False} else "grain (or the length) of the sheet"

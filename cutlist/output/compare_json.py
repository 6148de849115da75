"""A comparison as ``compare.json``."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from cutlist.ledger.figures import variant_figures
from cutlist.output.plan_json import to_document
from cutlist.telling.comparing import refusal_words
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.variants import Figures, Variant
    from cutlist.units.system import Units

__all__ = ["comparison_document", "comparison_text"]


def comparison_document(variants: Iterable[Variant], units: Units) -> dict[str, Any]:
    """Give the comparison as plain data for ``compare.json``."""
    return {
        "format": "cutlist-compare/1",
        "units": units.value,
        "weight_unit": WEIGHT_UNIT[units],
        "variants": [_variant(variant, units) for variant in variants],
    }


def comparison_text(variants: Iterable[Variant], units: Units) -> str:
    """Write the comparison as the text of ``compare.json``; it ends with a newline."""
    document = comparison_document(variants, units)
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def _variant(variant: Variant, units: Units) -> dict[str, Any]:
    document: dict[str, Any] = {
        "material": variant.material,
        "thickness": float(variant.thickness),
        "sheets": list(variant.sheets),
        "mix": variant.is_mix,
        "store_cuts": variant.store_cuts,
        "varied": dict(variant.varied),
    }
    figures = variant_figures(variant)
    if not variant.is_planned:
        return document | {"serves": None, "reason": "interrupted"}
    if variant.plan is None or figures is None:
        return document | {"serves": False, "reason": refusal_words(variant)}
    plan = to_document(variant.plan)
    document |= {"serves": True} | {key: plan[key] for key in ("buy", "totals", "bounds")}
    return document | {"figures": _figures(figures, units)}


def _figures(figures: Figures, units: Units) -> dict[str, Any]:
    def weight(kg: Fraction | None) -> float | None:
        return None if kg is None else round(float(in_weight_unit(kg, units)), 3)

    return {
        "kept_offcuts": figures.offcuts,
        "store_cuts": figures.store_cuts,
        "weight": weight(figures.kg),
        "trips": figures.trips,
        "largest_piece": {
            "piece": figures.largest.name,
            "length": float(figures.largest.length),
            "width": float(figures.largest.width),
            "weight": weight(figures.largest_kg),
        },
    }

"""What is said of ways to plan the same parts: the columns of a comparison, in words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from cutlist.ledger.figures import variant_figures
from cutlist.telling.refusals import reason_words
from cutlist.telling.weights import weight_words
from cutlist.telling.wording import money
from cutlist.units.lengths import format_size, format_thickness

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from fractions import Fraction

    from cutlist.model.variants import Figures, Variant
    from cutlist.units.system import Units

__all__ = [
    "BUY",
    "Told",
    "columns_of",
    "material_words",
    "name_words",
    "reasons_of",
    "refusal_words",
]

#: The head of the column that says what is bought.
BUY: Final = "to buy"


@dataclass(frozen=True, slots=True)
class Told:
    """A column of a comparison: its head, whether it holds figures, and a cell for each variant."""

    head: str
    is_figure: bool
    cells: tuple[str, ...]


def material_words(variant: Variant, units: Units) -> str:
    """Name the material: ``birch ply 18 mm``."""
    return f"{variant.material} {format_thickness(variant.thickness, units)}"


def name_words(variant: Variant, *, whole: bool = False) -> str:
    """Name a variant by its sheets; ``whole`` adds what else sets it apart from its neighbours."""
    name = "best mix" if len(variant.sheets) > 1 else "".join(variant.sheets) or "offcuts"
    if not whole:
        return name
    words = [name]
    if variant.store_cuts is not None:
        words.append("with the store's cuts" if variant.store_cuts else "without the store's cuts")
    return ", ".join([*words, *(f"{_short(key)} {value}" for key, value in variant.varied)])


def _short(key: str) -> str:
    """Name a key of the saw, which most are, without it."""
    return key.removeprefix("saw.")


def columns_of(variants: Sequence[Variant], units: Units) -> list[Told]:
    """Give the columns of the variants of one material that can serve.

    A column that tells nothing of any is left out.
    """
    there = [(one, found) for one in variants if (found := variant_figures(one)) is not None]

    def told(head: str, words: Callable[[Figures], str]) -> Told:
        return Told(head, True, tuple(words(found) for _, found in there))

    columns = [
        Told(_short(key), False, tuple(one.varied[at][1] for one, _ in there))
        for at, (key, _) in enumerate(variants[0].varied)
    ]
    columns.append(Told(BUY, False, tuple(_bought(one) for one, _ in there)))
    if any(one.store_cuts is not None for one in variants):
        columns.append(Told("store cuts", True, tuple(_at_store(*one) for one in there)))
    columns += [
        told("cost", lambda one: "" if one.cost is None else money(one.cost)),
        told("waste", lambda one: f"{float(one.waste_percent):.1f} %"),
        told("offcuts", lambda one: str(one.offcuts)),
        told("set-ups", lambda one: str(one.setups)),
        told("fence, stop, guide", _by_device),
        told("min", lambda one: str(round(one.minutes))),
        told("weight", lambda one: _weight(one.kg, units)),
        told("trips", lambda one: "" if one.trips is None else str(one.trips)),
        told("largest piece", lambda one: _largest(one, units)),
    ]
    return [column for column in columns if any(column.cells)]


def refusal_words(variant: Variant) -> str:
    """Say why the sheets of a variant cannot serve; empty where they can."""
    return "; ".join(map(reason_words, variant.reasons))


def reasons_of(variants: Sequence[Variant]) -> list[str]:
    """Say of the variants that cannot serve why not, once where it is the same for all values.

    Those that the comparison did not come to are named last.
    """
    alike: dict[tuple[str, bool | None], list[Variant]] = {}
    for one in (one for one in variants if one.is_planned):
        alike.setdefault((name_words(one), one.store_cuts), []).append(one)
    lines: dict[str, None] = {}
    for members in alike.values():
        reasons = {refusal_words(one) for one in members}
        is_always = len(reasons) == 1 and all(one.plan is None for one in members)
        for one in members:
            if one.plan is None:
                name = name_words(replace(one, varied=()) if is_always else one, whole=True)
                lines[f"{name}, cannot serve: {refusal_words(one)}"] = None
    left_out = [name_words(one, whole=True) for one in variants if not one.is_planned]
    if left_out:
        lines[f"not planned, for the comparison was interrupted: {'; '.join(left_out)}"] = None
    return list(lines)


def _bought(variant: Variant) -> str:
    """Say what is bought; a mix and what buys nothing are named too."""
    assert variant.plan is not None
    bought = " + ".join(f"{line.count} × {line.sheet}" for line in variant.plan.buy) or "nothing"
    if len(variant.sheets) == 1 and variant.plan.buy:
        return bought
    return f"{name_words(variant)}: {bought}"


def _at_store(variant: Variant, figures: Figures) -> str:
    return "without" if variant.store_cuts is False else str(figures.store_cuts)


def _by_device(figures: Figures) -> str:
    """Count the set-ups at the fence, at the stop and along the guide."""
    return ", ".join(str(count) for _, count in figures.setups_by_device)


def _weight(kg: Fraction | None, units: Units) -> str:
    return "" if kg is None else weight_words(kg, units)


def _largest(figures: Figures, units: Units) -> str:
    piece = figures.largest
    return format_size(piece.length, piece.width, units)

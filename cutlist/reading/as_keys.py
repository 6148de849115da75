"""A job built in code, written out in the keys of the job file."""

from __future__ import annotations

from dataclasses import fields as fields_of
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any, Final

from cutlist.model.job import Job, Saw, SawKind
from cutlist.model.rack import RackGrain
from cutlist.model.weights import Density
from cutlist.reading.saws import KINDS_WITH
from cutlist.reading.values import Measured, Refusal

if TYPE_CHECKING:
    from collections.abc import Mapping

_REFUSED: Final = Refusal()
_EVERY_KIND: Final = tuple(SawKind)


def written(job: Job) -> dict[str, Any]:
    """Write a job in the keys of the job file; what is left out there is left out here."""
    out: dict[str, Any] = {"job": job.name, "units": job.units}
    if job.saws:
        out["saws"] = _list(job.saws, _listed_saw)
    else:
        out["saw"] = _one(job.saw, _saw)
    out["sheets"] = _list(job.sheets, _sheet)
    out["offcuts"] = _list(job.offcuts, _offcut)
    out["parts"] = _list(job.parts, _part)
    out["store"] = _one(job.store, _store)
    out["vehicle"] = _one(job.vehicle, _vehicle)
    kept: list[Any] = []
    if not isinstance(job.keep_from_of, Refusal):
        kept += [
            _REFUSED
            if isinstance(one, Refusal) or isinstance(one[1], Refusal)
            else {"material": one[0], "size": _size(one[1].length, one[1].width)}
            for one in job.keep_from_of
        ]
    if job.keep_from is not None and not isinstance(job.keep_from, Refusal):
        kept.append({"size": _size(job.keep_from.length, job.keep_from.width)})
    out["keep_from"] = kept or None
    out |= {"also_in": job.also_in, "remainders": job.remainders, "goal": job.goal}
    out |= {"minutes_per_setup": job.minutes_per_setup, "hourly_rate": job.hourly_rate}
    tax = job.tax_percent
    out["tax"] = f"{tax:f} %" if isinstance(tax, Decimal) else tax
    return _given(out)


def _given(out: Mapping[str, Any]) -> dict[str, Any]:
    """Leave out what the job does not say."""
    return {key: value for key, value in out.items() if value is not None}


def _one(value: Any, write: Any) -> Any:
    return value if value is None or isinstance(value, Refusal) else write(value)


def _list(values: Any, write: Any) -> Any:
    return values if isinstance(values, Refusal) else [_one(value, write) for value in values]


def _size(length: Any, width: Any) -> Any:
    """Write two sides; of one whose fault is reported no more is said."""
    is_refused = isinstance(length, Refusal) or isinstance(width, Refusal)
    return _REFUSED if is_refused else [length, width]


def _measured(value: Any, unit: str) -> Any:
    return Measured(value, unit) if isinstance(value, Fraction) else value


def _saw(saw: Saw) -> dict[str, Any]:
    return _given({"kerf": saw.kerf, "max_rip": saw.max_rip, "scale": saw.scale})


def _listed_saw(saw: Saw) -> dict[str, Any]:
    out = {"kind": saw.kind, "name": saw.name, **_saw(saw)}
    limits = {
        "max_rip": saw.max_rip,
        "longest_cut": saw.longest_cut,
        "largest_piece": _sizes(saw.largest_pieces),
        "smallest_piece": saw.smallest_piece,
        "steady_edge": saw.steady_edge,
        "thinnest_strip": saw.thinnest_strip,
        "repeats": saw.repeats,
    }
    for key, value in limits.items():
        # Left out it would be what saws of the kind take as a rule.
        if value or saw.kind in KINDS_WITH.get(key, _EVERY_KIND):
            out[key] = "none" if value is None else value
    return _given(out | {"minutes_per_setup": saw.minutes_per_setup})


def _sizes(sizes: Any) -> Any:
    """Write a list of sizes; one that is empty sets no limit."""
    return _list(sizes, lambda one: _size(*one)) or None


def _stock(stock: Any) -> dict[str, Any]:
    density = stock.density
    if isinstance(density, Density):
        density = _measured(density.kg_per_m3, "kg/m3")
    return {
        "name": stock.name,
        "material": stock.material,
        "thickness": stock.thickness,
        "size": _size(stock.length, stock.width),
        "grain": None if stock.has_grain else RackGrain.NONE,
        "density": density,
    }


def _sheet(sheet: Any) -> dict[str, Any]:
    more = {"price": sheet.price, "in_stock": sheet.in_stock, "trim": sheet.trim}
    more["factory_edge"] = sheet.factory_edge
    return _given(_stock(sheet) | more)


def _offcut(offcut: Any) -> dict[str, Any]:
    trim = offcut.trim
    if offcut.edges is not None and not isinstance(offcut.edges, Refusal):
        sides = offcut.edges
        trim = {
            "left": sides.left,
            "right": sides.right,
            "lower": sides.lower,
            "upper": sides.upper,
        }
    return _given(_stock(offcut) | {"qty": offcut.qty, "trim": trim})


def _part(part: Any) -> dict[str, Any]:
    return _given(
        {
            "name": part.name,
            "material": part.material,
            "thickness": part.thickness,
            "size": _size(part.length, part.width),
            "qty": part.qty,
            "grain": part.grain,
            "value": part.value,
        }
    )


def _store(store: Any) -> dict[str, Any]:
    return _given({one.name: getattr(store, one.name) for one in fields_of(store)})


def _vehicle(vehicle: Any) -> dict[str, Any]:
    opening = vehicle.second_opening
    return _given(
        {
            "bed": _size(vehicle.bed_length, vehicle.bed_width),
            "second_opening": opening,
            "max_load": _measured(vehicle.max_load_kg, "kg"),
        }
    )

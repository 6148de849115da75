"""Weights and trips of ``plan.json`` worked out from the plan format alone, in floating point."""

from __future__ import annotations

from collections import Counter
from typing import Any

from cutlist.model.job import Job
from cutlist.units.system import Units

Doc = dict[str, Any]
#: Kilograms in a pound, and millimetres in an inch, both exact by the agreement of 1959.
LB, INCH = 0.45359237, 25.4


def weight_faults(document: Doc, job: Job) -> list[str]:
    """Return every fault found in ``weights`` and ``trips``."""
    try:
        return _faults(document, job)
    except (KeyError, TypeError) as error:
        return [f"weights: cannot be worked out: {error!r}"]


def _faults(document: Doc, job: Job) -> list[str]:
    expected, carried = _expected(document, job)
    faults = []
    told = Counter(row["piece"] for row in document.get("weights", []))
    if told != Counter(expected.keys()):
        faults.append("weights: not those of workpieces, pieces taken home and panels")
    for row in document.get("weights", []):
        kg = expected.get(row["piece"], 0.0)
        lift = "one person" if kg <= 23 else "two people" if kg <= 92 / 3 else "more than two"
        if abs(_in_kg(row["weight"], job) - kg) > 1e-9 or not row["lift"].startswith(lift):
            faults.append(f"weights: that of {row['piece']} differs")
    most = None if job.vehicle is None else job.vehicle.max_load_kg
    is_known = most is not None and all(piece in expected for piece in carried)
    trips = document.get("trips", [])
    on_trips = Counter(piece for trip in trips for piece in trip["pieces"])
    if on_trips != Counter(carried if is_known else ()):
        faults.append("trips: not each bought piece once")
    for piece in carried:
        if most is not None and expected.get(piece, 0.0) > float(most) + 1e-9:
            faults.append(f"vehicle: {piece} is too heavy")
    for number, trip in enumerate(trips, start=1):
        kg = sum(expected.get(piece, 0.0) for piece in trip["pieces"])
        over = most is not None and kg > float(most) + 1e-9
        if (
            trip["number"] != number
            or not trip["pieces"]
            or abs(_in_kg(trip["weight"], job) - kg) > 1e-9
            or over
        ):
            faults.append(f"trips: number {number} is wrong")
    return faults


def _in_kg(weight: float, job: Job) -> float:
    return weight * LB if job.units is Units.INCH else weight


def _expected(document: Doc, job: Job) -> tuple[dict[str, float], list[str]]:
    """Weigh what the format says, and name what is taken home of all that is bought."""
    metres = (INCH if job.units is Units.INCH else 1.0) / 1000
    stock = {item.name: (float(item.thickness), item.density) for item in job.stock}
    origin = {item["piece"]: item for item in document["workpieces"]}
    sizes = {item["piece"]: item["length"] * item["width"] for item in document["workpieces"]}
    home = dict.fromkeys(origin)
    named = list(origin)
    for setting in document["settings"]:
        for cut in setting["cuts"]:
            for piece in filter(None, (cut["kept"], cut.get("rest"))):
                origin[piece["piece"]] = origin[cut["piece"]]
                sizes[piece["piece"]] = piece["length"] * piece["width"]
                if setting["place"] == "store":
                    home[piece["piece"]] = None
            if setting["place"] == "store":
                home.pop(cut["piece"], None)
    named += [*home, *(panel["piece"] for panel in document["panels"])]
    weights = {}
    for name in named:
        thickness, density = stock[origin[name]["sheet"]]
        if density is not None:
            weights[name] = sizes[name] * thickness * metres**3 * float(density.kg_per_m3)
    return weights, [name for name in home if origin[name]["from"] == "buy"]

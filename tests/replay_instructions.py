"""What ``plan.json`` says at the saw, replayed from the plan format alone; part of the replay."""

from __future__ import annotations

from typing import Any

from cutlist.model.job import Job
from tests.replay_rects import EPS, Doc, Rect, near, rect_of

#: Where cautions begin, in the job's unit: warnings common to table-saw manuals, common practice.
LIMITS = {
    "in": {"block": 2.0, "stick": 6.0, "short": 12.0, "long": 60.0, "thin": 0.25},
    "mm": {"block": 50.0, "stick": 150.0, "short": 300.0, "long": 1500.0, "thin": 6.0},
}


class Instructions:
    """Looks at one cut after the other, knowing what becomes of each piece."""

    def __init__(self, document: Doc, job: Job) -> None:
        self.job = job
        self.cuts: dict[str, Any] = {
            cut["piece"]: cut for setting in document["settings"] for cut in setting["cuts"]
        }
        self.panels = {panel["piece"] for panel in document["panels"]}
        self.thickness = {
            item["piece"]: float(item.get("thickness", 1e9)) for item in document["workpieces"]
        }

    def faults(self, where: str, cut: Doc, setting: Doc, rect: Rect) -> list[str]:
        """Hold mark, cautions, edges and sizes against the piece."""
        found: list[str] = []
        store, job = setting["place"] == "store", self.job
        axis = {"rip": 1, "crosscut": 0}[cut["direction"]]
        scales = {saw.name: saw.scale for saw in job.tools}
        scale = float(scales.get(setting["tool"]) or (1 / 64 if job.units == "in" else 0.1))
        mark, distance = setting["mark"], setting["distance"]
        is_shown = store or near(distance, round(distance / scale) * scale)
        stays = is_shown or distance < scale
        beside = near(mark, round(mark / scale) * scale) and abs(mark - distance) < scale
        fits = near(mark, distance) if is_shown else beside or (stays and near(mark, distance))
        found += [] if fits else [f"{where}: mark {mark} for {distance}"]
        wanted = unsafe(cut) + ([] if store else self.cautions(cut, setting, rect))
        found += [] if cut["cautions"] == wanted else [f"{where}: cautions, not {wanted}"]
        is_clean_up = cut["purpose"] == "clean-up"
        across_edges = ("xy"[axis] + "0", "xy"[axis] + "1") if is_clean_up else (None,)
        found += [] if cut.get("takes_off") in across_edges else [f"{where}: takes off"]
        for key, end in self.taken_off(cut, rect, axis) if is_clean_up else ():
            found += [] if cut.get("takes_off") == key else [f"{where}: takes the edge {end} off"]
        leaves = not store and self.leaves(cut, axis)
        found += [] if ("check" in cut) == leaves else [f"{where}: size to be checked"]
        if "check" in cut:
            left = rect_of(cut["rest"], rect.sheet).size(axis)
            found += [] if near(cut["check"]["size"], left) else [f"{where}: checks another size"]
        return found

    def taken_off(self, cut: Doc, rect: Rect, axis: int) -> list[tuple[str, int]]:
        """Return the edge of a clean-up whose piece goes to waste, where just one does."""
        used = self.cuts.keys() | self.panels
        sides = [cut["kept"], *([cut["rest"]] if "rest" in cut else [])]
        kept = rect_of(cut["kept"], rect.sheet)
        low = 0 if near(kept.spans[axis][0], rect.spans[axis][0]) else 1
        if len(sides) == 1:
            return [("xy"[axis] + str(1 - low), 1 - low)]
        ends = [low, 1 - low]
        wasted = [end for end, s in zip(ends, sides, strict=True) if s["piece"] not in used]
        return [("xy"[axis] + str(end), end) for end in wasted] if len(wasted) == 1 else []

    def leaves(self, cut: Doc, axis: int) -> bool:
        """Tell if a panel's size across the cut is what the cut leaves."""
        direction = "rip" if axis == 1 else "crosscut"
        waiting = [cut["rest"]["piece"]] if cut.get("rest") else []
        while waiting:
            name = waiting.pop()
            if name in self.panels:
                return True
            following = self.cuts.get(name)
            if following is not None and following["direction"] != direction:
                waiting += [following[key]["piece"] for key in ("kept", "rest") if key in following]
        return False

    def cautions(self, cut: Doc, setting: Doc, rect: Rect) -> list[str]:
        """Say what a cut asks for, by the limits of the plan format."""
        axis = {"rip": 1, "crosscut": 0}[cut["direction"]]
        across, along = rect.size(axis), rect.size(1 - axis)
        limits = LIMITS[self.job.units.value]
        fence, safe = setting["device"] == "fence", not unsafe(cut)
        distance, long = setting["distance"], max(across, along)
        told = {
            "push block": fence and safe and distance < limits["block"] - EPS,
            "push stick": fence
            and safe
            and limits["block"] - EPS <= distance < limits["stick"] - EPS,
            "short": fence and safe and along < limits["short"] - EPS,
            "under a kerf": across - distance < setting["kerf"] - EPS,
            "support": long > limits["long"] + EPS and setting["device"] != "guide",
            "thin": self.thickness.get(rect.sheet, 1e9) < limits["thin"] - EPS,
        }
        return [words for words, holds in told.items() if holds]


def unsafe(cut: Doc) -> list[str]:
    """Return the hazards that a cut is flagged with."""
    return [caution for caution in cut["cautions"] if caution.startswith("unsafe")]

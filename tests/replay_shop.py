"""What the tools of a job may do, by the plan format alone; part of the replay of ``plan.json``."""

from __future__ import annotations

from typing import Any

from cutlist.model.job import Job
from tests.replay_rects import EPS, Doc, Rect, near

#: What guides the work, by the kind of saw; a guide for any other.
DEVICES = {"table saw": "fence", "sled": "stop", "mitre gauge": "stop"}
#: Minutes of a set-up where the job does not say; a cut takes one.
MINUTES = {"fence": 3.0, "stop": 2.0, "guide": 5.0}
FAR = float("inf")


class Shop:
    """The tools of a job, by name."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.tools: dict[str, Any] = {saw.name: saw for saw in job.tools}

    def saw(self, tool: str) -> Any:
        """Return a saw; None where the shop has none of that name."""
        return self.tools.get(tool)

    def device(self, tool: str) -> str:
        """Say what a tool's distance is measured to."""
        return self._device(self.tools[tool]) if tool in self.tools else "nothing"

    def _device(self, saw: Any) -> str:
        return DEVICES.get(str(saw.kind), "guide")

    def hazards(self, cut: Doc, distance: float, rect: Rect, saw: Any) -> list[str]:
        """Say what the limits of a saw have against a cut of a piece at a distance."""
        axis = {"rip": 1, "crosscut": 0}[cut["direction"]]
        across, along = rect.size(axis), rect.size(1 - axis)
        device = self._device(saw)
        fence = device == "fence"
        steady = FAR if saw.steady_edge is None else float(saw.steady_edge)
        least = {"fence": along, "stop": across, "guide": min(along, across)}[device]
        carried = [
            across <= float(wide) + EPS and along <= float(long) + EPS
            for wide, long in saw.largest_pieces
        ]
        found = {
            "cut longer than the saw makes": along > _limit(saw.longest_cut) + EPS,
            "piece longer across the fence than along it": fence
            and across > along + EPS
            and along < steady - EPS,
            "piece too large for the saw": bool(carried) and not any(carried),
            "piece too small for the saw": least < float(saw.smallest_piece) - EPS,
            "strip too thin at the fence": fence and distance < float(saw.thinnest_strip) - EPS,
        }
        return [words for words, holds in found.items() if holds]

    def another(self, cut: Doc, setting: Doc, rect: Rect) -> str | None:
        """Name a tool that makes an unsafe cut within its limits, where a guide is in the shop."""
        if not any(self._device(saw) == "guide" for saw in self.tools.values()):
            return None
        distance = setting["distance"]
        for name, saw in self.tools.items():
            scale = float(saw.scale or distance)
            fits = near(distance, round(distance / scale) * scale)
            fits = fits and near(float(saw.kerf), setting["kerf"])
            reached = distance <= _limit(saw.max_rip) + EPS
            if fits and reached and not self.hazards(cut, distance, rect, saw):
                return name
        return None

    def minutes(self, settings: list[Doc]) -> float:
        """Add up what the set-ups and cuts of the shop take."""
        total = 0.0
        for setting in settings:
            saw, usual = self.tools.get(setting["tool"]), MINUTES[setting["device"]]
            own = None if saw is None else saw.minutes_per_setup
            told = self.job.minutes_per_setup if own is None else own
            total += (usual if told is None else float(told)) + len(setting["cuts"])
        return total


def _limit(length: Any) -> float:
    return FAR if length is None else float(length)

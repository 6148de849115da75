"""What the tools of a job may do, by the plan format alone; part of the replay of ``plan.json``.

What a ``saw`` alone stands for is written here once more, from the table of the job file's page.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from cutlist.model.job import Job
from tests.replay_rects import EPS, Doc, Rect, near

#: What guides the work, by the kind of saw; a guide for any other.
DEVICES = {"table saw": "fence", "sled": "stop", "mitre gauge": "stop"}
#: Minutes of a set-up where the job does not say; a cut takes one.
MINUTES = {"fence": 3.0, "stop": 2.0, "guide": 5.0}
FAR = float("inf")
#: Of a home shop, by unit: the shortest edge at the fence, the edge that is steady, the thinnest
#: strip; the stop's largest distance, its longest cut, what it carries; the guide's smallest piece.
HOME = {
    "in": (12.0, 24.0, 0.375, 48.0, 24.0, ((60.0, 24.0), (97.0, 12.0)), 8.0),
    "mm": (300.0, 600.0, 10.0, 1200.0, 600.0, ((1500.0, 600.0), (2500.0, 300.0)), 200.0),
}


@dataclass(frozen=True)
class Tool:
    """A tool in floats; left out, nothing limits it."""

    name: str
    device: str
    kerf: float
    scale: float | None
    minutes: float
    max_rip: float = FAR
    longest_cut: float = FAR
    carried: tuple[tuple[float, float], ...] = ()
    smallest: float = 0.0
    steady: float = FAR
    thinnest: float = 0.0
    repeats: bool = False

    @property
    def is_laid_anew(self) -> bool:
        """Whether a set-up of it serves one cut."""
        return self.device == "guide" and not self.repeats


def tools_of(job: Job) -> list[Tool]:
    """Return what the job lists, or what its saw alone stands for."""
    own = None if job.minutes_per_setup is None else float(job.minutes_per_setup)
    minutes = {device: usual if own is None else own for device, usual in MINUTES.items()}
    if not job.saws:
        edge, steady, thin, far, long, carried, side = HOME[job.units.value]
        blade = float(job.saw.kerf), _float(job.saw.scale)
        reach = _limit(job.saw.max_rip)
        return [
            Tool(
                "table saw", "fence", *blade, minutes["fence"], reach, FAR, (), edge, steady, thin
            ),
            Tool("sled", "stop", *blade, minutes["stop"], far, long, carried),
            Tool("guided saw", "guide", *blade, minutes["guide"], smallest=side),
        ]
    tools = []
    for saw in job.saws:
        device = DEVICES.get(str(saw.kind), "guide")
        told = saw.minutes_per_setup
        tools.append(
            Tool(
                saw.name,
                device,
                float(saw.kerf),
                _float(saw.scale),
                minutes[device] if told is None else float(told),
                _limit(saw.max_rip),
                _limit(saw.longest_cut),
                tuple((float(wide), float(long)) for wide, long in saw.largest_pieces),
                float(saw.smallest_piece),
                _limit(saw.steady_edge),
                float(saw.thinnest_strip),
                saw.repeats,
            )
        )
    return tools


class Shop:
    """The tools of a job, by name."""

    def __init__(self, job: Job) -> None:
        self.tools = {tool.name: tool for tool in tools_of(job)}

    def hazards(self, cut: Doc, distance: float, rect: Rect, tool: Tool) -> list[str]:
        """Say what the limits of a tool have against a cut of a piece at a distance."""
        axis = {"rip": 1, "crosscut": 0}[cut["direction"]]
        across, along = rect.size(axis), rect.size(1 - axis)
        fence = tool.device == "fence"
        least = {"fence": along, "stop": across, "guide": min(along, across)}[tool.device]
        carried = [across <= wide + EPS and along <= long + EPS for wide, long in tool.carried]
        found = {
            "cut longer than the saw makes": along > tool.longest_cut + EPS,
            "piece longer across the fence than along it": fence
            and across > along + EPS
            and along < tool.steady - EPS,
            "piece too large for the saw": bool(carried) and not any(carried),
            "piece too small for the saw": least < tool.smallest - EPS,
            "strip too thin at the fence": fence and distance < tool.thinnest - EPS,
        }
        return [words for words, holds in found.items() if holds]

    def another(self, cut: Doc, setting: Doc, rect: Rect) -> str | None:
        """Name a tool that makes an unsafe cut within its limits, where a guide is in the shop."""
        if not any(tool.device == "guide" for tool in self.tools.values()):
            return None
        distance = setting["distance"]
        for name, tool in self.tools.items():
            scale = tool.scale or distance
            fits = near(distance, round(distance / scale) * scale)
            fits = fits and near(tool.kerf, setting["kerf"])
            reached = distance <= tool.max_rip + EPS
            if fits and reached and not self.hazards(cut, distance, rect, tool):
                return name
        return None

    def minutes(self, settings: list[Doc]) -> float:
        """Add up what the set-ups and cuts of the shop take."""
        total = 0.0
        for setting in settings:
            tool = self.tools.get(setting["tool"])
            total += 0.0 if tool is None else tool.minutes
            total += len(setting["cuts"])
        return total


def _limit(length: Any) -> float:
    return FAR if length is None else float(length)


def _float(length: Any) -> float | None:
    return None if length is None else float(length)

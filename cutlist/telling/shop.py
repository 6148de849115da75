"""What the devices of a job's shop may do, in words: one line for each."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.model.job import SawKind
from cutlist.model.sawing import Device
from cutlist.telling.tables import NO_BREAK
from cutlist.units.lengths import format_length, format_size

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.job import Job, Saw
    from cutlist.units.system import Units

__all__ = ["setup_price_words", "shop_lines"]

#: Where a saw is named in a sentence.
_AT: Final = {Device.FENCE: "on", Device.STOP: "on", Device.GUIDE: "with"}


def shop_lines(job: Job) -> list[str]:
    """Say what is in the shop: a line for each device with its limits.

    A ``saw`` by itself gets a line before them, which are indented below it, since it stands for
    more than itself; a list of nothing but table saws gets one, too, since it leaves out what a
    home shop has. Lengths are kept together by no-break spaces.
    """
    if not job.saws:
        own = ", ".join(_blade(job.saw, job.units))
        lead = f"saw: {own}; it stands for what a home shop has:"
        return [lead, *(f"  {_line(saw, _may(saw, job))}" for saw in job.tools)]
    lines = [_line(saw, [*_blade(saw, job.units), *_may(saw, job)]) for saw in job.saws]
    if all(saw.kind is SawKind.TABLE_SAW for saw in job.saws):
        what = "a table saw" if len(job.saws) == 1 else "table saws"
        lines.insert(0, f"nothing but {what}: no stop, no guide")
    return lines


def setup_price_words(job: Job) -> str:
    """Say what a set-up costs by the job's hourly rate, saws alike together; empty without one."""
    saws: dict[str, list[Saw]] = {}
    for saw in job.tools:
        price = job.price_of(job.minutes_of(saw))
        if price is not None:
            saws.setdefault(f"{price:.2f}", []).append(saw)
    if not saws:
        return ""
    if len(saws) == 1:
        return f"a set-up counts {next(iter(saws))}"
    said = [
        f"{price} {' and '.join(f'{_AT[saw.device]} the {saw.name}' for saw in alike)}"
        for price, alike in saws.items()
    ]
    return f"a set-up counts {', '.join(said)}"


def _line(saw: Saw, words: list[str]) -> str:
    return f"{saw.name}: {', '.join(words)}"


def _blade(saw: Saw, units: Units) -> list[str]:
    scale = saw.scale
    marks = "set to any length" if scale is None else f"marked every {_length(scale, units)}"
    return [f"kerf {_length(saw.kerf, units)}", marks]


def _may(saw: Saw, job: Job) -> list[str]:
    """Say within which limits a device works, and how long it takes to set."""
    units = job.units
    words = [_distance(saw, units)]
    if saw.kind is SawKind.TABLE_SAW:
        words += _riding(saw.smallest_piece, saw.steady_edge, units)
    if saw.longest_cut is not None:
        words.append(f"cuts to {_length(saw.longest_cut, units)}")
    if saw.largest_pieces:
        sizes = [_whole(format_size(*size, units)) for size in saw.largest_pieces]
        words.append(f"pieces to {' or '.join(sizes)} ({_whole('across × along')} the cut)")
    if saw.kind is not SawKind.TABLE_SAW and saw.smallest_piece:
        words.append(f"pieces from {_length(saw.smallest_piece, units)}")
    words.append(f"{float(job.minutes_of(saw)):g} min a set-up")
    return words


def _distance(saw: Saw, units: Units) -> str:
    """Say how far the distance of a device can be set, and whether it stays for further cuts."""
    least = f"from {_length(saw.thinnest_strip, units)}" if saw.thinnest_strip else ""
    most = "" if saw.max_rip is None else f"to {_length(saw.max_rip, units)}"
    far = f"{least} {most}".strip()
    if saw.device is Device.GUIDE:
        stays = "set once for all cuts of a distance" if saw.repeats else "laid for each cut"
        return f"guide {far} {stays}".replace("  ", " ")
    return f"{saw.device.value} {far or 'to any distance'}"


def _riding(least: Fraction, steady: Fraction | None, units: Units) -> list[str]:
    """Say which edges may ride the fence."""
    rule = ""
    if steady is None:
        rule = "never shorter than the piece is across"
    elif steady > least:
        rule = f"{_length(steady, units)} where the piece is longer across"
    if least:
        rule = f"{_length(least, units)} ({rule})" if rule else _length(least, units)
    return [f"edge along it {'from ' if least or steady else ''}{rule}"] if rule else []


def _length(length: Fraction, units: Units) -> str:
    return _whole(format_length(length, units))


def _whole(text: str) -> str:
    """Keep words on one line."""
    return text.replace(" ", NO_BREAK)

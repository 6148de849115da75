"""A job built in code, checked as a file is: its values become what a file would say, and are read.

Two steps. Each value has to be of the type that the model says, or a number that stands for one
exactly: a whole number for a fraction, say. Then the job is written out in the keys of the job file
and goes through the very reader and the very checks that files go through. What only the model can
say (matches by their parts, the saw that sheets are laid out for) is checked here.
"""

from __future__ import annotations

from dataclasses import fields as fields_of
from dataclasses import is_dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from types import NoneType, UnionType
from typing import TYPE_CHECKING, Any, Final, Union, cast, get_args, get_origin, get_type_hints

from cutlist.errors import FaultCode, JobError
from cutlist.model import job as model
from cutlist.model.job import Job, Match, Saw, layout_saw
from cutlist.model.rack import Rack
from cutlist.model.weights import Density
from cutlist.reading.as_keys import written
from cutlist.reading.builder import draft_job
from cutlist.reading.checks import check
from cutlist.reading.faults import Faults, did_you_mean, one_of
from cutlist.reading.fields import RefusedError
from cutlist.reading.places import Mark, Spot
from cutlist.reading.values import NodeMaker, Refusal, exact_number, number_text, repr_of
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from collections.abc import Mapping


#: What faults call a job that comes from no file.
SOURCE: Final = "the job"
_REFUSED: Final = Refusal()
#: Keys of the job file that the model calls otherwise; ``size`` and ``bed`` are two fields of it.
_NAMES: Final = {
    "job": "name",
    "tax": "tax_percent",
    "largest_piece": "largest_pieces",
    "max_load": "max_load_kg",
    "weight": "density",
}
#: Fields of a saw that only a listed one has.
_OF_LISTED: Final = (
    "name",
    "kind",
    "longest_cut",
    "largest_pieces",
    "smallest_piece",
    "steady_edge",
    "thinnest_strip",
    "repeats",
    "minutes_per_setup",
)


def checked(job: Job) -> Job:
    """Check a job as a job file is checked.

    Returns
    -------
    Job
        The same job, every number of it of the type that the model says.

    Raises
    ------
    JobError
        With every fault, its path such as ``parts[3].qty``. A length and a width that are wrong are
        told together, as ``size``; so are both sides of the vehicle's ``bed``.
    """
    faults = Faults()
    typed = cast("Job", _Typing(faults).value(job, Job, ""))
    if not isinstance(typed, Job):
        raise JobError(SOURCE, faults.in_order())
    draft = draft_job(NodeMaker(faults).node(written(typed)), faults, Path())
    check(draft, faults)
    _check_saw(typed, faults)
    _check_edges(typed, faults)
    _check_matches(typed, faults)
    if faults:
        found = (replace(one, path=_renamed(one.path, typed)) for one in faults.in_order())
        raise JobError(SOURCE, tuple(found))
    return typed


class _Typing:
    """Holds values against the types that the model says."""

    def __init__(self, faults: Faults) -> None:
        self._faults = faults
        self._count = 0
        self._hints: dict[type, dict[str, Any]] = {}

    def value(self, value: Any, hint: Any, path: str) -> Any:
        """Give a value of the type asked for, or a stand-in where it is reported."""
        self._count += 1
        origin = get_origin(hint)
        if origin in (Union, UnionType):
            kinds = [one for one in get_args(hint) if one is not NoneType]
            return None if value is None else self.value(value, kinds[0], path)
        if origin is tuple:
            return self._tuple(value, get_args(hint), path)
        if is_dataclass(hint):
            return self._dataclass(value, hint, path)
        try:
            return self._single(value, hint)
        except RefusedError as error:
            spot = Spot(Mark(0, 0, -1_000_000 + self._count), path, repr_of(value))
            self._faults.at(spot, error.code, error.problem, error.accepted)
            return _REFUSED

    def _wrong(self, value: Any, wanted: str, path: str) -> Refusal:
        spot = Spot(Mark(0, 0, -1_000_000 + self._count), path, repr_of(value))
        self._faults.at(spot, FaultCode.WRONG_TYPE, f"this is no {wanted}", f"a {wanted}")
        return _REFUSED

    def _tuple(self, value: Any, kinds: tuple[Any, ...], path: str) -> Any:
        if not isinstance(value, tuple | list):
            return self._wrong(value, "tuple", path)
        if kinds[-1] is not Ellipsis and len(value) != len(kinds):
            return self._wrong(value, f"tuple of {len(kinds)}", path)
        each = [kinds[0]] * len(value) if kinds[-1] is Ellipsis else kinds
        return tuple(
            self.value(one, kind, f"{path}[{number}]")
            for number, (one, kind) in enumerate(zip(value, each, strict=True), 1)
        )

    def _dataclass(self, value: Any, kind: Any, path: str) -> Any:
        if not isinstance(value, kind):
            return self._wrong(value, kind.__name__, path)
        if kind is Rack:
            # It is read from its file, and no part of the job's own text.
            return value
        if kind not in self._hints:
            spaces = {**vars(model), "Density": Density, "Rack": Rack}
            self._hints[kind] = get_type_hints(kind, spaces)
        given = {
            one.name: self.value(
                getattr(value, one.name),
                self._hints[kind][one.name],
                f"{path}.{one.name}".lstrip("."),
            )
            for one in fields_of(kind)
            # What a file says as a whole is no value of the job.
            if (kind, one.name) != (Job, "text")
        }
        return replace(value, **given)

    def _single(self, value: Any, hint: Any) -> Any:
        if hint is Fraction:
            return exact_number(value)
        if hint is Decimal:
            return value if isinstance(value, Decimal) else _decimal(value)
        if hint is bool:
            if isinstance(value, bool):
                return value
            raise RefusedError("this is neither True nor False", "one", FaultCode.WRONG_TYPE)
        if hint is int:
            exact = exact_number(value)
            if exact.denominator != 1:
                problem, accepted = "this is not a whole number", "a whole number"
                raise RefusedError(problem, accepted, FaultCode.WRONG_VALUE)
            return int(exact)
        if not isinstance(value, str):
            raise RefusedError("this is no text", f"a {hint.__name__}", FaultCode.WRONG_TYPE)
        if issubclass(hint, StrEnum):
            words = [member.value for member in hint]
            if value not in words:
                accepted = did_you_mean(value, words, " | ".join(words))
                raise RefusedError(f"this is none of {', '.join(words)}", accepted)
            return hint(value)
        if " ".join(value.split()) != value:
            problem = "white space in a name is single spaces, inside it"
            raise RefusedError(problem, repr(" ".join(value.split())))
        return value


def _decimal(value: Any) -> Decimal:
    exact = exact_number(value)
    text = number_text(value, exact)
    if "/" in text:
        problem = "this is no decimal number"
        raise RefusedError(problem, "Decimal('74.00')", FaultCode.LOSSY)
    return Decimal(text)


def _renamed(path: str, job: Job) -> str:
    """Give a path in the names of the model."""
    first, dot, last = path.rpartition(".")
    if first.startswith(("sheets", "offcuts")) and last == "grain":
        last = "has_grain"
    key, bracket, entry = last.partition("[")
    path = f"{first}{dot}{_NAMES.get(key, key)}{bracket}{entry}"
    if not path.startswith("keep_from["):
        return path
    number = int(path[len("keep_from[") : path.index("]")])
    rest = path[path.index("]") + 1 :]
    is_general = number > len(job.keep_from_of)
    return f"keep_from{rest}" if is_general else f"keep_from_of[{number}]{rest}"


def _spot(path: str, found: object = "") -> Spot:
    return Spot(Mark(0, 0, 1_000_000), path, repr_of(found))


def _check_saw(job: Job, faults: Faults) -> None:
    """Check the saw that stands by itself: the table saw, or what the listed ones come to."""
    if isinstance(job.saw, Refusal) or isinstance(job.saws, Refusal):
        return
    if not job.saws:
        usual = Saw(job.saw.kerf)
        for name in _OF_LISTED:
            value = getattr(job.saw, name)
            if not isinstance(value, Refusal) and value != getattr(usual, name):
                message = "a saw that stands alone is the table saw, of which this is not asked"
                spot = _spot(f"saw.{name}", value)
                faults.at(spot, FaultCode.CONTRADICTION, message, "the saw in the list of saws")
        return
    if not faults and job.saw != layout_saw(job.saws):
        message = "this is not the saw that the listed ones are laid out for"
        faults.at(_spot("saw"), FaultCode.CONTRADICTION, message, "layout_saw(saws)")


def _check_edges(job: Job, faults: Faults) -> None:
    if faults:
        return
    for number, offcut in enumerate(job.offcuts, 1):
        if offcut.edges is not None and offcut.trim != min(offcut.edges.each):
            message = "this is not the least of what comes off the edges"
            accepted = format_length(min(offcut.edges.each), job.units)
            spot = _spot(f"offcuts[{number}].trim", offcut.trim)
            faults.at(spot, FaultCode.CONTRADICTION, message, accepted)


def _check_matches(job: Job, faults: Faults) -> None:
    """Check what a file says at the parts: that the panels of a match share its size."""
    if faults:
        return
    parts = {part.name: part for part in job.parts}
    first: dict[str, int] = {}
    for number, match in enumerate(job.matches, 1):
        path = f"matches[{number}]"
        if match.name in first:
            message = f"the name {match.name} is taken, at matches[{first[match.name]}].name"
            spot = _spot(f"{path}.name", match.name)
            faults.at(spot, FaultCode.NAME_TAKEN, message, "a name of its own")
        first.setdefault(match.name, number)
        _check_match(match, path, parts, job, faults)


def _check_match(
    match: Match, path: str, parts: Mapping[str, model.Part], job: Job, faults: Faults
) -> None:
    panels = 0
    for place, name in enumerate(match.parts, 1):
        spot = _spot(f"{path}.parts[{place}]", name)
        if name not in parts:
            message = f"the job has no part {name}"
            hint = did_you_mean(name, parts, one_of(parts))
            faults.at(spot, FaultCode.UNKNOWN_NAME, message, hint)
            return
        part = parts[name]
        panels += part.qty
        if match.distance not in (part.length, part.width):
            asked = format_length(match.distance, job.units)
            message = f"no side of the part is {asked}, which the parts of {match.name} share"
            faults.at(spot, FaultCode.MATCH, message, f"a part with a side of {asked}")
    if panels < 2:
        message = "there is no other panel for this one to match"
        faults.at(_spot(f"{path}.parts"), FaultCode.MATCH, message, "another part, or more panels")

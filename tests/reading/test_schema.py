"""The JSON Schema of the job file, held against the reader on sound and on broken files.

The schema is judged by jsonschema, a general validator of the package index, in the dialect
2020-12 (https://json-schema.org/draft/2020-12).
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
import yaml
from jsonschema import Draft202012Validator

from cutlist.errors import FaultCode, JobError, JobFileError
from cutlist.reading import job_from, read_job
from cutlist.reading.schema import job_schema

SAMPLES = sorted((Path(__file__).parents[2] / "sample_projects").rglob("*.yaml"))
BAD = sorted((Path(__file__).parent / "bad").glob("*.yaml"))
VALIDATOR = Draft202012Validator(job_schema())

#: What a schema of single values and keys cannot see, or an editor is better silent about: how
#: values go together, names that are there or taken, what a length comes to, how text is written.
BEYOND = {
    FaultCode.NAME_TAKEN,
    FaultCode.NO_COMMON_STEP,
    FaultCode.NO_STOCK,
    FaultCode.PART_TOO_LARGE,
    FaultCode.PART_TOO_NARROW,
    FaultCode.PRICE_MISSING,
    FaultCode.THICKNESS,
    FaultCode.TRIM,
    FaultCode.UNIT_DOUBT,
    FaultCode.UNKNOWN_NAME,
    FaultCode.CONTRADICTION,
    FaultCode.MATCH,
    FaultCode.OUT_OF_RANGE,
    FaultCode.REPEATED_KEY,
    FaultCode.NOT_READ,
    FaultCode.SYNTAX,
    FaultCode.FILE,
}
#: Files whose fault is in how something is written: a YAML library hands the validator a number, a
#: merged mapping or nothing, where the reader sees the text.
WRITTEN = {
    "job-name-of-many-lines",
    "max-rip-empty",
    "merge-key",
    "qty-with-a-point",
    "size-as-hexadecimal",
    "size-as-minutes",
    "size-as-octal",
    "size-in-unclear-unit",
    "size-not-a-number",
    "size-with-underscore",
    "steady-edge-without-value",
    "vehicle-opening-empty",
}
WRONG: tuple[Any, ...] = (
    "nonsense",
    "-5",
    "1,5",
    "12 furlongs",
    "10 by 20",
    -7,
    [],
    [1, 2, 3],
    {"other": 1},
    "",
)


def places(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the way to every key and entry."""
    pairs: list[tuple[Any, Any]] = []
    if isinstance(value, dict):
        pairs = list(value.items())
    elif isinstance(value, list):
        pairs = list(enumerate(value))
    for key, below in pairs:
        yield (*path, key)
        yield from places(below, (*path, key))


def broken(seed: int) -> dict[str, Any]:
    """Return a sample with one key misspelt or left out, or one value of another kind."""
    random = Random(seed)
    data: dict[str, Any] = copy.deepcopy(yaml.safe_load(random.choice(SAMPLES).read_text()))
    *way, last = random.choice(list(places(data)))
    holder: Any = data
    for step in way:
        holder = holder[step]
    change = random.randrange(3)
    if change == 0 and isinstance(last, str):
        holder[f"{last[:-1]}q"] = holder.pop(last)
    elif change == 1:
        del holder[last]
    else:
        holder[last] = random.choice(WRONG)
    return data


def refused_by_reader(path: Path) -> set[FaultCode]:
    """Return the codes of what the reader finds wrong; none for a sound file."""
    try:
        read_job(path)
    except JobFileError as error:
        return {fault.code for fault in error.faults}
    return set()


def test_the_schema_is_one() -> None:
    """It keeps to its dialect, and is plain JSON that comes out the same each time."""
    Draft202012Validator.check_schema(job_schema())
    assert json.loads(json.dumps(job_schema())) == job_schema()


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_are_sound(path: Path) -> None:
    """An editor marks nothing in a file that can be planned."""
    assert list(VALIDATOR.iter_errors(yaml.safe_load(path.read_text(encoding="utf-8")))) == []


def with_saw(**keys: Any) -> dict[str, Any]:
    """Return a job whose shop is a saw with these keys."""
    return {
        "job": "Shelf",
        "units": "mm",
        "saws": [{"kerf": 3} | keys],
        "sheets": [{"name": "full", "material": "ply", "thickness": 18, "size": "2440 x 1220"}],
        "parts": [{"name": "shelf", "material": "ply", "size": "900 x 300"}],
    }


@pytest.mark.parametrize(
    "keys",
    [
        {"kind": "sled", "largest_piece": "1500 x 600"},
        {"kind": "sled", "largest_piece": [1500, 600]},
        {"kind": "sled", "largest_piece": ["1500 x 600", [2500, "300 mm"]]},
        {"kind": "mitre gauge", "largest_piece": "none"},
        {"kind": "mitre gauge", "largest_piece": None},
        {"kind": "table saw", "steady_edge": 600},
        {"kind": "table saw", "steady_edge": "none"},
        {"kind": "table saw", "steady_edge": 0},
        {"kind": "track saw", "repeats": "yes"},
        {"kind": "track saw", "repeats": False},
    ],
)
def test_limits_of_devices_are_taken(keys: dict[str, Any]) -> None:
    """The keys of a device in all their forms: YAML 1.1 hands ``yes`` on as a truth value."""
    assert list(VALIDATOR.iter_errors(with_saw(**keys))) == []
    assert job_from(with_saw(**keys)).saws


@pytest.mark.parametrize(
    "keys",
    [
        {"kind": "sled", "largest_piece": "1500"},
        {"kind": "sled", "largest_piece": []},
        {"kind": "sled", "largest_piece": ["1500 x 600"] * 9},
        {"kind": "sled", "largest_piece": {"across": 9}},
        {"kind": "table saw", "steady_edge": "-1"},
        {"kind": "table saw", "steady_edge": [1, 2]},
        {"kind": "track saw", "repeats": "often"},
        {"kind": "track saw", "repeats": ["yes"]},
    ],
)
def test_limits_of_devices_are_refused(keys: dict[str, Any]) -> None:
    """An editor marks what the reader refuses."""
    assert not VALIDATOR.is_valid(with_saw(**keys))
    with pytest.raises(JobError):
        job_from(with_saw(**keys))


@pytest.mark.parametrize("edge", ["straight", "rough", "clean"])
def test_factory_edges(edge: str) -> None:
    """An editor knows both words."""
    data = with_saw(kind="table saw")
    data["sheets"][0] |= {"trim": 10, "factory_edge": edge}
    assert VALIDATOR.is_valid(data) is (edge != "clean")


@pytest.mark.slow
def test_broken_files_are_refused_or_beyond_a_schema(tmp_path: Path) -> None:
    """Of more than 200 broken files the schema refuses all but those it cannot judge."""
    refused, beyond = 0, 0
    documents: list[tuple[str, Path, Any]] = []
    for path in BAD:
        try:
            documents.append((path.stem, path, yaml.safe_load(path.read_text(encoding="utf-8"))))
        except (yaml.YAMLError, ValueError, OverflowError):
            continue  # what is no YAML never comes before a schema
    for seed in range(260):
        data = broken(seed)
        path = tmp_path / f"{seed}.yaml"
        path.write_text(yaml.safe_dump(data, sort_keys=False), encoding="utf-8")
        documents.append((f"seed {seed}", path, data))
    for name, path, data in documents:
        codes = refused_by_reader(path)
        if not codes:
            continue
        if VALIDATOR.is_valid(data):
            assert codes <= BEYOND or name in WRITTEN, (name, sorted(codes))
            beyond += 1
        else:
            refused += 1
    assert refused + beyond >= 200
    # 282 and 72 when this was written.
    assert refused >= 3 * beyond


@pytest.mark.slow
def test_what_the_reader_takes_the_schema_takes(tmp_path: Path) -> None:
    """No change of a sample that can still be read is marked by an editor."""
    taken = 0
    for seed in range(260):
        data = broken(seed)
        path = tmp_path / "job.yaml"
        path.write_text(yaml.safe_dump(data, sort_keys=False), encoding="utf-8")
        if not refused_by_reader(path):
            taken += 1
            assert VALIDATOR.is_valid(data), seed
    assert taken > 10

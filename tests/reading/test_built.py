"""Jobs built in code are checked by the rules of a file, and are told the same."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

import cutlist
from cutlist.errors import FaultCode, JobError, JobFileError
from cutlist.model.job import FactoryEdge, Grain, Job, KeepFrom, Part, Saw, Sheet, layout_saw
from cutlist.reading import checked, job_from, read_job
from cutlist.units.system import Units
from tests.random_jobs import random_job, with_matches, with_small_car, with_two_openings
from tests.random_shops import random_shop_job

SHELF: dict[str, Any] = {
    "job": "Shelf",
    "units": "mm",
    "saw": {"kerf": 3},
    "sheets": [
        {"name": "full", "material": "ply", "thickness": 18, "size": "2440 x 1220", "price": 50}
    ],
    "parts": [
        {"name": "shelf", "material": "ply", "size": "900 x 300", "qty": 4},
        {"name": "side", "material": "ply", "size": [600, 300], "grain": "length"},
    ],
}


def changed(**parts: Any) -> dict[str, Any]:
    """Return the shelf with keys of its first part changed."""
    first, *others = SHELF["parts"]
    return SHELF | {"parts": [first | parts, *others]}


def in_code(**parts: Any) -> Job:
    """Return the shelf in the model's classes with fields of its first part changed."""
    f = Fraction
    first: Any = {"length": f(900), "width": f(300), "qty": 4} | parts
    return Job(
        "Shelf",
        Units.MM,
        Saw(f(3)),
        (Sheet("full", "ply", f(18), f(2440), f(1220), Decimal(50)),),
        (
            Part(**{"name": "shelf", "material": "ply", "thickness": f(18)} | first),
            Part("side", "ply", f(18), f(600), f(300), 1, Grain.LENGTH),
        ),
        keep_from=KeepFrom(f(300), f(100)),
    )


def told_by(error: JobError) -> list[tuple[FaultCode, str, str]]:
    """Return what is told of each fault, but for where in the file or the job another thing is."""
    return [
        (one.code, re.sub(r"in line \d+|at [\w.\[\]]+$", "there", one.message), one.accepted)
        for one in error.faults
    ]


def test_a_mapping_is_read_as_a_file_is(tmp_path: Path) -> None:
    """The same keys in a file and in code make the same job, also that of the classes."""
    path = tmp_path / "shelf.yaml"
    path.write_text(yaml.safe_dump(SHELF), encoding="utf-8")
    assert job_from(SHELF) == read_job(path) == in_code()


FAULTY: list[tuple[dict[str, Any], dict[str, Any]]] = [
    ({"qty": 0}, {"qty": 0}),
    ({"qty": -1}, {"qty": -1}),
    ({"qty": 20_000}, {"qty": 20_000}),
    ({"name": ""}, {"name": ""}),
    ({"name": "side"}, {"name": "side"}),
    ({"material": "oak"}, {"material": "oak"}),
    ({"size": [0, 300]}, {"length": Fraction(0)}),
    ({"size": [-900, 300]}, {"length": Fraction(-900)}),
]


@pytest.mark.parametrize(("keys", "values"), FAULTY)
def test_faults_are_those_of_a_file(
    keys: dict[str, Any], values: dict[str, Any], tmp_path: Path
) -> None:
    """Message, code and what is accepted are the same, whichever way the job came."""
    path = tmp_path / "shelf.yaml"
    path.write_text(yaml.safe_dump(changed(**keys)), encoding="utf-8")
    with pytest.raises(JobFileError) as file:
        read_job(path)
    with pytest.raises(JobError) as mapping:
        job_from(changed(**keys))
    with pytest.raises(JobError) as built:
        checked(in_code(**values))
    assert told_by(mapping.value) == told_by(built.value) == told_by(file.value)
    assert [one.path for one in mapping.value.faults] == [one.path for one in file.value.faults]


@pytest.mark.parametrize(
    ("value", "code"),
    [
        (0.1 + 0.2, FaultCode.LOSSY),
        (1 / 3, FaultCode.LOSSY),
        (True, FaultCode.WRONG_TYPE),
        (float("nan"), FaultCode.OUT_OF_RANGE),
        (float("inf"), FaultCode.OUT_OF_RANGE),
        (Decimal("1e400"), FaultCode.OUT_OF_RANGE),
        (object(), FaultCode.WRONG_TYPE),
        (b"900", FaultCode.WRONG_TYPE),
    ],
)
def test_what_no_file_can_say_is_told(value: Any, code: FaultCode) -> None:
    """Floats that keep nothing exact, truth values and other things are no lengths."""
    with pytest.raises(JobError) as built:
        checked(in_code(length=value))
    assert [one.code for one in built.value.faults] == [code]
    assert built.value.faults[0].path == "parts[1].length"
    with pytest.raises(JobError) as mapping:
        job_from(changed(size=[value, 300]))
    assert code in [one.code for one in mapping.value.faults]


def test_numbers_of_every_kind_are_exact() -> None:
    """Whole numbers, decimals and floats that keep what was meant become the model's own."""
    for value in (900, Decimal("900.0"), 900.0, Fraction(900)):
        assert checked(in_code(length=value)) == in_code()
        assert job_from(changed(size=[value, 300])) == in_code()
    # 100.1 and 23.625 have a shortest decimal of a few digits (IEEE 754, binary64).
    assert checked(in_code(length=100.1)).parts[0].length == Fraction(1001, 10)
    assert checked(in_code(length=23.625)).parts[0].length == Fraction(189, 8)


def test_a_price_here_and_none_there_is_as_in_a_file(tmp_path: Path) -> None:
    """Whether a missing price beside another is a fault is told by one rule."""
    sheets = [*SHELF["sheets"], SHELF["sheets"][0] | {"name": "half", "price": None}]
    del sheets[1]["price"]
    path = tmp_path / "shelf.yaml"
    path.write_text(yaml.safe_dump(SHELF | {"sheets": sheets}), encoding="utf-8")
    job = in_code()
    half = replace(job.sheets[0], name="half", price=None)
    built = replace(job, sheets=(*job.sheets, half))
    outcomes: list[Any] = []
    makers: list[Callable[[], Job]] = [
        lambda: read_job(path),
        lambda: job_from(SHELF | {"sheets": sheets}),
        lambda: checked(built),
    ]
    for make in makers:
        try:
            outcomes.append(make())
        except JobError as error:
            outcomes.append(told_by(error))
    assert outcomes[0] == outcomes[1] == outcomes[2]


@pytest.mark.parametrize("seed", range(60))
def test_sound_jobs_are_what_they_were(seed: int) -> None:
    """A job with nothing wrong passes unchanged, with all that it may hold."""
    job = random_job(seed)
    if seed % 4 == 1:
        job = with_matches(job)
    if seed % 4 == 2:
        job = with_two_openings(job, seed)
    if seed % 4 == 3:
        job = with_small_car(job, seed)
    assert checked(job) == job


SHOP: dict[str, Any] = SHELF | {
    "saws": [
        {
            "kind": "table saw",
            "kerf": 3,
            "max_rip": 700,
            "steady_edge": "none",
            "thinnest_strip": 0,
        },
        {"kind": "sled", "kerf": 3, "largest_piece": [[1500, 600], "2500 x 300"]},
        {"kind": "mitre gauge", "kerf": 3, "largest_piece": "none", "max_rip": "none"},
        {"kind": "track saw", "kerf": "2.2", "repeats": True, "smallest_piece": 150},
        {"kind": "circular saw", "kerf": 2, "repeats": "no"},
    ],
    "sheets": [SHELF["sheets"][0] | {"trim": 10, "factory_edge": "rough"}],
}
del SHOP["saw"]


@pytest.mark.parametrize("seed", range(60))
def test_sound_shops_are_what_they_were(seed: int) -> None:
    """Saws of every kind, with and without each limit, pass unchanged."""
    job = random_shop_job(seed)
    assert checked(job) == job


def in_code_with(number: int, **changes: Any) -> Job:
    """Return the job of the shop with fields of one saw, counted from 1, changed."""
    job = job_from(SHOP)
    saws = list(job.saws)
    saws[number - 1] = replace(saws[number - 1], **changes)
    return replace(job, saws=tuple(saws), saw=layout_saw(saws))


def test_a_shop_is_the_same_whichever_way_it_comes(tmp_path: Path) -> None:
    """Limits, ``none`` and ``yes`` mean the same in a file, in its keys and in classes."""
    path = tmp_path / "shelf.yaml"
    path.write_text(yaml.safe_dump(SHOP), encoding="utf-8")
    job = job_from(SHOP)
    assert read_job(path) == job == checked(job)
    saws: Any = job.saws
    fence, sled, gauge, track, circular = saws
    assert (fence.steady_edge, fence.thinnest_strip) == (None, 0)
    assert sled.largest_pieces == ((1500, 600), (2500, 300))
    assert (gauge.largest_pieces, gauge.max_rip) == ((), None)
    assert [saw.repeats for saw in (track, circular)] == [True, False]
    assert job.sheets[0].factory_edge is FactoryEdge.ROUGH


@pytest.mark.parametrize(
    ("number", "changes", "path", "code"),
    [
        (1, {"repeats": True}, "saws[1].repeats", FaultCode.CONTRADICTION),
        (1, {"largest_pieces": ((9, 9),)}, "saws[1].largest_pieces", FaultCode.CONTRADICTION),
        (2, {"steady_edge": 600}, "saws[2].steady_edge", FaultCode.CONTRADICTION),
        (2, {"repeats": "yes"}, "saws[2].repeats", FaultCode.WRONG_TYPE),
        (2, {"largest_pieces": ((9, 0),)}, "saws[2].largest_pieces[1]", FaultCode.OUT_OF_RANGE),
        (2, {"largest_pieces": ((9,),)}, "saws[2].largest_pieces[1]", FaultCode.WRONG_TYPE),
        (2, {"largest_pieces": ((9, 9),) * 9}, "saws[2].largest_pieces", FaultCode.TOO_MANY),
        (4, {"thinnest_strip": 9}, "saws[4].thinnest_strip", FaultCode.CONTRADICTION),
    ],
)
def test_faults_of_saws_in_code(
    number: int, changes: dict[str, Any], path: str, code: FaultCode
) -> None:
    """What a saw of the kind cannot have is told by the model's own names."""
    with pytest.raises(JobError) as built:
        checked(in_code_with(number, **changes))
    assert [(one.path, one.code) for one in built.value.faults] == [(path, code)]


def test_a_saw_alone_has_no_limits_of_a_listed_one() -> None:
    """Of what stands for a whole shop nothing is asked that belongs to one of its devices."""
    job = in_code()
    nine = Fraction(9)
    saw = replace(job.saw, largest_pieces=((nine, nine),), steady_edge=nine, repeats=True)
    with pytest.raises(JobError) as built:
        checked(replace(job, saw=saw))
    fields = ["saw.largest_pieces", "saw.repeats", "saw.steady_edge"]
    assert sorted(one.path for one in built.value.faults) == fields


def test_a_rough_edge_in_code_needs_a_trim() -> None:
    """As in a file."""
    job = in_code()
    sheet = replace(job.sheets[0], factory_edge=FactoryEdge.ROUGH)
    with pytest.raises(JobError) as built:
        checked(replace(job, sheets=(sheet,)))
    assert [one.path for one in built.value.faults] == ["sheets[1].factory_edge"]


def test_a_truth_value_is_none_of_the_other_kinds() -> None:
    """True stands for yes where yes or no is asked, and for no name, count or length."""
    for key in ("name", "qty", "value", "grain"):
        with pytest.raises(JobError) as mapping:
            job_from(changed(**{key: True}))
        assert [one.code for one in mapping.value.faults] == [FaultCode.WRONG_TYPE]


def test_the_entrance_checks_before_it_plans() -> None:
    """A job that is wrong is told before anything is searched or compiled."""
    with pytest.raises(JobError, match="out of range"):
        cutlist.plan(in_code(qty=0), seconds=None, steps=10)
    with pytest.raises(JobError, match="out of range"):
        cutlist.compare(in_code(qty=0), seconds=None, steps=10)
    with pytest.raises(ValueError, match="neither seconds nor steps"):
        cutlist.plan(in_code(), seconds=None)
    with pytest.raises(ValueError, match="seconds"):
        cutlist.plan(in_code(), seconds=-1)

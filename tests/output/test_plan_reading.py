"""A plan read back from its file is the plan that was written."""

from __future__ import annotations

import json
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random

import pytest

from cutlist.errors import PlanFileError
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.output.plan_json import step_of, to_document, to_text
from cutlist.output.plan_reading import read_plan
from cutlist.planning.make import make_plan
from cutlist.reading import read_job
from tests.audit.plans import SOUND
from tests.drawing import extras
from tests.drawing.plans import all_plans
from tests.drawing.random_plans import random_plan
from tests.random_jobs import random_job, with_matches, with_small_car

SAMPLES = sorted((Path(__file__).parents[2] / "sample_projects").glob("*.yaml"))
#: What a random plan may have besides: nothing, one thing, or all.
TWISTS = (
    lambda plan: plan,
    extras.with_second_unit,
    extras.with_matches,
    extras.with_saws,
    extras.with_trades,
    extras.with_loads,
    extras.with_all,
)


def read_back(plan: Plan, folder: Path) -> Plan:
    """Write a plan and read it again."""
    path = folder / "plan.json"
    path.write_text(to_text(plan), encoding="utf-8")
    return read_plan(path)


@pytest.mark.slow
@pytest.mark.parametrize("start", range(0, 280, 20))
def test_random_plans_come_back(start: int, tmp_path: Path) -> None:
    """Twenty plans at a time, in inches and millimetres, with all that a plan may hold."""
    for seed in range(start, start + 20):
        plan = Random(seed).choice(TWISTS)(random_plan(seed))
        assert read_back(plan, tmp_path) == plan, seed


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(20))
def test_plans_of_random_jobs_come_back(seed: int, tmp_path: Path) -> None:
    """As planned: trims, offcuts on hand, matches, and sheets that the store breaks down."""
    job = random_job(seed)
    if seed % 4 == 1:
        job = with_matches(job)
    if seed % 4 == 3:
        job = with_small_car(job, seed)
    plan = make_plan(job, seed=seed, allowance=Allowance(None, 300))
    assert read_back(plan, tmp_path) == plan


@pytest.mark.slow
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_samples_come_back(path: Path, tmp_path: Path) -> None:
    """A job from a file comes back with its text and digest."""
    plan = make_plan(read_job(path), allowance=Allowance(None, 300))
    back = read_back(plan, tmp_path)
    assert back == plan
    assert (back.job.text, back.job.sha256) == (plan.job.text, plan.job.sha256)
    assert back.job.text == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", [*SOUND, *all_plans()])
def test_plans_made_by_hand_come_back(name: str, tmp_path: Path) -> None:
    """Every twist of the plans at hand."""
    plan = SOUND[name]() if name in SOUND else all_plans()[name]
    assert read_back(plan, tmp_path) == plan


@pytest.mark.parametrize("name", SOUND)
def test_every_length_is_a_multiple_of_the_step(name: str) -> None:
    """Rounded to whole steps, each number of the file is the plan's own fraction."""
    plan = SOUND[name]()
    step = step_of(plan)
    document = json.loads(to_text(plan), parse_float=Decimal)
    assert Fraction(document["step"]) == step
    cuts = [cut for setting in document["settings"] for cut in setting["cuts"]]
    own = [cut for setting in plan.settings for cut in setting.cuts]
    for told, cut in zip(cuts, own, strict=True):
        for key in ("x", "y", "length", "width"):
            exact = getattr(cut.kept, key)
            assert exact % step == 0
            assert round(Fraction(told["kept"][key]) / step) * step == exact


def document_of(folder: Path, **changes: object) -> Path:
    """Write a plan's document with some keys changed; None leaves a key out."""
    document = to_document(SOUND["plain"]()) | changes
    path = folder / "plan.json"
    kept = {key: value for key, value in document.items() if value is not None}
    path.write_text(json.dumps(kept), encoding="utf-8")
    return path


def test_the_first_format_is_refused_by_name(tmp_path: Path) -> None:
    """A plan of the format before is not guessed at."""
    path = document_of(tmp_path, format="cutlist-plan/1")
    with pytest.raises(
        PlanFileError, match="format cutlist-plan/1, cutlist-plan/2 is read"
    ) as told:
        read_plan(path)
    assert told.value.exit_status == 2


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"format": None}, "no plan"),
        ({"panels": None}, "lacks panels"),
        ({"step": "0"}, "a step of 0"),
        ({"step": "1/7"}, "no multiple of the step 1/7"),
        ({"buy": [1]}, "no plan does"),
        ({"settings": [{"number": 1}]}, "lacks"),
        ({"job": {"name": "x", "sha256": "", "text": "", "content": {"colour": 1}}}, "colour"),
    ],
)
def test_what_is_no_plan_is_told(changes: dict[str, object], words: str, tmp_path: Path) -> None:
    """Whatever is missing or odd is named, and nothing else is raised."""
    path = document_of(tmp_path, **changes)
    with pytest.raises(PlanFileError, match=words):
        read_plan(path)


@pytest.mark.parametrize("content", [b"", b"[1]", b"{", b"\xff\xfe", b"[" * 100_000])
def test_other_files_are_told(content: bytes, tmp_path: Path) -> None:
    """A file that is none of ours, or none at all."""
    path = tmp_path / "plan.json"
    with pytest.raises(PlanFileError, match=r"plan\.json"):
        read_plan(path)
    path.write_bytes(content)
    with pytest.raises(PlanFileError, match=r"plan\.json"):
        read_plan(path)


def test_a_price_with_many_places_comes_back(tmp_path: Path) -> None:
    """A hundredth of a cent is money, too."""
    plan = SOUND["plain"]()
    buy = tuple(replace(line, cost=Decimal("62.1037")) for line in plan.buy)
    priced = replace(plan, buy=buy)
    assert read_back(priced, tmp_path) == priced

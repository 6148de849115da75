"""What the command prints, line by line."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from cutlist.errors import Fault, JobFileError
from cutlist.telling.report import fault_lines, plan_lines
from cutlist.units.system import Units
from tests.audit.plans import SOUND
from tests.planning.jobs import job, offcut, part, planned, sheet


def test_faults_have_place_key_and_remedy() -> None:
    """A fault is told with file, line, column, key, what was found and what is accepted."""
    faults = [
        Fault(4, 9, "saw.kerf", "wide", "this is no length", "3.2"),
        Fault(0, 0, "", "", "the file is empty"),
    ]
    assert fault_lines(JobFileError("job.yaml", faults)) == [
        "job.yaml:4:9: saw.kerf: this is no length",
        "    found:    wide",
        "    accepted: 3.2",
        "job.yaml: the file is empty",
        "2 faults in job.yaml; nothing was planned",
    ]


def test_one_fault_is_one() -> None:
    """The count agrees with its noun."""
    lines = fault_lines(JobFileError("j", [Fault(1, 1, "", "", "no")]))
    assert lines[-1] == "1 fault in j; nothing was planned"


def rows(lines: list[str]) -> dict[str, str]:
    """Return the lines of a plan by their labels."""
    return {line.split()[0]: line.strip() for line in lines[1:]}


def test_plan_lines() -> None:
    """The job, what to buy, the figures and the documents, each in its line."""
    asked = job([part("shelf", (2440, 300), 8)], kerf=0)
    lines = plan_lines(planned(asked), [Path("out/plan.pdf"), Path("out/plan.json")])
    assert lines[0] == "bench"
    told = rows(lines)
    assert told["buy"].split(maxsplit=1)[1] == ("2 × full, birch ply 18 mm, 2440 × 1220 mm  120.00")
    assert told["cost"].split(maxsplit=1)[1].startswith("120.00; ")
    assert told["set-ups"].split(maxsplit=1)[1].startswith("1 set-up: 1 fence · 11 min at ")
    assert [line.split()[1] for line in lines[-2:]] == ["out/plan.pdf", "out/plan.json"]
    assert "on" not in told


def test_set_ups_are_told_by_device_and_with_their_time() -> None:
    """Those of the store apart, and what the bound is of."""
    told = rows(plan_lines(SOUND["along_a_guide"](), [], width=200))
    assert told["set-ups"] == (
        "set-ups  8 set-ups: 1 fence, 7 guide · 48 min at the saws; not proven to be the fewest"
    )
    told = rows(plan_lines(SOUND["store_and_vehicle"](), [], width=200))
    assert told["set-ups"] == (
        "set-ups  3 set-ups: 3 fence · 16 min at the saws, beside 1 at the store; "
        "no way to cut these layouts needs fewer than 2"
    )
    assert told["cuts"] == "cuts     8, 1 of them at the store"


def test_plan_lines_with_offcuts_and_no_prices() -> None:
    """Offcuts used are named once each; without prices nothing is said of cost."""
    parts = [part("shelf", (600, 300), 2)]
    asked = job(parts, [sheet(price=None)], [offcut("rack", (610, 310), 2)])
    told = rows(plan_lines(planned(asked), []))
    assert told["on"].split(maxsplit=2)[2] == "rack"
    assert "cost" not in told
    assert "written" not in told


def test_plan_lines_tell_tax_weight_and_what_is_heavy() -> None:
    """117.2115 kg in two trips; 110.00 at 19 % is 20.90 more."""
    plan = SOUND["heavy_boards"]()
    lines = plan_lines(replace(plan, job=replace(plan.job, tax_percent=Decimal(19))), [], width=120)
    assert "  tax      20.90, 19 %; 130.90 with it" in lines
    assert "  weight   117 kg; 2 trips of at most 100 kg; 2 are needed" in lines
    assert "  heavy    A, B (wall), 44.7 kg: more than two people, or a lifting aid" in lines
    assert "  heavy    C (top), 27.9 kg: two people" in lines


def test_plan_lines_end_with_the_weight_where_no_load_is_given() -> None:
    """Without a largest load there are no trips, and nothing hangs behind the weight."""
    plan = SOUND["heavy_boards"]()
    job = replace(plan.job, vehicle=None)
    assert "  weight   117 kg" in plan_lines(replace(plan, job=job, trips=()), [], width=120)


def test_plan_lines_tell_which_weight_is_missing() -> None:
    """One of two boards has no density: its material is named, and no sum is given."""
    plan = SOUND["heavy_boards"]()
    large, small = plan.job.sheets
    job = replace(plan.job, sheets=(large, replace(small, density=None)), vehicle=None)
    lines = plan_lines(replace(plan, job=job, weights=plan.weights[:2], trips=()), [])
    assert "  weight   not known: that of MDF 25 mm is missing" in lines


def test_plan_lines_tell_what_offcuts_give() -> None:
    """By the area, and what that costs."""
    told = rows(plan_lines(SOUND["two_materials"](), [], width=200))
    assert (
        told["spared"]
        .split(maxsplit=1)[1]
        .startswith("0.15 m² of panels come from offcuts on hand: 6.56 by the area")
    )


def test_inches_are_printed_as_the_trade_does() -> None:
    """An inch job is told in inches and fractions."""
    asked = replace(
        job([part("shelf", (Fraction(69, 2), 10))], [sheet(size=(96, 48))], kerf=0),
        units=Units.INCH,
    )
    told = rows(plan_lines(planned(asked), []))
    assert told["buy"].split(maxsplit=1)[1].startswith('1 × full, birch ply 18", 96" × 48"')


def test_what_matches_and_what_is_set_again() -> None:
    """Distances set several times, and for each match whether one setting serves it."""
    told = [line.strip() for line in plan_lines(SOUND["matching_apart"](), [])]
    assert 'again    30" on the sled at settings 3, 5; 34 1/2" on the sled at settings 2,' in told
    assert any(line.startswith("match    ends: not in one visit: settings 2, 4;") for line in told)
    told = [line.strip() for line in plan_lines(SOUND["matching"](), [])]
    assert "match    depth: at setting 1" in told
    assert not any(line.startswith("again") for line in told)


def test_lines_keep_within_the_terminal() -> None:
    """Text runs on below itself at blanks outside sizes; a path stays whole."""
    path = Path("a folder with a long name/" * 5) / "plan.json"
    for width in (60, 72, 80):
        *lines, last = plan_lines(SOUND["matching_apart"](), [path], width)
        assert max(map(len, lines)) <= width
        assert last == f"  written  {path}"
        said = "\n".join(lines)
        assert not re.search(r"×\n|\n *×|\n *\d+/\d|\n *sq ft|sq\n|\n *%", said)

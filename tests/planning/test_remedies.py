"""What would help: each remedy that is told does help, and a step less of it does not."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Job, Part, Sheet, Store, Vehicle
from cutlist.model.weights import Density
from tests.planning.jobs import job, part, planned, sheet
from tests.refusing import said

STORE = Store(Fraction(3), Fraction(2), 2)


def asked(
    store: Store | None = STORE,
    bed: tuple[int, int] = (1000, 900),
    load: int | None = None,
    parts: tuple[Part, ...] = (part("wall", (800, 300)),),
    sheets: tuple[Sheet, ...] = (sheet(trim=5),),
) -> Job:
    """Return a job whose sheets, of 700 kg/m³, do not get home, or not with a blank for a part."""
    vehicle = Vehicle(Fraction(bed[0]), Fraction(bed[1]), None if load is None else Fraction(load))
    heavy = tuple(replace(one, density=Density(Fraction(700))) for one in sheets)
    return replace(job(parts, heavy), store=store, vehicle=vehicle)


LONG = part("long", (1700, 250), grain=Grain.LENGTH)
CASES = {
    "too few cuts": asked(),
    "one cut more": asked(replace(STORE, max_cuts=1), (1500, 1000)),
    "no store": asked(store=None),
    "a long part beside one that goes in": asked(
        replace(STORE, max_cuts=6), (1000, 900), parts=(LONG, part("back", (880, 700)))
    ),
    "a long part": asked(replace(STORE, max_cuts=6), parts=(LONG, part("wall", (800, 300)))),
    "no room for clean edges": asked(
        replace(STORE, max_cuts=3), (1250, 1220), parts=(part("wide", (1244, 1200)),)
    ),
    "too heavy": asked(replace(STORE, max_cuts=1), (2500, 1300), load=15),
    "too heavy without a store": asked(None, (2500, 1300), load=30),
    "too small a piece": asked(replace(STORE, max_cuts=None, min_piece=Fraction(700))),
    "two sizes": asked(
        replace(STORE, max_cuts=0), sheets=(sheet(trim=5), sheet("half", (1220, 1220)))
    ),
}


def reason(wanted: Job) -> str:
    """Return why a job cannot be cut."""
    with pytest.raises(CannotCutError) as caught:
        planned(wanted)
    return "; ".join(said(caught.value))


def is_possible(wanted: Job) -> bool:
    """Say whether there is a plan."""
    try:
        planned(wanted)
    except CannotCutError:
        return False
    return True


def helped(wanted: Job, said: str, less: int = 0) -> dict[str, Job]:
    """Return the job with each remedy that is said, or with so many steps less of it."""
    assert wanted.vehicle is not None
    vehicle, step = wanted.vehicle, 10 * less
    out = {}
    if found := re.search(r"\(max_cuts (\d+)\)", said):
        assert wanted.store is not None
        store = replace(wanted.store, max_cuts=int(found[1]) - less)
        out["cuts"] = replace(wanted, store=store)
    if found := re.search(r"a max_load of (\d+) kg", said):
        lighter = replace(vehicle, max_load_kg=Fraction(int(found[1]) - less))
        out["load"] = replace(wanted, vehicle=lighter)
    if found := re.search(r"a bed of (\d+) × (\d+) mm", said):
        long, short = int(found[1]), int(found[2])
        # One side is as it was, or that of a sheet; if the shorter, it is the longer that was told.
        if long in {vehicle.bed_length, vehicle.bed_width, 1220} and long != short:
            short -= step
        else:
            long -= step
        bed = replace(vehicle, bed_length=Fraction(long), bed_width=Fraction(short))
        out["bed"] = replace(wanted, vehicle=bed)
    if found := re.search(r"second opening of (\d+) × (\d+) mm", said):
        rack = (Fraction(found[1]), Fraction(int(found[2]) - step))
        out["rack"] = replace(wanted, vehicle=replace(vehicle, second_opening=rack))
    if (found := re.search(r"a sheet of (\d+) × (\d+) mm", said)) and not less:
        length, width = Fraction(found[1]), Fraction(found[2])
        smaller = replace(wanted.sheets[0], length=length, width=width)
        out["sheet"] = replace(wanted, sheets=(smaller,))
    return out


@pytest.mark.slow
@pytest.mark.parametrize("name", CASES)
def test_what_is_told_helps(name: str) -> None:
    """With each remedy alone there is a sound plan; with the next smaller one there is none."""
    wanted = CASES[name]
    said = reason(wanted)
    jobs = helped(wanted, said)
    assert jobs, said
    for remedy, better in jobs.items():
        assert audit(planned(better)) == (), (remedy, said)
    for remedy, worse in helped(wanted, said, less=1).items():
        assert not is_possible(worse), (remedy, said)


def test_remedies_by_hand() -> None:
    """Worked out for a sheet 2440 x 1220, a bed 1500 x 1000 and one cut.

    Cut across, pieces of 1219 (2440 less 3, by two, on the mark) x 1220 ask for a bed 1220 wide;
    ripped, 609 (1220 less 3, by two) x 2440 go on a rack 610 wide. Half a sheet takes one cut.
    """
    said = reason(asked(replace(STORE, max_cuts=1), (1500, 1000)))
    assert "takes 2 cuts to go in and max_cuts is 1" in said
    assert "1 more cut a sheet (max_cuts 2)" in said
    assert "a bed of 1220 × 1220 mm" in said
    assert "a roof rack or other second opening of 2440 × 610 mm" in said
    assert "a sheet of 1220 × 1220 mm would do" in said


def test_a_size_that_another_sheet_of_the_job_has() -> None:
    """A size is named by the sheet that comes in it, though it be of another material."""
    other = sheet("mdf panel", (1400, 900), material="mdf")
    wanted = asked(replace(STORE, max_cuts=0), (1500, 1000))
    wanted = replace(
        wanted,
        sheets=(*wanted.sheets, other),
        parts=(*wanted.parts, part("back", (500, 300), material="mdf")),
    )
    assert "a sheet of 1400 × 900 mm, the size of mdf panel, would do" in reason(wanted)


def test_nothing_helps() -> None:
    """A part larger than the sheet once it is cleaned up: that is not for the vehicle to mend."""
    wanted = asked(parts=(part("wall", (2439, 300)),))
    assert "no larger bed and no further cuts would do by themselves" in reason(wanted)


def test_neither_side_of_a_bed_is_longer_than_it_has_to_be() -> None:
    """A part as long as the bed and a little narrower needs a little more both ways, not a sheet's.

    2000 by 900 with 2 off each edge that the store may cut: in steps of 10, 2010 by 910.
    """
    top = part("top", (2000, 900), grain=Grain.LENGTH)
    said = reason(asked(replace(STORE, max_cuts=4), (1500, 1000), parts=(top,)))
    assert "a bed of 2010 × 910 mm" in said

"""Random lists of saws for the random jobs: a table saw with its sled, a guided saw alone."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

from cutlist.model.job import USUAL_LIMITS, Job, Remainders, Saw, SawKind, layout_saw
from cutlist.model.sawing import Device
from cutlist.units.system import Units
from tests.random_jobs import random_job

_SHOPS = (
    (SawKind.TABLE_SAW, SawKind.SLED, SawKind.TRACK_SAW),
    (SawKind.TABLE_SAW, SawKind.SLED, SawKind.TRACK_SAW),
    (SawKind.TABLE_SAW, SawKind.SLED),
    (SawKind.TABLE_SAW, SawKind.MITRE_GAUGE, SawKind.CIRCULAR_SAW),
    (SawKind.TABLE_SAW, SawKind.TRACK_SAW),
    (SawKind.TRACK_SAW, SawKind.MITRE_GAUGE),
    (SawKind.TRACK_SAW,),
    (SawKind.TABLE_SAW,),
)


def random_shop_job(seed: int) -> Job:
    """Return the random job of a seed with a list of saws instead of the table saw."""
    job = random_job(seed)
    rng = random.Random(f"shop {seed}")
    kerfs = [job.saw.kerf]
    if rng.random() < 0.6:
        kerfs += (
            [Fraction(3, 32), Fraction(1, 8)] if job.units is Units.INCH else [Fraction(22, 10)]
        )
    limits = random.Random(f"limits {seed}")
    saws = tuple(
        _limited(limits, _saw(rng, kind, rng.choice(kerfs), is_inch=job.units is Units.INCH), job)
        for kind in rng.choice(_SHOPS)
    )
    remainders = rng.choice((Remainders.KEEP, Remainders.KEEP, Remainders.CUT))
    return replace(job, saw=layout_saw(saws), saws=saws, remainders=remainders)


def _saw(rng: random.Random, kind: SawKind, kerf: Fraction, *, is_inch: bool) -> Saw:
    def lengths(*inches: int | None) -> Fraction | None:
        chosen = rng.choice(inches)
        return None if chosen is None else Fraction(chosen if is_inch else 25 * chosen)

    fenced = kind is SawKind.TABLE_SAW
    stopped = kind in (SawKind.SLED, SawKind.MITRE_GAUGE)
    return Saw(
        kerf=kerf,
        max_rip=lengths(30, 52, None)
        if fenced
        else lengths(20, 48)
        if stopped
        else lengths(None, 60),
        scale=rng.choice((None, Fraction(1, 16) if is_inch else Fraction(1))),
        name=f"our {kind}",
        kind=kind,
        longest_cut=lengths(None, 60)
        if fenced
        else lengths(12, 24)
        if stopped
        else lengths(None, 55),
        smallest_piece=lengths(12) or Fraction(0) if fenced else lengths(6, 8) or Fraction(0),
        thinnest_strip=Fraction(0) if not fenced else Fraction(3, 8) if is_inch else Fraction(10),
        minutes_per_setup=rng.choice((None, Fraction(1), Fraction(2))),
    )


def _limited(rng: random.Random, saw: Saw, job: Job) -> Saw:
    """Return the saw with what is asked of its device alone: as usual, otherwise, or nothing."""
    usual = USUAL_LIMITS[job.units][saw.kind]
    if saw.device is Device.GUIDE:
        return replace(saw, repeats=rng.random() < 0.3)
    if saw.device is Device.STOP:
        sizes = usual.largest_pieces
        return replace(saw, largest_pieces=rng.choice((sizes, sizes, sizes[:1], ())))
    steady = usual.steady_edge
    assert steady is not None
    return replace(saw, steady_edge=rng.choice((steady, steady, steady * 5 / 6, None)))

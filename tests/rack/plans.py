"""A plan on paper that cuts up a sheet and a piece from the rack."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from cutlist.model.job import Job
from cutlist.model.plan import Plan
from cutlist.nesting.allowance import Allowance
from cutlist.planning.make import make_plan
from cutlist.rack import add, make_rack
from cutlist.reading import read_job
from cutlist.units.system import Units
from tests.rack.racks import DAY, piece

INCH = Fraction(254, 10)
JOB = """\
job: Bench
units: in
saw: {kerf: 1/8}
sheets: [{name: full, material: birch ply, thickness: 18 mm, size: 96 x 48, trim: 1/4}]
offcuts: rack.db
parts:
  - {name: top, material: birch ply, size: 70 x 23, qty: 2, grain: length}
  - {name: rail, material: birch ply, size: 30 x 6, grain: length}
"""


def job(folder: Path) -> Job:
    """Write the job and its rack, on which a piece lies that holds the rail alone; read it."""
    rack = folder / "rack.db"
    if not rack.exists():
        make_rack(rack, Units.INCH)
        add(rack, [piece("strip", (50 * INCH, 7 * INCH))], day=DAY)
    path = folder / "bench.yaml"
    path.write_text(JOB, encoding="utf-8")
    return read_job(path)


def planned(asked: Job, steps: int = 300) -> Plan:
    """Plan a job with a budget in steps."""
    return make_plan(asked, seed=0, allowance=Allowance(steps=steps))

"""A sound job file to vary, and a way to read text as one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.reading import read_job

if TYPE_CHECKING:
    from pathlib import Path

    from cutlist.model.job import Job

POTTING_BENCH = """\
job: Potting bench
units: in

saw:
  kerf: 1/8
  max_rip: 30
  scale: 1/32

sheets:
  - name: ply full
    material: birch ply
    thickness: 18 mm
    size: 96 x 48
    price: 74.00
    in_stock: 5
    trim: 1/4
  - name: hardboard half
    material: hardboard
    thickness: 1/4
    size: [48, 48]
    price: 11.5

offcuts:
  - {name: rack 3, material: birch ply, thickness: 18 mm, size: 40 x 22 1/2, qty: 2, trim: 1/8}

parts:
  - name: shelf
    material: birch ply
    size: 34 1/2 × 11 1/4
    qty: 3
    grain: length
  - name: rail
    material: birch ply
    thickness: 18 mm
    size: 600 mm x 2 1/2
    grain: width
  - {name: back, material: hardboard, size: 35¼ x 2' 6"}

store:
  kerf: 3/16
  accuracy: 1/8
  max_cuts: 4
  free_cuts: 2
  cut_price: 0.50

vehicle:
  bed: 72 x 40
  second_opening: [98, 10 1/2]
  max_load: 600 lb

keep_from: 14 x 5
"""

SMALLEST = """\
job: Hook board
units: mm
saw: {kerf: 3}
offcuts: [{name: scrap, material: MDF, thickness: 12, size: 500 x 300}]
parts: [{name: board, material: MDF, size: 400 x 100}]
"""


def job_of(text: str, folder: Path) -> Job:
    """Read ``text`` as a job file."""
    path = folder / "job.yaml"
    path.write_text(text, encoding="utf-8")
    return read_job(path)


def changed(old: str, new: str) -> str:
    """Give the sound job file with one place changed."""
    assert POTTING_BENCH.count(old) >= 1, old
    return POTTING_BENCH.replace(old, new, 1)

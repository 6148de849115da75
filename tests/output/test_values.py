"""What a job asks for, as plain data and back."""

from __future__ import annotations

import json
from pathlib import Path

from cutlist.model.job import FactoryEdge
from cutlist.output.values import from_plain, to_plain
from cutlist.reading import read_job

SHOP = """\
job: Planter
units: mm
saws:
  - {kind: table saw, kerf: 3, max_rip: 650, steady_edge: none}
  - {kind: table saw, name: second, kerf: 3, steady_edge: 550}
  - {kind: sled, kerf: 3, largest_piece: [1800.5 x 600, 2500 x 250]}
  - {kind: mitre gauge, kerf: 3, largest_piece: none}
  - {kind: track saw, kerf: 2.2, repeats: yes}
sheets:
  - {name: full, material: ply, thickness: 18, size: 2500 x 1250, trim: 8, factory_edge: rough}
  - {name: half, material: ply, thickness: 18, size: 1250 x 1250}
parts: [{name: side, material: ply, size: 600 x 300}]
"""


def test_a_shop_comes_back(tmp_path: Path) -> None:
    """Every limit of a device and every factory edge, through JSON, is what it was."""
    path = tmp_path / "planter.yaml"
    path.write_text(SHOP, encoding="utf-8")
    job = read_job(path)
    plain = json.loads(json.dumps(to_plain(job)))
    assert from_plain(type(job), plain) == job
    told = {saw.get("name", "table saw"): saw for saw in plain["saws"]}
    assert told["sled"]["largest_pieces"] == [["3601/2", "600"], ["2500", "250"]]
    assert told["track saw"]["repeats"] is True
    assert told["second"]["steady_edge"] == "550"
    assert plain["sheets"][0]["factory_edge"] == FactoryEdge.ROUGH.value
    assert "factory_edge" not in plain["sheets"][1]


def test_what_is_usual_is_written_out(tmp_path: Path) -> None:
    """A plan keeps the limits that it was made with, whatever is usual when it is read again."""
    path = tmp_path / "planter.yaml"
    path.write_text(SHOP, encoding="utf-8")
    fence, _, sled, _, guide = (to_plain(saw) for saw in read_job(path).saws)
    assert (fence["smallest_piece"], fence["thinnest_strip"]) == ("300", "10")
    assert (sled["max_rip"], sled["longest_cut"]) == ("1200", "600")
    assert guide["smallest_piece"] == "200"

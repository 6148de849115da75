"""Pieces for the rack as people type them: every fault at once, nothing guessed."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cutlist.errors import JobFileError
from cutlist.model.edges import Edge
from cutlist.model.rack import RackGrain
from cutlist.reading.rack_list import offcut_from, read_rack_list
from cutlist.units.system import Units

PIECE = {"material": "MDF", "thickness": "1/2", "size": "40 x 22 1/2"}


def test_a_piece_from_words() -> None:
    """Bare numbers are in the rack's unit; what is left out is clean, along the length, unnamed."""
    made = offcut_from(PIECE, Units.INCH, "add")
    assert (made.name, made.material, made.edges) == ("", "MDF", ())
    assert made.trim == 0
    assert (made.thickness, made.length, made.width) == (
        Fraction(127, 10),
        Fraction(1016),
        Fraction(1143, 2),
    )
    assert made.grain is RackGrain.LENGTH


def test_a_piece_whose_grain_runs_along_its_width_is_turned() -> None:
    """On the rack the grain runs along the length; the marked edges turn with the piece."""
    cells = PIECE | {"grain": "width", "trim": "1/4", "edges": "left"}
    made = offcut_from(cells, Units.INCH, "add")
    assert (made.length, made.width) == (Fraction(1143, 2), Fraction(1016))
    # A short edge before is a short edge after: it now lies below or above.
    assert len(made.edges) == 1
    assert made.edges[0] in {Edge.LOWER, Edge.UPPER}
    opposite = offcut_from(cells | {"edges": "right"}, Units.INCH, "add")
    assert {*made.edges, *opposite.edges} == {Edge.LOWER, Edge.UPPER}


def test_a_trim_alone_is_of_all_edges() -> None:
    """Where no edge is named every edge is taken to be rough."""
    assert offcut_from(PIECE | {"trim": "1/4"}, Units.INCH, "add").edges == tuple(Edge)


@pytest.mark.parametrize(
    ("cells", "path", "message"),
    [
        ({"size": "40"}, "size", "a size is a length and a width"),
        ({"thickness": "0"}, "thickness", "this must be more than 0"),
        ({"thickness": ""}, "thickness", "the length is missing"),
        ({"thickness": "18"}, "thickness", "is the unit right?"),
        ({"material": ""}, "material", "the name is empty"),
        ({"trim": "12"}, "trim", "leaves nothing of 40"),
        ({"edges": "left"}, "edges", "but not what has to come off"),
        ({"edges": "top", "trim": "1/4"}, "edges", "this is none of left, right"),
        ({"grain": "longways"}, "grain", "this is none of length, none, width"),
        ({"date": "3.2.2026"}, "date", "this is not a day"),
    ],
)
def test_faults_of_a_piece(cells: dict[str, str], path: str, message: str) -> None:
    """Each fault names its column and says what is wrong."""
    with pytest.raises(JobFileError) as caught:
        offcut_from(PIECE | cells, Units.INCH, "add")
    assert [fault.path for fault in caught.value.faults] == [path]
    assert message in caught.value.faults[0].message


def test_all_faults_of_a_list_by_line(tmp_path: Path) -> None:
    """Every fault of a list is told with its line; blank lines are passed over."""
    path = tmp_path / "rack.csv"
    path.write_text(
        "size,material,thickness,name\n40 x 20,MDF,1/2,a\n\n40,MDF,1/2,b\n40 x 20,MDF\n"
        "40 x 20,,x,c\n",
        encoding="utf-8",
    )
    with pytest.raises(JobFileError) as caught:
        read_rack_list(path, Units.INCH)
    assert [(fault.line, fault.path) for fault in caught.value.faults] == [
        (4, "size"),
        (5, ""),
        (6, "material"),
        (6, "thickness"),
    ]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"name,size\n", "the column material is missing"),
        (b"", "the column material is missing"),
        (b"material,thickness,size,materiel\n", "there is no column 'materiel' here"),
        (b"material,thickness,size,size\n", "this column stands here twice"),
        (b"material,thickness,size\n\xff\n", "not UTF-8"),
        (b'material,thickness,size\n"MDF,1/2,40 x 20\n', "not comma-separated text"),
    ],
)
def test_lists_that_are_none(content: bytes, message: str, tmp_path: Path) -> None:
    """A list without its head, or one that is no list, is refused as a whole."""
    path = tmp_path / "rack.csv"
    path.write_bytes(content)
    with pytest.raises(JobFileError) as caught:
        read_rack_list(path, Units.INCH)
    assert message in " ".join(fault.message for fault in caught.value.faults)


def test_a_mark_before_the_text_is_passed_over(tmp_path: Path) -> None:
    """Some spreadsheets put a byte-order mark first and end lines the other way."""
    path = tmp_path / "rack.csv"
    path.write_bytes("\ufeffMaterial,thickness,size\r\nMDF,1/2,40 x 20\r\n".encode())
    assert len(read_rack_list(path, Units.INCH)) == 1

"""The rack on paper: every piece there, to scale, apart from the others, with its marks."""

from __future__ import annotations

import io
import random
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.drawing import theme
from cutlist.drawing.frame import content_box
from cutlist.drawing.metrics import text_box
from cutlist.drawing.pages.document import write_rack
from cutlist.drawing.pages.rack_page import rack_pages
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Box, Line, Page, Rect, Role, Text
from cutlist.model.edges import Edge
from cutlist.model.rack import Rack, RackGrain, RackOffcut
from cutlist.units.system import Units
from tests.drawing.checks import assert_legible
from tests.rack.racks import DAY, piece


def rack(count: int, seed: int, units: Units = Units.MM) -> Rack:
    """Return a rack of random pieces in three materials."""
    rng = random.Random(seed)
    pieces = []
    for number in range(count):
        trim = rng.choice([0, 0, 6])
        edges = tuple(rng.sample(list(Edge), rng.randint(1, 4))) if trim else ()
        size = (rng.randint(100, 2440), rng.randint(60, 1220))
        material = rng.choice(["birch ply", "MDF", "oak veneered board of the better kind"])
        grain = rng.choice(list(RackGrain))
        pieces.append(piece(f"rack {number}", size, material, trim, edges, grain))
    return Rack("rack.db", units, "", tuple(pieces))


def drawn(pages: tuple[Page, ...]) -> list[tuple[int, Box]]:
    """Return the boxes of all pieces with their page."""
    return [
        (number, item.box)
        for number, page in enumerate(pages)
        for item in page.items
        if isinstance(item, Rect) and item.role is Role.KEPT_OFFCUT
    ]


def texts(pages: tuple[Page, ...], role: Role | None = None) -> list[str]:
    """Return the text of all items, of one role or of any."""
    return [
        item.content
        for page in pages
        for item in page.items
        if isinstance(item, Text) and role in (None, item.role)
    ]


@pytest.mark.parametrize("paper", [A4, LETTER])
@pytest.mark.parametrize(("count", "seed"), [(1, 0), (7, 1), (30, 2), (90, 3)])
def test_every_piece_is_drawn_to_one_scale(count: int, seed: int, paper: Paper) -> None:
    """Each piece is a box in the scale that is printed, on the paper, and overlaps no other."""
    asked = rack(count, seed)
    pages = rack_pages(asked, paper=paper, date=DAY)
    ratio = int(texts(pages, Role.SCALE)[0].split(".")[0].removeprefix("Scale 1:"))
    boxes = drawn(pages)
    sizes = sorted((round(box.width * ratio), round(box.height * ratio)) for _, box in boxes)
    assert sizes == sorted((int(one.length), int(one.width)) for one in asked.offcuts)
    room = content_box(*paper.size_mm(landscape=False))
    for index, (page, box) in enumerate(boxes):
        assert room.holds(box, slack=0.01)
        for other_page, other in boxes[:index]:
            assert page != other_page or not box.overlaps(other)


def test_every_piece_is_named_in_the_drawing_and_in_the_list() -> None:
    """The name of each piece stands in or below its box, and in the list with its size."""
    asked = rack(40, 5, Units.INCH)
    pages = rack_pages(asked, paper=LETTER, date=DAY)
    # A name may run over two lines.
    named = " ".join(texts(pages, Role.PANEL_TEXT) + texts(pages, Role.CALLOUT)).split("rack ")
    assert sorted(int(rest.split()[0]) for rest in named[1:]) == list(range(40))
    for one in asked.offcuts:
        assert one.name in texts(pages, Role.PLAIN)
    assert texts(pages, Role.FOOTER)[0] == "Offcut rack"


def test_edges_are_marked_where_they_are() -> None:
    """A chain line runs just inside each edge that is not clean, and inside no other."""
    one = piece("a", (1000, 500), trim=20, edges=(Edge.LEFT, Edge.UPPER))
    pages = rack_pages(Rack("r", Units.MM, "", (one,)), paper=A4, date=DAY)
    ((_, box),) = drawn(pages)
    lines = [
        item for item in pages[0].items if isinstance(item, Line) and item.dash_mm == theme.CHAIN
    ]
    left, upper = sorted(lines, key=lambda line: line.x2 - line.x1)
    trim = box.width * 20 / 1000
    assert (left.x1, left.x2) == pytest.approx((box.x + trim, box.x + trim))
    assert (upper.y1, upper.y2) == pytest.approx((box.y + trim, box.y + trim))
    assert "20 mm: left, upper" in texts(pages)


def test_grain_is_drawn_where_there_is_one() -> None:
    """A piece with a grain has an arrow along its length, one without has none and says so."""

    def arrows(one: RackOffcut) -> int:
        pages = rack_pages(Rack("r", Units.MM, "", (one,)), paper=A4, date=DAY)
        assert any("no grain" in text for text in texts(pages)) == (one.grain is RackGrain.NONE)
        return sum(isinstance(item, Line) and item.arrow_end for item in pages[0].items)

    assert arrows(piece("a")) == 1
    assert arrows(piece("a", grain=RackGrain.NONE)) == 0
    assert arrows(piece("a", material="MDF")) == 0


@pytest.mark.parametrize("paper", [A4, LETTER])
def test_a_material_is_named_on_each_page(paper: Paper) -> None:
    """A page that begins amid the pieces of a material says of which, and that it goes on."""
    pieces = tuple(piece(f"rack {number}", (2000, 900), "birch ply") for number in range(30))
    pages = rack_pages(Rack("r", Units.MM, "", pieces), paper=paper, date=DAY)
    with_pieces = sorted({number for number, _ in drawn(pages)})
    assert len(with_pieces) > 1
    for number in with_pieces:
        heads = [words for words in texts((pages[number],)) if words.startswith("birch ply 18 mm")]
        assert heads[0] == "birch ply 18 mm" + (", continued" if number else "")
        assert_legible(pages[number])
    assert len(drawn(pages)) == 30


def test_an_empty_rack_says_so() -> None:
    """An empty rack is a page that says that nothing is on it."""
    pages = rack_pages(Rack("r", Units.MM, ""), paper=A4, date=DAY)
    assert "There is nothing on the rack." in texts(pages)


def test_a_piece_longer_than_a_sheet_stays_on_the_page() -> None:
    """A piece of 12 ft, longer than the sheets usual in shops, fits at the smallest scale."""
    long = piece("a", (Fraction(3658), 1525))
    pages = rack_pages(Rack("r", Units.INCH, "", (long,)), paper=LETTER, date=DAY)
    room = content_box(*LETTER.size_mm(landscape=False))
    assert all(room.holds(box) for _, box in drawn(pages))


def test_the_pdf_is_the_same_again() -> None:
    """The same rack on the same day gives the same bytes."""
    first, second = io.BytesIO(), io.BytesIO()
    for target in (first, second):
        write_rack(rack(12, 4), target, paper=A4, date=DAY)
    assert first.getvalue() == second.getvalue()
    assert first.getvalue().startswith(b"%PDF-")


@pytest.mark.parametrize("seed", range(4))
def test_lettering_keeps_clear_of_the_lines_along_edges(seed: int) -> None:
    """No name, size or arrow lies across a chain line, and dates stay on one line."""
    rng = random.Random(seed)
    pieces = []
    for one in rack(40, seed).offcuts:
        edges = tuple(edge for edge in Edge if rng.random() < 0.5)
        trim = Fraction(rng.choice((6, 12))) if edges else Fraction(0)
        pieces.append(replace(one, edges=edges, trim=trim, name=f"{one.name} from the long wall"))
    pages = rack_pages(Rack("r", Units.MM, "", tuple(pieces)), paper=A4, date=DAY)
    crossed = 0
    for page in pages:
        chains = [i for i in page.items if isinstance(i, Line) and i.dash_mm == theme.CHAIN]
        boxes = [text_box(i) for i in page.items if isinstance(i, Text)]
        arrows = (i for i in page.items if isinstance(i, Line) and i.arrow_end)
        boxes += [Box(i.x1, i.y1 - 0.2, i.x2 - i.x1, 0.4) for i in arrows]
        for line in chains:
            drawn_line = Box(line.x1, line.y1, line.x2 - line.x1, line.y2 - line.y1)
            crossed += sum(box.overlaps(drawn_line, slack=-0.01) for box in boxes)
    assert crossed == 0
    assert texts(pages).count(DAY.isoformat()) >= len(pieces)

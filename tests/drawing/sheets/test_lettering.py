"""Lettering placed in a box: whole, legible, inside, as large as there is room for."""

from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from cutlist.drawing import theme
from cutlist.drawing.metrics import text_box
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Box
from cutlist.drawing.sheets.lettering import (
    LARGE,
    PLAIN,
    SHORT,
    Fit,
    Form,
    Lettered,
    Span,
    letter,
    set_rows,
)
from cutlist.drawing.sheets.sketch import Label

NAMES = st.sampled_from(["end", "drawer front", "upper left-hand cabinet door with a window"])
BOARD = "1000 × 1253 mm"


def labelled(box: Box, name: str, *details: str) -> Lettered | None:
    """Letter a panel."""
    return letter(box, Label(name, details).forms(), PLAIN)


def blank(box: Box, name: str, *, taken: Occupied, fixed: Occupied) -> Lettered | None:
    """Letter a blank that is read from afar."""
    label = Label(name, (BOARD,), may_shorten=True, size_pt=9.5)
    return letter(box, label.forms(), LARGE, taken=taken, fixed=fixed)


@given(st.floats(1, 120), st.floats(1, 120), NAMES)
@example(4.0, 58.0, "end")
def test_a_label_stays_inside_and_legible(width: float, height: float, name: str) -> None:
    """Whatever the panel, lettering never leaves it, never overlaps, never gets too small."""
    box = Box(20, 30, width, height)
    label = labelled(box, name, '23 5/8" × 14 1/2"', "A1a")
    assume(label)
    assert label is not None
    assert theme.TINY <= label.size_pt <= theme.LABEL_MAX
    boxes = [text_box(text) for text in label.texts]
    assert all(box.holds(one, 1e-6) for one in boxes)
    assert not any(
        one.overlaps(other, 1e-6) for i, one in enumerate(boxes) for other in boxes[i + 1 :]
    )
    said = " ".join(text.content for text in label.texts)
    assert all(word in said for word in name.split())
    assert "A1a" in said


@pytest.mark.parametrize(
    ("size", "rows", "upwards"),
    [((60, 40), 3, False), ((20, 60), 3, True), ((120, 3.2), 1, False), ((3.2, 120), 1, True)],
)
def test_the_form_follows_the_panel(size: tuple[float, float], rows: int, upwards: bool) -> None:
    """Three rows in a roomy panel, one along a thin strip, turned in an upright one."""
    label = labelled(Box(0, 0, *size), "end", "600 × 400 mm", "A1a")
    assert label is not None
    assert len(label.texts) == rows
    assert {text.upwards for text in label.texts} == {upwards}


def test_a_tiny_panel_is_left_to_the_key() -> None:
    """Where the full label has no room the number may still have some; below that neither."""
    small = Box(0, 0, 6, 4)
    full = Label("divider", ("60 × 40 mm", "A3c"), beside="A3c")
    assert letter(small, full.forms(), PLAIN) is None
    number = full.numbered("#1")
    lettered = letter(small, number.forms(), PLAIN)
    assert lettered is not None
    assert [text.content for text in lettered.texts] == ["#1"]
    assert lettered.form.is_short
    roomy = letter(Box(0, 0, 20, 10), number.forms(), PLAIN)
    assert roomy is not None
    assert {text.content for text in roomy.texts} == {"#1", "A3c"}
    assert letter(Box(0, 0, 30, 1.2), number.forms(), PLAIN) is None


@given(st.floats(3, 60), st.floats(3, 60))
def test_the_largest_worth_is_found(width: float, height: float) -> None:
    """Stopping early takes the same as trying every size by itself and choosing then."""
    box = Box(0, 0, width, height)
    forms = (
        Form(((Span("shelf board", bold=True, wraps=True),), (Span("A1"),))),
        Form(((Span("shelf board A1"),),), 2.0),
    )
    fit = Fit((12.0, 9.0, 6.0), clear=1.0, clear_wide=1.0)
    found = letter(box, forms, fit)
    worths = []
    for size in fit.sizes:
        for form in forms:
            one = letter(box, (form,), Fit((size,), clear=1.0, clear_wide=1.0))
            if one is not None:
                broken = len(one.texts) - len(form.rows)
                turned = 1.5 * one.texts[0].upwards
                worths.append(size - form.cost - 3.0 * broken - turned)
    assert (found is None) is (not worths)
    if found is not None:
        broken = len(found.texts) - len(found.form.rows)
        turned = 1.5 * found.texts[0].upwards
        worth = found.size_pt - found.form.cost - 3.0 * broken - turned
        assert worth == pytest.approx(max(worths))


def test_rows_are_centred_about_their_point() -> None:
    """Two rows of 10 pt about (40, 35): equally far to both sides, capitals to last baseline."""
    rows = ((("end", 10.0, True),), (("A1a", 10.0, False),))
    for upwards in (False, True):
        texts = set_rows(rows, 40, 35, upwards=upwards)
        for text in texts:
            box = text_box(text)
            middle = box.y + box.height / 2 if upwards else box.x + box.width / 2
            assert middle == pytest.approx(35 if upwards else 40)
        first, last = (text_box(text) for text in texts)
        low, high = (first.x, texts[1].x) if upwards else (first.y, texts[1].y)
        assert (low + high) / 2 == pytest.approx(40 if upwards else 35)
        assert not first.overlaps(last)
        # Rows of one size stand as far apart as lines of a paragraph.
        apart = texts[1].x - texts[0].x if upwards else texts[1].y - texts[0].y
        assert apart == pytest.approx(theme.LEADING * 10 * 25.4 / 72)


@pytest.mark.parametrize(
    "box",
    [
        Box(0, 0, 90, 60),
        Box(10, 10, 90, 8),
        Box(10, 10, 8, 90),
        Box(0, 0, 25, 25),
        Box(0, 0, 22, 40),
    ],
)
def test_name_and_size_stand_inside(box: Box) -> None:
    """Both fit, apart from each other, in tall, low, narrow and small blanks."""
    lettered = blank(box, "A2", taken=Occupied(), fixed=Occupied())
    assert lettered is not None
    assert not lettered.form.is_short
    assert not lettered.form.covers
    assert " ".join(text.content for text in lettered.texts) == f"A2 {BOARD}"
    boxes = [text_box(text) for text in lettered.texts]
    assert all(box.holds(one) for one in boxes)
    assert not any(a.overlaps(b) for a in boxes for b in boxes if a is not b)


def test_the_name_is_as_large_as_it_can_be() -> None:
    """In a large blank it is read from some steps away."""
    lettered = blank(Box(0, 0, 90, 60), "A2", taken=Occupied(), fixed=Occupied())
    assert lettered is not None
    assert lettered.texts[0].size_pt == 26.0


def test_a_name_may_lie_upon_an_arrow_but_not_upon_a_distance() -> None:
    """A low strip whose whole length an arrow takes: the name covers it beside the figures."""
    box = Box(0, 0, 60, 6)
    taken, fixed = Occupied(), Occupied()
    taken.add(Box(0, 2.5, 60, 1.0))
    figures = Box(22, 1, 16, 4)
    for places in (taken, fixed):
        places.add(figures)
    lettered = blank(box, "B7", taken=taken, fixed=fixed)
    assert lettered is not None
    assert lettered.form.covers
    assert all(not text_box(text).overlaps(figures) for text in lettered.texts)


def test_lettering_gives_way_to_what_is_there() -> None:
    """A bar across the middle: the lettering stands in another part of the box, as large."""
    box, bar = Box(0, 0, 90, 60), Box(0, 28, 90, 4)
    taken = Occupied()
    taken.add(bar)
    lettered = blank(box, "A2", taken=taken, fixed=taken)
    assert lettered is not None
    assert lettered.size_pt == 26.0
    assert not any(text_box(text).overlaps(bar) for text in lettered.texts)


def test_no_room_is_told() -> None:
    """Where not even the least name fits there is none."""
    assert blank(Box(0, 0, 3, 2), "A2", taken=Occupied(), fixed=Occupied()) is None


def test_leaving_out_counts_for_more_than_any_size() -> None:
    """A form is short if it leaves something out; no whole form costs as much."""
    label = Label("A2", (BOARD,), may_shorten=True, size_pt=9.5)
    for form in (*label.forms(), *Label("end", (BOARD, "A1"), may_shorten=True).forms()):
        said = " ".join(span.content for row in form.rows for span in row)
        assert form.is_short is (BOARD not in said or form.covers)
        assert form.is_short is (form.cost >= SHORT)

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cutlist.drawing.fitting import Row, block_height, place_lines, shorten, wrap
from cutlist.drawing.metrics import text_box, text_width
from cutlist.drawing.primitives import Box

WORDS = st.text(alphabet='abcdefgh ABC×"/123456789', max_size=120)


@given(WORDS, st.floats(6, 80), st.sampled_from([6.0, 8.0, 12.5]))
def test_wrapped_lines_fit_and_lose_nothing(content: str, width: float, size: float) -> None:
    """No line is wider than asked, and all that is not a space is still there, in order."""
    lines = wrap(content, width, size)
    assert "".join(lines).replace(" ", "") == "".join(content.split())
    assert all(text_width(line, size) <= width or len(line) == 1 for line in lines)


def test_a_size_is_not_parted() -> None:
    """Lines break around a size, not inside it."""
    lines = wrap('the largest one is 23 5/8" × 14 1/2" long', 32, 8)
    assert any('23 5/8" × 14 1/2"' in line for line in lines)
    assert len(lines) > 1


def test_a_count_is_not_parted() -> None:
    """``(1 of 4)`` goes to the next line as a whole."""
    width = text_width("finished: left-hand door (1 of", 8)
    assert wrap("finished: left-hand door (1 of 4)", width, 8) == (
        "finished: left-hand door",
        "(1 of 4)",
    )


@given(WORDS, st.floats(6, 60))
def test_shortened_text_fits(content: str, width: float) -> None:
    """A shortened text fits and is a beginning of the text."""
    short = shorten(content, width, 8)
    assert text_width(short, 8) <= width + 1e-9
    assert content.startswith(short.removesuffix("…"))


def test_rows_are_centred_in_their_box() -> None:
    """The rows of a label keep the same distance from the sides of the box."""
    rows = (Row("end", True), Row("A1a"))
    box = Box(10, 20, 60, 30)
    for upwards in (False, True):
        boxes = [text_box(text) for text in place_lines(rows, box, 10, upwards=upwards)]
        for found in boxes:
            assert box.holds(found)
        centre = box.x + box.width / 2 if not upwards else box.y + box.height / 2
        for found in boxes:
            middle = found.x + found.width / 2 if not upwards else found.y + found.height / 2
            assert abs(middle - centre) < 1e-6
    assert block_height(2, 10) > block_height(1, 10)


def test_a_weight_stays_with_its_unit() -> None:
    """No line begins with lb or kg."""
    for unit in ("lb", "kg"):
        words = f"end of a sheet, 11.9 {unit}"
        for width in range(15, 60):
            assert not any(line.startswith(unit) for line in wrap(words, width, 10))

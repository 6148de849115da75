from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.drawing.fitting import block_height, shorten, wrap
from cutlist.drawing.metrics import text_width

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


def test_a_block_grows_with_its_lines() -> None:
    """Ten points: a capital is 0.73 of it high, each further line 1.22 of it."""
    assert block_height(1, 10) == pytest.approx(7.3 * 25.4 / 72)
    assert block_height(3, 10) == pytest.approx((7.3 + 2 * 12.2) * 25.4 / 72)


def test_a_weight_stays_with_its_unit() -> None:
    """No line begins with lb or kg."""
    for unit in ("lb", "kg"):
        words = f"end of a sheet, 11.9 {unit}"
        for width in range(15, 60):
            assert not any(line.startswith(unit) for line in wrap(words, width, 10))

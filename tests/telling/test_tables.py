"""Tables of plain text keep within their width and lose nothing."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from cutlist.telling.tables import NO_BREAK, hanging, table

WORDS = st.lists(st.text("abc×", min_size=1, max_size=9), min_size=1, max_size=6).map(" ".join)


def test_a_narrow_table_is_aligned() -> None:
    """Columns stand below their heads, figures to the right, nothing runs on."""
    rows = [("name", "qty", "size"), ("shelf", "12", "9 × 4"), ("back", "3", "8 × 8")]
    assert table(rows, right={1}, indent=2) == [
        "  name   qty  size",
        "  shelf   12  9 × 4",
        "  back     3  8 × 8",
    ]


def test_the_widest_flexible_column_gives_way() -> None:
    """Text that does not fit runs on below itself, the rigid columns stay whole."""
    rows = [("name", "size"), ("lower door of the tall case", '30 1/2" × 14"')]
    assert table(rows, flexible={0}, width=30) == [
        "name           size",
        'lower door of  30 1/2" × 14"',
        "the tall case",
    ]


def test_no_break_spaces_hold_together() -> None:
    """What is joined by a no-break space stays on one line and is printed with a plain one."""
    rows = [("buy", "cost"), (f"2{NO_BREAK}×{NO_BREAK}full and 1{NO_BREAK}×{NO_BREAK}half", "9")]
    assert table(rows, flexible={0}, width=16)[1:] == ["2 × full  9", "and", "1 × half"]


@given(st.lists(st.tuples(WORDS, WORDS, WORDS), min_size=1, max_size=5), st.integers(20, 60))
def test_every_word_is_kept_within_the_width(rows: list[tuple[str, ...]], width: int) -> None:
    """No line is wider than asked for unless its words are, and every word is printed."""
    lines = table(rows, flexible={0, 1, 2}, width=width)
    least = sum(max(len(word) for row in rows for word in row[c].split()) for c in range(3)) + 4
    assert max(map(len, lines)) <= max(width, least)
    words = sorted(word for row in rows for cell in row for word in cell.split())
    assert sorted(" ".join(lines).split()) == words


@given(WORDS, st.integers(30, 60))
def test_hanging_text_keeps_its_column(text: str, width: int) -> None:
    """A text beside a label runs on below itself."""
    first, *others = hanging("  left", text, at=9, width=width)
    assert first.startswith("  left   ")
    assert all(line.startswith(" " * 9) and line[9] != " " for line in others)
    assert (first[9:] + " " + " ".join(line[9:] for line in others)).split() == text.split()
    assert max(map(len, [first, *others])) <= width

"""What holds for the lettering of every page."""

from __future__ import annotations

from cutlist.drawing import theme
from cutlist.drawing.frame import content_box
from cutlist.drawing.metrics import text_box
from cutlist.drawing.primitives import Page, Role, Text

#: Descenders of one row may come so near to the next, mm.
_SLACK = 0.05
#: A descender may hang so far below the frame, mm; the margin is 12 mm.
_BELOW = 0.7


def texts(page: Page, role: Role | None = None) -> list[Text]:
    """Give all text of a page, of one role or of any."""
    return [i for i in page.items if isinstance(i, Text) and role in (None, i.role)]


def assert_legible(page: Page) -> None:
    """Check that no two texts overlap, all stand inside the frame and none is tiny."""
    frame = content_box(page.width_mm, page.height_mm)
    body = [text for text in texts(page) if text.role is not Role.FOOTER]
    boxes = sorted(((text_box(text), text.content) for text in body), key=lambda one: one[0].y)
    for index, (box, content) in enumerate(boxes):
        assert frame.holds(box, _BELOW), content
        for other, there in boxes[index + 1 :]:
            if other.y > box.bottom:
                break
            assert not box.overlaps(other, _SLACK), (content, there)
    assert all(text.size_pt >= theme.TINY for text in texts(page))

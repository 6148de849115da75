"""A backend that only remembers: it serves tests and whoever wants to look at a page's items."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from cutlist.drawing.primitives import Text

if TYPE_CHECKING:
    from cutlist.drawing.primitives import Item, Page, Role

__all__ = ["Recording"]

T = TypeVar("T", bound="Item")


@dataclass(frozen=True, slots=True)
class Recording:
    """The pages of a document."""

    pages: tuple[Page, ...]

    def of_kind(self, kind: type[T], role: Role | None = None) -> tuple[T, ...]:
        """Give all items of a kind, of one role or of any, over all pages in drawing order."""
        return tuple(
            item
            for page in self.pages
            for item in page.items
            if isinstance(item, kind) and role in (None, item.role)
        )

    def lettering(self) -> str:
        """Give all text, one line for each item and a blank line between two pages."""
        return "\n\n".join(
            "\n".join(item.content for item in page.items if isinstance(item, Text))
            for page in self.pages
        )

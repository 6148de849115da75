"""The offcut rack: a database file beside the jobs, with a history that can be undone."""

from __future__ import annotations

from cutlist.rack.booking import book, booking_text, read_booking
from cutlist.rack.changes import Change, add, history, redo, remove, replace_all, take, undo
from cutlist.rack.file import make_rack, read_rack

__all__ = [
    "Change",
    "add",
    "book",
    "booking_text",
    "history",
    "make_rack",
    "read_booking",
    "read_rack",
    "redo",
    "remove",
    "replace_all",
    "take",
    "undo",
]

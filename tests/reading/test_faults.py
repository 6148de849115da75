"""Collecting faults, and guessing what was meant."""

from __future__ import annotations

import pytest

from cutlist.errors import FaultCode
from cutlist.reading.faults import Faults, closest, did_you_mean, one_of, shortened
from cutlist.reading.places import Mark


@pytest.mark.parametrize(
    ("word", "meant"),
    [("birch pyl", "birch ply"), ("BIRCH PLY", "birch ply"), ("oak", None), ("x" * 100, None)],
)
def test_closest(word: str, meant: str | None) -> None:
    """A slip finds its word whatever the case, a stranger finds none."""
    assert closest(word, ["birch ply", "hardboard"]) == meant


def test_hints() -> None:
    """A hint names the near word, else the choices, a long list cut off."""
    assert did_you_mean("grian", ["grain"], "-") == "did you mean grain?"
    assert did_you_mean("zzz", ["grain"], "one of grain") == "one of grain"
    assert one_of(["a", "b"]) == "one of a, b"
    assert one_of("abcdefghijk") == "one of a, b, c, d, e, f, g, h, …"


def test_found_text_is_one_short_printable_line() -> None:
    """What was found is shown on one line, without control characters."""
    assert shortened("a\n b\tc") == "a b c"
    assert shortened("a\x1b[31mb") == "a�[31mb"
    assert len(shortened("a" * 500)) == 60


def test_faults_are_sorted_by_place() -> None:
    """Faults found later may stand earlier in the file."""
    faults = Faults()
    assert not faults
    faults.add(FaultCode.WRONG_VALUE, Mark(3, 1), "b", "", "later")
    faults.add(FaultCode.WRONG_VALUE, Mark(2, 9), "a", "", "earlier")
    assert faults
    assert [fault.message for fault in faults.in_order()] == ["earlier", "later"]

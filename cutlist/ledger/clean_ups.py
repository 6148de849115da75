"""What a clean-up cut takes off: a strip and the kerf."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.plan import Direction, Purpose

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Cut, Piece, SawSetup


@dataclass(frozen=True, slots=True)
class CleanUp:
    """The strip that goes to waste, its width as the scale shows it, and that with the kerf."""

    strip: Piece
    width: Fraction
    off: Fraction


def clean_up_of(ledger: Ledger, setting: SawSetup, cut: Cut) -> CleanUp | None:
    """Give what a clean-up cut takes off; None where it leaves no strip, and for other cuts."""
    if cut.purpose is not Purpose.CLEAN_UP or cut.rest is None:
        return None
    for strip, cleaned in ((cut.kept, cut.rest), (cut.rest, cut.kept)):
        width = _across(strip, cut)
        whole = _across(ledger.pieces[cut.piece], cut)
        is_off = width + setting.kerf == whole - _across(cleaned, cut)
        if strip.name not in ledger.consumer_of and is_off:
            if strip is cut.kept and width == setting.distance:
                # What is set is the mark: the sum is that of what the scale shows.
                width = setting.mark
            return CleanUp(strip, width, width + setting.kerf)
    return None


def _across(piece: Piece, cut: Cut) -> Fraction:
    return piece.width if cut.direction is Direction.RIP else piece.length

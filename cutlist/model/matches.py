"""Parts that have to match: what a plan makes of each group of them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Matched:
    """What a plan makes of a match.

    Parameters
    ----------
    name, distance
        The match, and the size that its panels share.
    panels
        How many panels of the plan belong to it.
    settings
        Numbers of the settings of a fence or a stop that cut them to this size, in order, or of a
        guide that serves many cuts. A single one is what was asked for; with several the panels
        come from several visits.
    unset
        How many panel sides get the size without a cut at it: by being what is left of a strip,
        or a side of the stock itself.
    guided
        Numbers of the settings of a guide laid anew for every cut that did so: what was cut along
        it matches only as well as the guide was laid.
    """

    name: str
    distance: Fraction
    panels: int
    settings: tuple[int, ...]
    unset: int
    guided: tuple[int, ...] = ()

    @property
    def in_one_visit(self) -> bool:
        """Whether every panel got the size at one and the same setting of a fence or a stop."""
        return not self.unset and not self.guided and len(self.settings) <= 1

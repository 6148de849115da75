"""What set-ups come to, and which of two orders is less work."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class SetupLoad:
    """What plans are compared by; the first difference decides, and less is better.

    Parameters
    ----------
    unsafe
        Cuts that no saw may make.
    apart
        What keeps panels from matching, counted.
    weight
        Of all set-ups, as the tools weigh them by their minutes.
    setups
        How many there are.
    skims
        Cuts that do nothing but clean an edge.
    """

    unsafe: int = 0
    apart: int = 0
    weight: int = 0
    setups: int = 0
    skims: int = 0

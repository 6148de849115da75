"""The look of every page: line widths, lettering sizes and spaces.

Line widths are steps of the series 0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm of ISO 128-2, quoted from
memory. Everything is black line work on white, so that a copier loses nothing.
"""

from __future__ import annotations

from typing import Final

#: Line widths, mm.
HAIR: Final = 0.13
THIN: Final = 0.18
FINE: Final = 0.25
MEDIUM: Final = 0.35
WIDE: Final = 0.5
HEAVY: Final = 0.7

#: Lettering, pt. Nothing is ever set smaller than ``TINY``.
TINY: Final = 6.0
SMALL: Final = 7.0
BODY: Final = 8.0
LABEL_MAX: Final = 12.5
STRONG: Final = 9.5
HEADING: Final = 12.0
TITLE: Final = 17.0
FIGURE: Final = 26.0
DISTANCE: Final = 30.0

#: Blank edge around each page, and the height kept for the footer inside it, mm.
MARGIN: Final = 12.0
FOOTER: Final = 7.0

#: Space from one baseline to the next, as a multiple of the lettering size.
LEADING: Final = 1.22

HATCH_SPACING: Final = 1.7
DASHED: Final = (2.0, 1.0)
CHAIN: Final = (7.0, 1.0, 0.7, 1.0)
#: Grey of a tinted fill, 0 black to 1 white; it carries no meaning by itself.
TINT_GREY: Final = 0.90

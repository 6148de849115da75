"""What is cut along one axis of one piece: sizes on small examples."""

from __future__ import annotations

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Strip
from cutlist.sequencing.runs import Run, along_of, run_of


def test_slack_and_least_piece() -> None:
    """30 + 20 on 60 with a trim of 2 at the far end: 7 to spare beside a kerf of 1."""
    run = Run(Axis.X, ((30, 0), (20, 0)), 60, 0, 2, 9)
    assert run.slack(1) == 7
    # Cut off last, the 30 lies beside what is to spare and the trim: 7 + 2.
    assert run.least_beside(30, 1) == 39
    assert run.least_beside(20, 1) == 29
    full = Run(Axis.X, ((30, 0), (20, 0)), 51, 0, 0, 9)
    assert full.slack(1) == 0
    assert full.least_beside(30, 1) == 51
    assert Run(Axis.X, ((30, 0),), 30, 0, 0, 9).least_beside(30, 1) == 31
    # Where the waste is cut first a small neighbour is all that is left beside it.
    wide = Run(Axis.X, ((30, 0), (5, 0)), 90, 0, 0, 9)
    assert wide.least_beside(30, 1) == 36


def test_run_of_a_tree() -> None:
    """Trims count into the size of the piece, and into the length of its cuts."""
    strip = Strip(Axis.X, 60, 20, (Cell(0, 30, 20),))
    trims = EdgeTrims(1, 2, 3, 4)
    assert run_of(strip, Axis.X, trims, ((30, 7),)) == Run(Axis.X, ((30, 7),), 63, 1, 2, 27)
    assert along_of(strip, Axis.Y, trims) == 63

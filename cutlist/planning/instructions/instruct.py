"""Everything that is said at the saw, decided and put into the plan.

The mark that is set, the edge that rides, what a cut asks for, which edge a clean-up takes off, and
which sizes are to be checked. The device of each set-up and the order of its cuts are decided
before. Words and pictures come later, and add nothing to it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import singledispatch
from typing import TYPE_CHECKING

from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Place, SawSetup
from cutlist.planning.instructions.cautions import cautions_of
from cutlist.planning.instructions.edges import edge_off, riding_edge, size_check
from cutlist.planning.instructions.marks import mark_for

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Cut, Plan, Setup

__all__ = ["instructed", "instructed_setup"]

#: The mark for each tool and distance.
Marks = Mapping[tuple[str, Fraction], Fraction]


def instructed(plan: Plan) -> Plan:
    """Return the plan with everything decided that is said at the saw."""
    ledger = read_ledger(plan)
    marks = _marks(ledger)
    return replace(
        plan, setups=tuple(instructed_setup(setup, ledger, marks) for setup in plan.setups)
    )


@singledispatch
def instructed_setup(setup: Setup, _ledger: Ledger, _marks: Marks) -> Setup:
    """Return a set-up with all decided that is said at it; one function for each kind.

    Raises
    ------
    TypeError
        For a kind that has none.
    """
    raise TypeError(f"nothing decides what is said at a {type(setup).__name__}")


@instructed_setup.register(SawSetup)
def _saw_setup(setup: SawSetup, ledger: Ledger, marks: Marks) -> SawSetup:
    at_store = setup.place is Place.STORE
    return replace(
        setup,
        mark=setup.distance if at_store else marks[setup.tool, setup.distance],
        cuts=tuple(_cut(ledger, setup, cut) for cut in setup.cuts),
    )


def _cut(ledger: Ledger, setup: SawSetup, cut: Cut) -> Cut:
    piece = ledger.pieces[cut.piece]
    thickness = ledger.stock_of[cut.piece].thickness
    units = ledger.plan.job.units
    return replace(
        cut,
        rides=riding_edge(ledger, cut),
        cautions=cautions_of(setup, cut, piece, units, thickness=thickness),
        takes_off=edge_off(ledger, cut),
        check=size_check(ledger, cut, setup.place),
    )


def _marks(ledger: Ledger) -> Marks:
    """Give the mark for each saw of the shop and each distance that it is set to."""
    cuts: dict[tuple[str, Fraction], list[Cut]] = defaultdict(list)
    for setting in ledger.plan.settings:
        if setting.place is not Place.STORE:
            cuts[setting.tool, setting.distance] += setting.cuts
    scales = {saw.name: saw.scale for saw in ledger.plan.job.tools}
    return {
        (tool, distance): mark_for(ledger, distance, scales.get(tool), made)
        for (tool, distance), made in cuts.items()
    }

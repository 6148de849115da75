"""Sound plans with one thing wrong about a set-up, or what is said at the saw, and their codes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from cutlist.model.edges import Edge
from cutlist.model.plan import Place, Plan, Setup
from cutlist.model.sawing import Caution, Device, Hazard, SizeCheck, SizeDoubt
from tests.audit.edits import (
    cut_of,
    renumbered,
    with_bounds,
    with_cut,
    with_item,
    with_kept,
    with_rest,
    with_saw,
    with_setting,
    with_totals,
)
from tests.audit.plans import by_device, f

Edit = Callable[[Plan], Plan]


def clean_up_off_scale(plan: Plan) -> Plan:
    """Clean up at 47.74 in, between two marks of a scale of 1/32 in."""
    plan = with_setting(plan, 2, distance=f(47.74))
    plan = with_kept(plan, 2, length=-0.01)
    plan = with_rest(with_rest(plan, 2, x=-0.01, length=0.01), 3, length=-0.01)
    for index, number in ((0, 2), (1, 3)):
        rest = cut_of(plan, number).rest
        plan = with_item(plan, "leftovers", index, piece=rest)
    return plan


def _setting_split(plan: Plan) -> Plan:
    first, second, third = plan.settings
    one, other = replace(first, cuts=first.cuts[:1]), replace(first, cuts=first.cuts[1:])
    totals = {"setups": 4, "setups_by_device": by_device(fence=2, stop=2), "minutes": f(16)}
    return with_bounds(
        with_totals(renumbered(plan, [one, other, second, third]), **totals), setups_proven=False
    )


def _setting_emptied(plan: Plan) -> Plan:
    settings = [*plan.settings, replace(plan.settings[0], cuts=())]
    totals = {"setups": 4, "setups_by_device": by_device(fence=2, stop=2), "minutes": f(16)}
    return with_bounds(with_totals(renumbered(plan, settings), **totals), setups_proven=False)


def _guides_together(plan: Plan) -> Plan:
    """Make two cuts along a guide that is laid once."""
    first, second, third, *others = plan.settings
    one = replace(second, cuts=second.cuts + third.cuts)
    totals = {"setups": 7, "setups_by_device": by_device(fence=1, guide=6), "minutes": f(43)}
    return with_totals(renumbered(plan, [first, one, *others]), **totals)


def _crosscut_at_the_fence(plan: Plan) -> Plan:
    """Crosscut a long strip along the fence, flagged as it is, though a sled carries it."""
    plan = with_setting(plan, 2, tool="table saw", device=Device.FENCE)
    plan = with_cut(plan, 3, hazards=(Hazard.UNSTEADY,), cautions=(Caution.UNSAFE,))
    return with_totals(plan, setups_by_device=by_device(fence=2), minutes=f(9))


BROKEN_SETTINGS: list[tuple[str, str, Edit, set[int]]] = [
    ("setting number", "plain", lambda p: with_setting(p, 3, number=4), {301}),
    ("setting without cuts", "plain", _setting_emptied, {302}),
    ("same setting twice", "plain", _setting_split, {303}),
    ("another kerf", "plain", lambda p: with_saw(p, kerf=f("3/32")), {304}),
    ("beyond reach", "plain", lambda p: with_saw(p, max_rip=f(14.25)), {305}),
    ("off the scale", "store_and_vehicle", clean_up_off_scale, {306}),
    ("unknown tool", "plain", lambda p: with_setting(p, 3, tool="bandsaw"), {307, 718}),
    ("distance of nothing", "plain", lambda p: with_setting(p, 3, distance=f(0)), {205, 308}),
    (
        "unsafe cut not flagged",
        "plain",
        lambda p: with_saw(p, smallest_piece=f(97)),
        {309},
    ),
    (
        "flag without cause",
        "plain",
        lambda p: with_cut(p, 1, hazards=(Hazard.TOO_LONG,)),
        {310},
    ),
    (
        "set-up of another kind",
        "plain",
        lambda p: replace(p, setups=(*p.setups, Setup(4, Place.SHOP, "router"))),
        {311},
    ),
    (
        "another device",
        "plain",
        lambda p: with_totals(
            with_setting(p, 1, device=Device.STOP), setups_by_device=by_device(stop=3)
        ),
        {312},
    ),
    (
        "the store's saw at the fence",
        "store_and_vehicle",
        lambda p: with_setting(p, 1, device=Device.FENCE),
        {312},
    ),
    ("off the mark", "plain", lambda p: with_setting(p, 1, mark=f("14.53125")), {313}),
    ("rides on the far edge", "plain", lambda p: with_cut(p, 1, rides=Edge.UPPER), {314}),
    ("rides on nothing", "plain", lambda p: with_cut(p, 1, rides=None), {314}),
    ("caution left out", "plain", lambda p: with_cut(p, 1, cautions=()), {315}),
    ("caution too many", "plain", lambda p: with_cut(p, 1, cautions=tuple(Caution)), {315}),
    (
        "clean-up takes the other edge",
        "store_and_vehicle",
        lambda p: with_cut(p, 2, takes_off=Edge.LEFT),
        {316},
    ),
    ("takes an edge off for a part", "plain", lambda p: with_cut(p, 1, takes_off=Edge.LEFT), {316}),
    (
        "size checked that is set",
        "plain",
        lambda p: with_cut(p, 1, check=SizeCheck(f(14.5), SizeDoubt.REMAINDER)),
        {317},
    ),
    ("size not checked", "two_materials", lambda p: with_cut(p, 2, check=None), {317}),
    ("guide laid once for two", "along_a_guide", _guides_together, {318}),
    ("another saw makes it", "two_materials", _crosscut_at_the_fence, {319}),
]

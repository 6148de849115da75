"""The cuts of a sheet, written down flat from its node table: what is cut at which distances.

Which devices may make a cut is settled here by the piece that its strip begins as. Where none holds
a piece so large, a guide divides it first into such as they hold; where none can be set so far, a
panel is what is left of its strip, or the guide cuts it off.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from cutlist.nesting.kernels.bench import (
    BLADE,
    LEAST_WASTE,
    MOST,
    all_shared,
    at_least_fault,
    farthest,
    guide_at_fault,
    guide_for,
    has_guide,
    largest_across,
    set_to,
    tools_for,
)
from cutlist.nesting.kernels.cut_forest import (
    BY_GUIDE,
    ENDS,
    FIXED,
    GROUP,
    GUIDED,
    LOW,
    NODE,
    NONE,
    OFF,
    ONE,
    OPTIONAL,
    OVER,
    OWNER,
    SIZE,
    SPARE,
    SPARES,
    UNCLEAN,
    UNSAFE,
    WASTE,
    WHERE,
    WHICH,
    Ends,
    Run,
    add_task,
    clean_edge,
    clean_ends,
    divide_by_guide,
    hand_on,
    open_strip,
    read_ends,
)
from cutlist.nesting.kernels.node_sizes import children_along, slack_across
from cutlist.nesting.kernels.nodes import ANGLE, EXT, FIRST, ITEM, NEXT, STRIP
from cutlist.nesting.kernels.nodes import KIND as NODE_KIND
from cutlist.nesting.kernels.waste_cuts import take_waste_off

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.cut_forest import CutForest, WritingRoom, WritingRules
    from cutlist.nesting.kernels.records import Ints, Longs


@njit(cache=True, nogil=True)
def _peel(
    t: Ints,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
    kids: int,
    group: int,
    run: Run,
    left: int,
    is_far_unclean: bool,
    unsure: int,
    by: int,
    where: int,
) -> int:
    """Write down a strip of the children of one group; ``left`` is what is over, kerf and all."""
    rows, kerf = room.kids, bench.kerf
    count, last, across = 0, -1, left - kerf
    for i in range(kids):
        if rows[i, GROUP] == group:
            count += 1
            last = i
            across += rows[i, SIZE] + kerf
    if count == 1 and left == 0:
        return hand_on(t, forest, run, room.stack, depth, rows[last, NODE], where, clean_ends())
    regular = tools_for(bench, run.along, run.least, across)
    guide = guide_for(bench, run.along, run.least, across - unsure)
    # Where nothing holds the piece every saw is told of as far as it reaches, and each cut counts.
    unheld = copies if regular == 0 and guide < 0 else 0
    if unheld:
        regular = all_shared(bench)
    long, beyond = 0, -1
    for i in range(kids):
        if rows[i, GROUP] == group and set_to(bench, regular, rows[i, SIZE]) == 0:
            long += 1
            if beyond < 0 or rows[i, SIZE] > rows[beyond, SIZE]:
                beyond = i
    waste = left - kerf
    at_waste = set_to(bench, regular, waste) if waste > 0 else 0
    # A panel beyond reach is what is left once all else is off, if that can be. What is left has
    # to be known for that: not where more may go with an unclean edge than has to. Then what is
    # over stays with it, and comes off its pieces.
    is_rest = carries = False
    # Not even a guide reaches there.
    reach = bench.tools[guide, MOST] if guide >= 0 else farthest(bench)
    is_forced = long > 0 and rows[beyond, SIZE] > reach
    if long > 0 and (bench.slip == 0 or is_forced):
        is_rest = left == 0 and rules.spares
        if left > 0 and guide >= 0 and is_far_unclean:
            carries = t[rows[beyond, NODE], NODE_KIND] == STRIP
        elif (long == 1 or is_forced) and waste > 0:
            is_rest = at_waste > 0 or guide < 0 or is_forced
    if not (is_rest or carries):
        beyond = -1
    short = across - unsure
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        if set_to(bench, regular, rows[i, SIZE]):
            continue
        guide = guide_for(bench, run.along, run.least, short)
        if guide >= 0 and rows[i, SIZE] > bench.tools[guide, MOST]:
            guide = -1
        if guide < 0:
            guide = guide_at_fault(bench, rows[i, SIZE])
            forest.sizes[UNSAFE] += copies if guide >= 0 else 0
        if guide >= 0:
            # A thin blade leaves more than the layout reckoned with.
            left += kerf - bench.tools[guide, BLADE]
            short -= rows[i, SIZE] + kerf
            k = divide_by_guide(forest, run, where, rows[i, SIZE], 0, guide, copies)
            depth = hand_on(t, forest, run, room.stack, depth, rows[i, NODE], k, clean_ends())
            where = -2 - int(forest.tasks[k, OWNER])
            rows[i, GROUP] = -1
            count -= 1
    guide = guide_for(bench, run.along, run.least, short)
    waste = left - kerf
    at_waste = set_to(bench, regular, waste) if waste > 0 else 0
    by_guide = left - bench.tools[guide, BLADE] if guide >= 0 else 0
    if is_rest and at_waste == 0 and 0 < by_guide <= bench.tools[guide, MOST]:
        # The guide takes the waste off from the far end first.
        waste = by_guide
        s = open_strip(forest, run.axis, 1 - run.flipped, where, WASTE)
        k = add_task(forest, s, waste, GUIDED, 0, copies)
        forest.tasks[k, BY_GUIDE], forest.tasks[k, OFF] = guide, is_far_unclean
        if by > 0:
            forest.tasks[by - 1, SPARES] = 0
        where, left, waste = -2 - s, 0, 0
    over = clean_ends()
    if carries:
        over = Ends(NONE, left, run.flipped, ONE, unsure, by)
    if count == 0:
        return depth
    if count == 1 and (left == 0 or carries):
        for i in range(kids):
            if rows[i, GROUP] == group:
                last = i
        node = rows[last, NODE]
        return hand_on(t, forest, run, room.stack, depth, node, where, over)
    is_spare = left == 0 and rules.spares and bench.slip == 0 and beyond < 0
    s = open_strip(forest, run.axis, run.flipped, where, SPARE if is_spare else WASTE)
    forest.strips[s, OVER] = left
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        tools = set_to(bench, regular, rows[i, SIZE])
        if tools == 0:
            tools = 1 << at_least_fault(bench, rows[i, SIZE])
            forest.sizes[UNSAFE] += copies
        else:
            forest.sizes[UNSAFE] += unheld
        k = add_task(forest, s, rows[i, SIZE], FIXED, tools, copies)
        depth = hand_on(t, forest, run, room.stack, depth, rows[i, NODE], k, clean_ends())
    if beyond >= 0:
        node = rows[beyond, NODE]
        depth = hand_on(t, forest, run, room.stack, depth, node, -2 - s, over)
        if not carries:
            if by > 0:
                # What is left has to be known: no more goes with the edge than has to.
                forest.tasks[by - 1, SPARES] = 0
            take_waste_off(forest, bench, s, regular, waste, is_far_unclean, copies, unheld)
    elif waste > 0 and not is_far_unclean and rules.frees and bench.slip == 0:
        for k in range(bench.tools.shape[0]):
            if waste < bench.tools[k, LEAST_WASTE]:
                at_waste &= ~(1 << k)
        if at_waste:
            add_task(forest, s, waste, OPTIONAL, at_waste, copies)
    return depth


@njit(cache=True, nogil=True)
def _divide(
    t: Ints,
    n: int,
    run: Run,
    ends: Ends,
    where: int,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
) -> int:
    """Write down how a piece is divided along an axis; ``ends`` tells of it along that."""
    rows, kerf, low = room.kids, bench.kerf, ends.low
    kids, spares = children_along(t, n, run.axis, kerf, rows)
    across, left = t[n, EXT + run.axis] - kerf + ends.far, spares + ends.far
    unclean, unsure, by = ends.unclean == 1, ends.unsure, ends.by
    regular = tools_for(bench, run.along, run.least, across)
    guide = guide_for(bench, run.along, run.least, across - unsure)
    is_split = regular == 0 and guide >= 0 and (kids > 1 or left > 0)
    more = 0
    if low > 0:
        more = _more_off(bench, run.along, run.least, across, spares)
        is_split = is_split and more == 0
    if low > 0 and not is_split:
        long = 0
        for i in range(kids):
            long += set_to(bench, regular, rows[i, SIZE]) == 0
        first = rows[0, NODE]
        if guide >= 0 and bench.slip == 0 and long > 0 and t[first, NODE_KIND] == STRIP:
            if kids == 1:
                both = Ends(low, left, NONE, ONE, unsure, by)
                return hand_on(t, forest, run, room.stack, depth, first, where, both)
            if long > 1:
                # The first panel takes the low end with it, and loses it piece by piece.
                k = divide_by_guide(forest, run, where, rows[0, SIZE], low, guide, copies)
                one = Ends(NONE, low, ONE, ONE, NONE, NONE)
                depth = hand_on(t, forest, run, room.stack, depth, first, k, one)
                where = -2 - int(forest.tasks[k, OWNER])
                rows[0, GROUP] = -1
                low = 0
        if low > 0:
            where = clean_edge(
                forest, bench, run.axis, run.along, run.least, low + across, low + more,
                spares - more, where, copies,
            )  # fmt: skip
            left -= more
            unsure += spares - more
            by = where + 1
    if not is_split:
        return _peel(
            t,
            bench,
            rules,
            copies,
            forest,
            room,
            depth,
            kids,
            0,
            run,
            left,
            unclean,
            unsure,
            by,
            where,
        )
    reach = bench.tools[guide, MOST]
    fit = min(largest_across(bench, run.along, run.least), reach)
    groups, placed, short = 0, 0, low + across - unsure
    is_far = kids > 1 and rows[0, SIZE] + low > reach
    if is_far:
        # What not even the guide can be set to is left once all else is off.
        rows[0, GROUP] = kids + 1
        placed = 1
    while placed < kids:
        groups += 1
        total, some = low - kerf, 0
        for i in range(kids):
            size = rows[i, SIZE]
            if rows[i, GROUP] == 0 and (some == 0 or total + kerf + size <= fit):
                rows[i, GROUP] = groups
                total += kerf + size
                placed += 1
                some += 1
        is_last = placed == kids and not is_far
        if is_last and low == 0 and (left == 0 or (total + left <= fit and groups > 1)):
            return _peel(
                t, bench, rules, copies, forest, room, depth, kids, groups, run, left, unclean,
                unsure, by, where,
            )  # fmt: skip
        if guide_for(bench, run.along, run.least, short) < 0:
            forest.sizes[UNSAFE] += copies
        short -= total + kerf
        left += kerf - bench.tools[guide, BLADE]
        k = divide_by_guide(forest, run, where, total - low, low, guide, copies)
        where = -2 - int(forest.tasks[k, OWNER])
        piece = run
        if low > 0:
            piece = Run(run.axis, run.along, run.least, ONE, run.other)
        depth = _peel(
            t,
            bench,
            rules,
            copies,
            forest,
            room,
            depth,
            kids,
            groups,
            piece,
            low,
            low > 0,
            NONE,
            NONE,
            k,
        )
        low = 0
    if is_far:
        depth = _peel(
            t, bench, rules, copies, forest, room, depth, kids, kids + 1, run, left, unclean,
            unsure, by, where,
        )  # fmt: skip
    return depth


@njit(cache=True, nogil=True)
def _more_off(bench: Bench, along: int, least: int, across: int, spares: int) -> int:
    """Return how much more has to go with an edge so that some device holds what is left.

    Nothing where it is held anyway, or with all that is to spare is not.
    """
    if not has_guide(bench) or tools_for(bench, along, least, across):
        return 0
    more = across - largest_across(bench, along, least)
    return int(more) if 0 < more <= spares else 0


@njit(cache=True, nogil=True)
def write_down(
    t: Ints,
    trims: Longs,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
) -> None:
    """Append the cuts of one sheet to the flat forest.

    Parameters
    ----------
    t
        The sheet's node table.
    trims
        What is unclean at the low and the high end of x, then of y; where one end is clean it is
        the low one.
    bench, rules
        The shop, and how the cuts are written down.
    copies
        Sheets that are cut so.
    forest, room
        What is written to, and room to work in.
    """
    stack, kerf = room.stack, bench.kerf
    if t[0, NODE_KIND] != ITEM and t[0, NODE_KIND] != STRIP:
        return
    x = Ends(trims[0], trims[1], NONE, int(trims[1] > 0), NONE, NONE)
    y = Ends(trims[2], trims[3], NONE, int(trims[3] > 0), NONE, NONE)
    depth = hand_on(t, forest, Run(NONE, NONE, NONE, NONE, y), stack, 0, 0, -1, x)
    while depth > 0:
        depth -= 1
        row = stack[depth]
        n, where = row[WHICH], row[WHERE]
        is_panel = t[n, NODE_KIND] == ITEM
        axis = int(t[n, ANGLE])
        if is_panel:
            axis = int(row[ENDS + LOW] + row[ENDS + UNCLEAN] > 0)
        own, other = read_ends(row, ENDS * axis), read_ends(row, ENDS * (1 - axis))
        along = t[n, EXT + 1 - axis] - kerf + other.low + other.far
        least = along - other.unsure
        if n == 0 and not is_panel and other.low > 0 and rules.whole:
            spares = slack_across(t, n, 1 - axis)
            more = 0
            child = t[n, FIRST]
            while child >= 0:
                size = int(t[child, EXT + axis] - kerf)
                rest = along - other.low
                more = max(more, _more_off(bench, size, size, rest, spares))
                child = t[child, NEXT]
            across = t[n, EXT + axis] - kerf + own.low + own.far
            off = other.low + more
            where = clean_edge(
                forest, bench, 1 - axis, across, across, along, off, spares - more, where, copies
            )
            along -= off
            least = along - (spares - more)
            other = Ends(
                NONE,
                other.far - more,
                other.flipped,
                other.unclean,
                spares - more,
                where + 1,
            )
        run = Run(axis, along, least, own.flipped, other)
        depth = _divide(t, n, run, own, where, bench, rules, copies, forest, room, depth)

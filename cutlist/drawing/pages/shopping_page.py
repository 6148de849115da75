"""The pages for the store trip: what to buy, what it costs and weighs, what the store's saw cuts.

They are read at arm's length beside a trolley: their lettering is larger than that of the others.
Where the store cuts, the pieces to be taken home are listed, to be checked and told apart.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import groupby
from typing import TYPE_CHECKING, Final

from cutlist.drawing.frame import Flow, add_note
from cutlist.drawing.pages.figures import add_figures
from cutlist.drawing.pages.store_page import add_store_cuts
from cutlist.drawing.pages.table import Column, add_table, without_empty
from cutlist.ledger.charges import store_charge
from cutlist.ledger.shopping import bought_kg, shopping
from cutlist.ledger.taken_home import taken_home
from cutlist.model.plan import Place
from cutlist.telling.take_home import home_title, mind_words, side_words
from cutlist.telling.weights import (
    basis_words,
    heavy_rows,
    limit_words,
    offcut_words,
    stock_names,
    trip_words,
    unknown_weights,
    weight_words,
)
from cutlist.telling.wording import counted, money, piece_size
from cutlist.units.lengths import format_size, format_thickness

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.shopping import Shopping
    from cutlist.ledger.taken_home import Taken
    from cutlist.model.plan import Plan

__all__ = ["shopping_pages"]

#: Lettering of what is read at the store, pt, and of heads and notes beside it.
_LARGE: Final = 12.0
_NOTE: Final = 9.5
#: Trips, pieces or rows of heavy things beyond which they are set smaller.
_MANY: Final = 12
#: How much of the gaps between the lists is left where that spares a page.
_CLOSE: Final = 0.6
#: So many names with boxes to tick stand on one line.
_FEW: Final = 3
#: So many pieces that are alike have a box each.
_EACH: Final = 8


def shopping_pages(ledger: Ledger, paper: Paper) -> tuple[Page, ...]:
    """Compose the pages; none where nothing is bought and nothing is heavy.

    What is bought and taken home comes first, then each sheet as the store cuts it: on pages of
    their own, to be handed over the counter, unless one page holds it all.
    """
    plan = ledger.plan
    if not plan.buy and not heavy_rows(ledger):
        return ()
    if not any(setting.place is Place.STORE for setting in plan.settings):
        flow = Flow(paper, "Shopping list" if plan.buy else "Heavy pieces")
        _add_shopping(flow, ledger, is_cut=False)
        return flow.finish()
    flow = Flow(paper, "Store trip")
    _add_shopping(flow, ledger, is_cut=True)
    add_store_cuts(flow, ledger)
    together = flow.finish()
    if len(together) == 1:
        return together
    home = min((_home(ledger, paper, spread) for spread in (1.0, _CLOSE)), key=len)
    saw = Flow(paper, "Store trip: for the store's saw")
    add_store_cuts(saw, ledger)
    return (*home, *saw.finish())


def _home(ledger: Ledger, paper: Paper, spread: float) -> tuple[Page, ...]:
    """Compose what is bought and taken home, with so much of the gaps between the lists."""
    flow = Flow(paper, "Store trip: what to buy and take home", spread)
    _add_shopping(flow, ledger, is_cut=True)
    return flow.finish()


def _add_shopping(flow: Flow, ledger: Ledger, *, is_cut: bool) -> None:
    """Add what is bought, carried and lifted."""
    plan = ledger.plan
    if plan.buy:
        sums = shopping(ledger)
        _add_figures(flow, ledger, sums)
        _add_sheets(flow, plan)
        if is_cut:
            _add_pieces(flow, ledger)
        _add_trips(flow, ledger, is_listed=is_cut)
        add_note(flow, offcut_words(sums, plan), _NOTE, gap=4.0)
    _add_heavy(flow, plan, heavy_rows(ledger))
    add_note(flow, basis_words(plan), _NOTE, gap=3.0)


def _add_figures(flow: Flow, ledger: Ledger, sums: Shopping) -> None:
    """Put what is paid, what is carried and how often side by side."""
    plan = ledger.plan
    count = counted(plan.totals.sheets, "sheet")
    boxes: list[tuple[str, str, tuple[str, ...]]] = []
    if any(line.price_each is not None for line in plan.buy):
        boxes.append(("to pay", money(sums.total or plan.totals.cost), _bill(plan, sums)))
    else:
        boxes.append(("sheets to buy", str(plan.totals.sheets), ("no prices given",)))
    if sums.kg is None:
        figure, first = "not known", f"no weight for {', '.join(unknown_weights(ledger))}"
    else:
        figure, first = weight_words(sums.kg, plan.job.units), count
    notes = tuple(words for words in (first, trip_words(plan)) if words)
    boxes.append(("to carry", figure, notes))
    add_figures(flow, boxes, size_pt=_NOTE)


def _bill(plan: Plan, sums: Shopping) -> tuple[str, ...]:
    """Say what the sum is made of."""
    sheets = sum((line.cost for line in plan.buy), Decimal(0))
    lines = [f"{money(sheets)} for {counted(plan.totals.sheets, 'sheet')}"]
    if plan.totals.cost > sheets:
        lines.append(f"{money(plan.totals.cost - sheets)} for the store's cuts")
    if sums.tax is None:
        lines.append("tax not reckoned")
    else:
        lines.append(f"{money(sums.tax)} tax, {plan.job.tax_percent} %")
    return tuple(lines)


def _add_sheets(flow: Flow, plan: Plan) -> None:
    units = plan.job.units
    rows: list[tuple[str, ...]] = []
    weights = [bought_kg(plan, line.sheet) for line in plan.buy]
    # Where none is known, the box above says so: a column of it would take room from the names.
    unknown = "not known" if any(weights) else ""
    for line, kg in zip(plan.buy, weights, strict=True):
        rows.append(
            (
                str(line.count),
                line.sheet,
                f"{line.material} {format_thickness(line.thickness, units)}",
                format_size(line.length, line.width, units),
                "" if line.price_each is None else money(line.price_each),
                "" if line.price_each is None else money(line.cost),
                unknown if kg is None else weight_words(kg / line.count, units),
            )
        )
    columns = [
        Column("count", right=True, bold=True),
        Column("sheet", bold=True, flexible=True),
        Column("material", flexible=True),
        Column("size"),
        Column("each", right=True),
        Column("cost", right=True),
        Column("weight each", right=True),
    ]
    add_table(flow, *without_empty(columns, rows), title="To buy", size_pt=_LARGE, head_pt=_NOTE)


def _add_pieces(flow: Flow, ledger: Ledger) -> None:
    """List what is taken home, by material and size, with what tells like sizes apart."""
    taken = taken_home(ledger)
    size = _LARGE if len(taken) <= _MANY else _NOTE
    for _, alike in groupby(taken, key=lambda one: one.kind):
        _add_pieces_of(flow, ledger, list(alike), size)


def _add_pieces_of(flow: Flow, ledger: Ledger, taken: Sequence[Taken], size: float) -> None:
    """List the pieces of one material."""
    plan = ledger.plan
    rows = [
        (
            _names_to_tick(one),
            piece_size(one.piece, plan.job),
            ", ".join(str(number) for number in one.trips) if len(plan.trips) > 1 else "",
            "" if one.kg is None else weight_words(one.kg, plan.job.units),
            mind_words(ledger, one, taken),
        )
        for one in taken
    ]
    columns = (
        Column(
            "name",
            bold=True,
            flexible=any(_FEW < len(one.names) <= _EACH for one in taken),
            ticks=True,
        ),
        Column(f"size, {side_words(taken, plan.job)} first", bold=True),
        Column("trip", right=True),
        Column("weight each", right=True),
        Column("mind", flexible=True),
    )
    title = home_title(taken, plan.job)
    add_table(flow, *without_empty(columns, rows), title=title, size_pt=size, head_pt=_NOTE)


def _names_to_tick(one: Taken) -> str:
    """Give names that have a box each, or one box for the many that are alike."""
    if len(one.names) <= _EACH:
        return " ".join(one.names)
    return f"{len(one.names)} × {one.names[0]} … {one.names[-1]}".replace(" ", "\u00a0")


def _add_trips(flow: Flow, ledger: Ledger, *, is_listed: bool) -> None:
    """List the trips where it takes more than one.

    What the pieces are is said there where they are not listed anyway.
    """
    plan = ledger.plan
    if len(plan.trips) < 2:
        return
    stock = stock_names(ledger)
    columns = (
        Column("trip", right=True, bold=True),
        Column("pieces, as marked on the layouts", bold=True, flexible=True),
        Column("in all") if is_listed else Column("what they are", flexible=True),
        *([Column("sheets cut on it", flexible=True)] if is_listed else []),
        Column("weight", right=True),
    )
    rows: list[tuple[str, ...]] = []
    cut_on = [", ".join(letters) for letters, _ in store_charge(ledger).trips]
    for number, trip in enumerate(plan.trips, start=1):
        what = dict.fromkeys(stock[name] for name in trip.pieces)
        said = counted(len(trip.pieces), "piece") if is_listed else ", ".join(what)
        weight = weight_words(trip.kg, plan.job.units)
        cut = (cut_on[number - 1] or "none",) if is_listed else ()
        rows.append((str(number), ", ".join(trip.pieces), said, *cut, weight))
    size = _LARGE if len(rows) <= _MANY else _NOTE
    add_table(flow, columns, rows, title="Trips", size_pt=size, head_pt=_NOTE)


def _add_heavy(flow: Flow, plan: Plan, rows: list[tuple[str, str, str, str]]) -> None:
    if not rows:
        return
    columns = (
        Column("piece", bold=True, flexible=True),
        Column("what it is", flexible=True),
        Column("weight", right=True),
        Column("to lift it", bold=True, flexible=True),
    )
    size = _LARGE if len(rows) <= _MANY else _NOTE
    add_table(flow, columns, rows, title="Not for one person alone", size_pt=size, head_pt=_NOTE)
    add_note(flow, limit_words(plan.job.units), _NOTE, gap=2.0)

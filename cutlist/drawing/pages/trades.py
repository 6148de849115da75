"""What a sheet more would spare: cost against set-ups, a bar for each plan that was found."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.primitives import Box, Fill, Item, Rect, Text
from cutlist.telling.wording import counted, trade_money, trade_setups

if TYPE_CHECKING:
    from cutlist.drawing.frame import Flow
    from cutlist.model.plan import Plan, Trade

__all__ = ["add_trades"]

_STEP: Final = 5.4
_BAR: Final = 3.0
_GAP: Final = 4.0
_HEAD: Final = 6.6


def add_trades(flow: Flow, plan: Plan) -> None:
    """Add a bar for each plan of the trade, as long as it has set-ups; none for a single plan."""
    if len(plan.trades) < 2:
        return
    rows = [
        (", ".join([counted(trade.sheets, "sheet"), *trade_money(trade, plan)]), _set(trade), trade)
        for trade in plan.trades
    ]
    left = max(text_width(words, theme.BODY, True) for words, _, _ in rows) + _GAP
    right = max(text_width(words, theme.BODY, True) for _, words, _ in rows) + _GAP / 2
    most = max(trade.setups for trade in plan.trades)
    scale = (flow.room.width - left - right) / max(1, most)
    items: list[Item] = [Text(0, 4, "Sheets against set-ups", theme.HEADING, True)]
    y = _HEAD
    for bought, setups, trade in rows:
        bar = Box(left, y + (_STEP - _BAR) / 2, trade.setups * scale, _BAR)
        fill = Fill.BLACK if trade.is_chosen else Fill.NONE
        baseline = y + (_STEP + cap_height(theme.BODY)) / 2
        items += [
            Text(0, baseline, bought, theme.BODY, trade.is_chosen),
            Rect(bar, theme.FINE, fill),
            Text(bar.right + _GAP / 2, baseline, setups, theme.BODY, trade.is_chosen),
        ]
        y += _STEP
    flow.add(items, y + 1.0, gap=_GAP)


def _set(trade: Trade) -> str:
    setups = trade_setups(trade)
    return f"{setups}: this plan" if trade.is_chosen else setups

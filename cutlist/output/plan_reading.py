"""``plan.json`` back to the plan, exactly."""

from __future__ import annotations

import json
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from cutlist.errors import PlanFileError
from cutlist.model.edges import Edge, EdgeTrims
from cutlist.model.job import Job
from cutlist.model.matches import Matched
from cutlist.model.plan import (
    Bounds,
    Cut,
    Direction,
    Leftover,
    Panel,
    Piece,
    Place,
    Plan,
    Purchase,
    Purpose,
    SawSetup,
    Shortfall,
    Totals,
    Trade,
    Workpiece,
)
from cutlist.model.sawing import Caution, Device, Hazard, SizeCheck, SizeDoubt
from cutlist.model.weights import Lift, Trip, Weight
from cutlist.output.plan_json import EDGE_KEYS, FORMAT, UNSAFE
from cutlist.output.values import from_plain

if TYPE_CHECKING:
    from collections.abc import Iterable

__all__ = ["from_document", "read_plan"]

_EDGES: Final = {key: edge for edge, key in EDGE_KEYS.items()}
#: How far a number may be from a multiple of the step: doubles carry some 15 figures.
_ROUNDING: Final = Fraction(1, 1000)


def read_plan(path: Path | str) -> Plan:
    """Read a ``plan.json`` again; the plan equals the one that was written.

    Raises
    ------
    PlanFileError
        If the file cannot be read, is of another format, or lacks something.
    """
    file = str(path)
    try:
        text = Path(path).read_text(encoding="utf-8")
    except OSError as error:
        raise PlanFileError(file, error.strerror or "cannot be read") from error
    except UnicodeDecodeError as error:
        raise PlanFileError(file, "is not UTF-8") from error
    try:
        document = json.loads(text, parse_float=Decimal)
    except (ValueError, RecursionError) as error:
        raise PlanFileError(file, f"is not JSON: {error}") from error
    return from_document(document, file)


def from_document(document: Any, file: str = "plan.json") -> Plan:
    """Turn the content of a ``plan.json`` into the plan.

    Parameters
    ----------
    document
        As JSON gives it, numbers with a point as :class:`~decimal.Decimal` or float.
    file
        What an error names.

    Raises
    ------
    PlanFileError
        If it is of another format, or lacks something.
    """
    found = document.get("format") if isinstance(document, dict) else None
    if found != FORMAT:
        if isinstance(found, str) and found.startswith("cutlist-plan/"):
            message = f"is of the format {found}, {FORMAT} is read: plan the job anew"
        else:
            message = f"is no plan: {FORMAT} is read"
        raise PlanFileError(file, message)
    try:
        return _Reader(document).plan()
    except KeyError as error:
        raise PlanFileError(file, f"lacks {error.args[0]}") from error
    except (ValueError, TypeError, AttributeError, ArithmeticError) as error:
        raise PlanFileError(file, f"holds something that no plan does: {error}") from error


class _Reader:
    """Reads one document; numbers become exact multiples of its step."""

    def __init__(self, document: dict[str, Any]) -> None:
        self._document = document
        self._step = Fraction(document["step"])
        if self._step <= 0:
            raise ValueError(f"a step of {self._step}")

    def plan(self) -> Plan:
        """Read all of it."""
        document = self._document
        told = document["job"]
        job: Job = from_plain(
            Job, {**told["content"], "sha256": told["sha256"], "text": told["text"]}
        )
        workpieces = tuple(self._workpiece(item) for item in document["workpieces"])
        panels = tuple(self._panel(item) for item in document["panels"])
        leftovers = tuple(self._leftover(item) for item in document["offcuts"])
        return Plan(
            job=job,
            buy=tuple(self._purchase(item) for item in document["buy"]),
            totals=self._totals(document["totals"], workpieces, panels, leftovers),
            bounds=_bounds(document["bounds"]),
            workpieces=workpieces,
            setups=tuple(self._setup(item) for item in document["settings"]),
            panels=panels,
            leftovers=leftovers,
            matches=tuple(self._matched(item) for item in document.get("matches", ())),
            short=tuple(
                Shortfall(item["part"], item["count"]) for item in document.get("short", ())
            ),
            trades=tuple(_trade(item) for item in document.get("trades", ())),
            weights=tuple(
                Weight(item["piece"], Fraction(item["kg"]), Lift(item["lift"]))
                for item in document.get("weights", ())
            ),
            trips=tuple(
                Trip(tuple(item["pieces"]), Fraction(item["kg"]))
                for item in document.get("trips", ())
            ),
        )

    def _length(self, number: int | float | Decimal) -> Fraction:
        steps = Fraction(number) / self._step
        whole = round(steps)
        if abs(steps - whole) > _ROUNDING:
            raise ValueError(f"{number} is no multiple of the step {self._step}")
        return whole * self._step

    def _piece(self, item: dict[str, Any]) -> Piece:
        sides = (self._length(item[key]) for key in ("x", "y", "length", "width"))
        return Piece(item["piece"], *sides)

    def _purchase(self, item: dict[str, Any]) -> Purchase:
        return Purchase(
            sheet=item["sheet"],
            material=item["material"],
            thickness=self._length(item["thickness"]),
            length=self._length(item["length"]),
            width=self._length(item["width"]),
            count=item["count"],
            price_each=None if item["price_each"] is None else _money(item["price_each"]),
            cost=_money(item["cost"]),
        )

    def _workpiece(self, item: dict[str, Any]) -> Workpiece:
        told = item.get("edges")
        edges = None
        if told is not None:
            edges = EdgeTrims(*(self._length(told[edge.value]) for edge in Edge))
        return Workpiece(
            piece=item["piece"],
            stock=item["sheet"],
            bought=item["from"] == "buy",
            material=item["material"],
            thickness=self._length(item["thickness"]),
            length=self._length(item["length"]),
            width=self._length(item["width"]),
            trim=self._length(item["trim"]),
            edges=edges,
            has_grain=item.get("grain") != "none",
        )

    def _setup(self, item: dict[str, Any]) -> SawSetup:
        return SawSetup(
            number=item["number"],
            place=Place(item["place"]),
            tool=item["tool"],
            distance=self._length(item["distance"]),
            mark=self._length(item["mark"]),
            device=Device(item["device"]),
            kerf=self._length(item["kerf"]),
            cuts=tuple(self._cut(cut) for cut in item["cuts"]),
        )

    def _cut(self, item: dict[str, Any]) -> Cut:
        told = item["cautions"]
        hazards = tuple(Hazard(one.removeprefix(UNSAFE)) for one in told if one.startswith(UNSAFE))
        cautions = [Caution(one) for one in told if not one.startswith(UNSAFE)]
        check = item.get("check")
        return Cut(
            number=item["number"],
            piece=item["piece"],
            direction=Direction(item["direction"]),
            purpose=Purpose(item["purpose"]),
            kept=self._piece(item["kept"]),
            rest=self._piece(item["rest"]) if "rest" in item else None,
            rides=_edge(item["rides"]),
            cautions=tuple([Caution.UNSAFE] * bool(hazards) + cautions),
            hazards=hazards,
            takes_off=_edge(item.get("takes_off")),
            check=None if check is None else self._check(check),
        )

    def _check(self, item: dict[str, Any]) -> SizeCheck:
        size, doubt = self._length(item["size"]), SizeDoubt(item["doubt"])
        return SizeCheck(size, doubt, _edge(item.get("mark_from")))

    def _panel(self, item: dict[str, Any]) -> Panel:
        return Panel(item["part"], item["copy"], self._piece(item), item["turned"])

    def _leftover(self, item: dict[str, Any]) -> Leftover:
        thickness = self._length(item["thickness"])
        return Leftover(self._piece(item), item["material"], thickness, item["keep"])

    def _matched(self, item: dict[str, Any]) -> Matched:
        return Matched(
            name=item["name"],
            distance=self._length(item["distance"]),
            panels=item["panels"],
            settings=tuple(item["settings"]),
            unset=item["unset"],
            guided=tuple(item["guided"]),
        )

    def _totals(
        self,
        item: dict[str, Any],
        workpieces: Iterable[Workpiece],
        panels: Iterable[Panel],
        leftovers: Iterable[Leftover],
    ) -> Totals:
        """Read the totals; areas and the share of waste are added up anew, to be exact."""
        part_area = _area(panel.piece for panel in panels)
        sheet_area = _area(workpieces)
        kept_area = _area(left.piece for left in leftovers if left.keep)
        waste = 100 * (sheet_area - part_area - kept_area) / sheet_area
        return Totals(
            sheets=item["sheets"],
            cost=_money(item["cost"]),
            setups=item["setups"],
            setups_by_device=tuple(
                (Device(device), count) for device, count in item["setups_by_device"].items()
            ),
            store_setups=item["store_setups"],
            minutes=_minutes(item["minutes"]),
            cuts=item["cuts"],
            parts=item["parts"],
            part_area=part_area,
            sheet_area=sheet_area,
            kept_offcut_area=kept_area,
            waste_percent=waste,
        )


def _area(items: Iterable[Piece | Workpiece]) -> Fraction:
    return sum((item.length * item.width for item in items), Fraction(0))


def _edge(key: str | None) -> Edge | None:
    return None if key is None else _EDGES[key]


def _money(value: int | float | Decimal) -> Decimal:
    return value if isinstance(value, Decimal) else Decimal(str(value))


def _minutes(value: int | float | Decimal) -> Fraction:
    """Read a time, which a job gives as a decimal number, exactly."""
    return Fraction(str(value))


def _bounds(item: dict[str, Any]) -> Bounds:
    return Bounds(
        cost=_money(item["cost"]),
        cost_proven=item["cost_proven"],
        sheets=item["sheets"],
        setups=item["setups"],
        setups_proven=item["setups_proven"],
        order=item["order"],
    )


def _trade(item: dict[str, Any]) -> Trade:
    return Trade(
        item["sheets"],
        _money(item["cost"]),
        item["setups"],
        item["chosen"],
        _minutes(item["minutes"]),
    )

"""Reading the keys of one mapping of the job file."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final, Generic, TypeVar

from cutlist.errors import FaultCode, LengthError
from cutlist.reading.faults import closest
from cutlist.reading.fields import Given, RefusedError, code_of
from cutlist.reading.keys import Below, Each, Example, Key, Keys
from cutlist.reading.kinds import TRUTH
from cutlist.reading.nodes import Items, Node, Refused, Scalar, Table
from cutlist.reading.places import Spot
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from cutlist.reading.faults import Faults

T = TypeVar("T")

#: Keys that come to mind first, and the key that is meant.
_MEANT: Final = {
    "amount": "qty",
    "blade": "kerf",
    "boards": "sheets",
    "cost": "price",
    "count": "qty",
    "dimensions": "size",
    "fence": "max_rip",
    "height": "size",
    "items": "parts",
    "length": "size",
    "number": "qty",
    "opening": "second_opening",
    "panels": "parts",
    "pieces": "qty",
    "quantity": "qty",
    "scraps": "offcuts",
    "stock": "sheets",
    "title": "job",
    "van": "vehicle",
    "width": "size",
}


@dataclass(frozen=True, slots=True)
class Found(Generic[T]):
    """What was found for a key.

    ``value`` is None where the key is left out (``given`` is False) or where its value is wrong,
    which has been reported then.
    """

    spot: Spot
    value: T | None = None
    given: bool = False

    @property
    def is_wrong(self) -> bool:
        """Whether something stands there that could not be read."""
        return self.given and self.value is None

    def sure(self) -> T:
        """Give the value of a key that must be there, once no fault was found."""
        assert self.value is not None
        return self.value

    def or_else(self, default: T) -> T:
        """Give the value, or ``default`` where the key is left out."""
        return default if self.value is None else self.value


class Section:
    """One mapping; unknown, repeated and unreadable keys are reported when it is made.

    Parameters
    ----------
    node
        What stands there; anything but a mapping is reported, and read as an empty one.
    path
        Key path of the mapping, empty for the top of the file.
    keys
        Every key that it may have.
    """

    def __init__(self, node: Node, path: str, keys: Keys, faults: Faults) -> None:
        self.spot = Spot(node.mark, path)
        self._faults = faults
        self._elsewhere = keys.elsewhere
        self._values: dict[str, Node] = {}
        #: Keys whose absence needs no word: the mapping itself or their spelling is reported.
        self._excused: set[str] = set()
        names = keys.names
        if isinstance(node, Table):
            self._take(node, names)
        else:
            self._excused.update(names)
            if not isinstance(node, Refused):
                where = path or "the file"
                message = f"{where} is made of keys with values, not {_kind(node)}"
                spot = Spot(node.mark, path, _text(node))
                faults.at(spot, FaultCode.WRONG_SHAPE, message, f"{names[0]}: …")

    def _take(self, table: Table, names: Sequence[str]) -> None:
        unknown: list[tuple[Scalar, str]] = []
        for key, value in table.pairs:
            if not isinstance(key, Scalar) or key.is_null:
                if not isinstance(key, Refused):
                    spot = Spot(key.mark, self.spot.path, _text(key))
                    message = "a key is a plain word"
                    self._faults.at(spot, FaultCode.WRONG_SHAPE, message, ", ".join(names))
            elif key.text not in names:
                unknown.append((key, key.text))
            elif key.text in self._values:
                first = self._values[key.text].mark.line
                spot = Spot(key.mark, self._path(key.text), key.text)
                message = f"the key {key.text} stands here already, in line {first}"
                self._faults.at(spot, FaultCode.REPEATED_KEY, message, "each key once")
            else:
                self._values[key.text] = value
        for key, word in unknown:
            self._refuse_key(key, word, names)

    def _refuse_key(self, key: Scalar, word: str, names: Sequence[str]) -> None:
        spot = Spot(key.mark, self._path(word), word)
        if word[:1].isdigit():
            # ``{size: 82 x 21,75}``: in a mapping on one line a comma ends the value.
            message = "a decimal is written with a point: a comma ends the value before it"
            self._faults.at(spot, FaultCode.UNKNOWN_KEY, message, "82 x 21.75 or 82 x 21 3/4")
            return
        other = self._elsewhere
        if other is not None and word in other.keys.names:
            message, hint = (
                f"there is no key {word!r} here",
                f"this key in an entry of {other.name}",
            )
            self._faults.at(spot, FaultCode.UNKNOWN_KEY, message, hint)
            return
        meant = closest(word, names) or _MEANT.get(word.casefold())
        if meant not in names:
            meant = None
        hint = f"one of {', '.join(names)}" if meant is None else f"did you mean {meant}?"
        if meant is not None and meant not in self._values:
            self._excused.add(meant)
        self._faults.at(spot, FaultCode.UNKNOWN_KEY, f"there is no key {word!r} here", hint)

    def _path(self, name: str) -> str:
        return f"{self.spot.path}.{name}" if self.spot.path else name

    def _look(self, name: str, needed: Example | None, units: Units) -> tuple[Node | None, Spot]:
        """Give a key's node, None if it has none, and its place."""
        path = self._path(name)
        node = self._values.get(name)
        if node is not None:
            return node, Spot(node.mark, path, _text(node))
        spot = Spot(self.spot.mark, path)
        if needed is not None and name not in self._excused:
            example = needed if isinstance(needed, str) else needed[units]
            self._report(spot, FaultCode.MISSING_KEY, f"the key {name} is missing", example)
        return None, spot

    def node(self, name: str) -> Node | None:
        """Give what stands under a key, for one that may take several shapes."""
        return self._values.get(name)

    def get(self, key: Key[T], units: Units) -> Found[T]:
        """Read a single value or a size."""
        return self.get_with(key.kind.read(units), key, units)

    def get_with(self, how: Callable[[Any], T], key: Key[Any], units: Units) -> Found[T]:
        """Read a single value, or a size, by another function than that of its kind."""
        node, spot = self._look(key.name, key.needed, units)
        if node is None:
            return Found(spot, given=key.name in self._excused or key.needed is not None)
        if key.may_be_none and _says_none(node):
            return Found(spot)
        return self._single(node, spot, how, key)

    def get_each(self, key: Key[T], units: Units) -> Found[tuple[T, ...]]:
        """Read one value, or a list of them; ``none`` comes as a value that is left out."""
        node = self._values.get(key.name)
        if not isinstance(node, Items) or (key.kind.is_size and _is_size(node)):
            one = self.get(key, units)
            value = None if one.value is None else (one.value,)
            return Found(one.spot, value, one.given)
        spot = Spot(node.mark, self._path(key.name), _text(node))
        if len(node.items) > key.most:
            message = "these are more than are read"
            self._report(spot, FaultCode.TOO_MANY, message, f"at most {key.most}")
            return Found(spot, given=True)
        how = key.kind.read(units)
        found = [
            self._single(item, Spot(item.mark, f"{spot.path}[{number}]", _text(item)), how, key)
            for number, item in enumerate(node.items, 1)
        ]
        values = tuple(one.value for one in found if one.value is not None)
        return Found(spot, values if len(values) == len(found) else None, given=True)

    def _single(self, node: Node, spot: Spot, how: Callable[[Any], T], key: Key[Any]) -> Found[T]:
        kind = key.kind
        if isinstance(node, Scalar) and not node.is_null:
            return self._try(spot, how, key, node)
        if kind.is_size and isinstance(node, Items):
            scalars = [item for item in node.items if isinstance(item, Scalar)]
            if len(scalars) == len(node.items):
                return self._try(spot, how, key, scalars)
        if isinstance(node, Scalar):
            accepted = _accepted(key)
            self._report(spot, FaultCode.MISSING_VALUE, "the value is missing", accepted)
        elif not isinstance(node, Refused):
            message = f"one value is wanted here, not {_kind(node)}"
            self._report(spot, FaultCode.WRONG_SHAPE, message, _accepted(key))
        return Found(spot, given=True)

    def get_or_below(self, key: Key[T], units: Units) -> tuple[Found[T], Section | None]:
        """Read a key that holds a single value or keys; of the two one is left open."""
        node = self._values.get(key.name)
        if isinstance(node, Table) and isinstance(key.or_else, Keys):
            spot = Spot(node.mark, self._path(key.name), _text(node))
            return Found(spot), Section(node, spot.path, key.or_else, self._faults)
        return self.get(key, units), None

    def _try(
        self, spot: Spot, how: Callable[[Any], T], key: Key[Any], node: Scalar | list[Scalar]
    ) -> Found[T]:
        try:
            if isinstance(node, list):
                return Found(spot, how([_given(one, key) for one in node]), given=True)
            return Found(spot, how(_given(node, key)), given=True)
        except (RefusedError, LengthError) as error:
            self._report(spot, code_of(error), error.problem, error.accepted)
            return Found(spot, given=True)

    def below(self, key: Below, units: Units, *, is_needed: bool = False) -> Section | None:
        """Give the mapping under a key; None where it is left out.

        ``is_needed`` tells that it may not be, though in other jobs it may.
        """
        node, spot = self._look(key.name, key.needed if is_needed else None, units)
        return None if node is None else Section(node, spot.path, key.keys, self._faults)

    def each(self, key: Each) -> Found[tuple[Section, ...]]:
        """Give the mappings of the list under a key; paths count the entries from 1.

        A key without a value counts as an empty list.
        """
        node, spot = self._look(key.name, None, Units.INCH)
        if node is None or isinstance(node, Refused):
            return Found(spot, given=node is not None or key.name in self._excused)
        if isinstance(node, Scalar) and node.is_null:
            return Found(spot, (), given=True)
        if not isinstance(node, Items):
            message = f"{key.name} is a list, not {_kind(node)}"
            self._report(spot, FaultCode.WRONG_SHAPE, message, "entries that start with -")
            return Found(spot, given=True)
        sections = (
            Section(item, f"{spot.path}[{number}]", key.keys, self._faults)
            for number, item in enumerate(node.items, 1)
        )
        return Found(spot, tuple(sections), given=True)

    def _report(self, spot: Spot, code: FaultCode, message: str, accepted: str) -> None:
        self._faults.at(spot, code, message, accepted)


def _given(node: Scalar, key: Key[Any]) -> Given:
    """Give what is read: the exact number where there is one that the key takes, else the text."""
    if node.exact is not None and node.unit == key.kind.takes:
        return node.exact
    if node.unit == TRUTH:
        problem = f"{node.text} stands for nothing here"
        raise RefusedError(problem, _accepted(key), FaultCode.WRONG_TYPE)
    return node.text.strip()


def _is_size(node: Items) -> bool:
    """Tell whether a list is one size, of two lengths, and not a list of sizes."""
    return all(isinstance(one, Scalar) and not re.search("[xX×]", one.text) for one in node.items)


def _accepted(key: Key[Any]) -> str:
    """Give what may stand there, for where something of another shape does."""
    if isinstance(key.or_else, Keys):
        return f"a value, or {{{key.or_else.names[0]}: a value}}"
    what, otherwise = ("LENGTH x WIDTH", "") if key.kind.is_size else ("a value", "no key")
    otherwise = "none" if key.may_be_none else otherwise
    return f"{what}, or {otherwise}" if otherwise else what


def _says_none(node: Node) -> bool:
    return isinstance(node, Scalar) and bool(node.text) and (node.text == "none" or node.is_null)


def _kind(node: Node) -> str:
    if isinstance(node, Items):
        return "a list"
    if isinstance(node, Scalar) and node.is_null:
        return "nothing"
    return "keys with values" if isinstance(node, Table) else "a single value"


def _text(node: Node) -> str:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Items):
        return f"[{', '.join(map(_text, node.items[:4]))}]"
    return "{…}" if isinstance(node, Table) else ""

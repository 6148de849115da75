"""Reading the keys of one mapping of the job file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Generic, TypeVar

from cutlist.errors import LengthError
from cutlist.reading.faults import closest
from cutlist.reading.fields import RefusedError
from cutlist.reading.nodes import Items, Node, Refused, Scalar, Table
from cutlist.reading.places import Mark

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from cutlist.reading.faults import Faults

S = TypeVar("S")
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
class Spot:
    """Where a value stands: its mark, its key path, and its text as found."""

    mark: Mark
    path: str
    text: str = ""


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

    def __init__(self, node: Node, path: str, keys: Sequence[str], faults: Faults) -> None:
        self.spot = Spot(node.mark, path)
        self._faults = faults
        self._values: dict[str, Node] = {}
        #: Keys whose absence needs no word: the mapping itself or their spelling is reported.
        self._excused: set[str] = set()
        if isinstance(node, Table):
            self._take(node, keys)
        else:
            self._excused.update(keys)
            if not isinstance(node, Refused):
                where = path or "the file"
                message = f"{where} is made of keys with values, not {_kind(node)}"
                faults.add(node.mark, path, _text(node), message, f"{keys[0]}: …")

    def _take(self, table: Table, keys: Sequence[str]) -> None:
        unknown: list[tuple[Scalar, str]] = []
        for key, value in table.pairs:
            if not isinstance(key, Scalar) or key.is_null:
                if not isinstance(key, Refused):
                    message = "a key is a plain word"
                    self._faults.add(key.mark, self.spot.path, _text(key), message, ", ".join(keys))
            elif key.text not in keys:
                unknown.append((key, key.text))
            elif key.text in self._values:
                first = self._values[key.text].mark.line
                message = f"the key {key.text} stands here already, in line {first}"
                self._faults.add(key.mark, self._path(key.text), key.text, message, "each key once")
            else:
                self._values[key.text] = value
        for key, word in unknown:
            self._refuse_key(key, word, keys)

    def _refuse_key(self, key: Scalar, word: str, keys: Sequence[str]) -> None:
        if word[:1].isdigit():
            # ``{size: 82 x 21,75}``: in a mapping on one line a comma ends the value.
            message = "a decimal is written with a point: a comma ends the value before it"
            accepted = "82 x 21.75 or 82 x 21 3/4"
            self._faults.add(key.mark, self._path(word), word, message, accepted)
            return
        meant = closest(word, keys) or _MEANT.get(word.casefold())
        if meant not in keys:
            meant = None
        hint = f"one of {', '.join(keys)}" if meant is None else f"did you mean {meant}?"
        if meant is not None and meant not in self._values:
            self._excused.add(meant)
        self._faults.add(key.mark, self._path(word), word, f"there is no key {word!r} here", hint)

    def node(self, key: str) -> Node | None:
        """Give what stands under a key, for one that may take several shapes."""
        return self._values.get(key)

    def _path(self, key: str) -> str:
        return f"{self.spot.path}.{key}" if self.spot.path else key

    def _look(self, key: str, required: str | None) -> tuple[Node | None, Spot, bool]:
        """Give a key's node (None: it has none), its place, and whether it ought to be there."""
        path = self._path(key)
        node = self._values.get(key)
        if node is not None:
            return node, Spot(node.mark, path, _text(node)), True
        spot = Spot(self.spot.mark, path)
        if key in self._excused:
            return None, spot, True
        if required is not None:
            self._report(spot, f"the key {key} is missing", required)
        return None, spot, required is not None

    def value(
        self,
        key: str,
        read: Callable[[str], T],
        *,
        required: str | None = None,
        none: bool = False,
    ) -> Found[T]:
        """Read a single value.

        Parameters
        ----------
        read
            Turns the text into the value; raises `RefusedError` or `LengthError`.
        required
            An example to show where the key is missing; None where it may be left out.
        none
            Whether ``none`` (or ``null``, ``~``) may stand there for "left out".
        """
        node, spot, expected = self._look(key, required)
        if node is None:
            return Found(spot, given=expected)
        if none and _says_none(node):
            return Found(spot)
        return self._convert(node, spot, read, "a value, or none" if none else "a value, or no key")

    def value_or_child(
        self, key: str, read: Callable[[str], T], keys: Sequence[str]
    ) -> tuple[Found[T], Section | None]:
        """Read a key that holds a single value or a mapping; of the two one is left open."""
        node, spot, expected = self._look(key, None)
        if node is None:
            return Found(spot, given=expected), None
        if isinstance(node, Table):
            return Found(spot), Section(node, spot.path, keys, self._faults)
        return self._convert(node, spot, read, f"a value, or {{{keys[0]}: a value}}"), None

    def size(
        self,
        key: str,
        read: Callable[[str | Sequence[str]], T],
        *,
        required: str | None = None,
        none: bool = False,
    ) -> Found[T]:
        """Read a size, written as one value or as a list of two; the rest as of a value."""
        node, spot, expected = self._look(key, required)
        if node is None:
            return Found(spot, given=expected)
        if none and _says_none(node):
            return Found(spot)
        if isinstance(node, Items) and all(isinstance(item, Scalar) for item in node.items):
            texts = [item.text for item in node.items if isinstance(item, Scalar)]
            return self._try(spot, texts, read)
        return self._convert(
            node, spot, read, "LENGTH x WIDTH, or none" if none else "LENGTH x WIDTH"
        )

    def _convert(self, node: Node, spot: Spot, read: Callable[[str], T], accepted: str) -> Found[T]:
        if isinstance(node, Scalar) and not node.is_null:
            return self._try(spot, node.text.strip(), read)
        if isinstance(node, Scalar):
            self._report(spot, "the value is missing", accepted)
        elif not isinstance(node, Refused):
            self._report(spot, f"one value is wanted here, not {_kind(node)}", accepted)
        return Found(spot, given=True)

    def _try(self, spot: Spot, given: S, read: Callable[[S], T]) -> Found[T]:
        try:
            return Found(spot, read(given), given=True)
        except (RefusedError, LengthError) as error:
            self._report(spot, error.problem, error.accepted)
            return Found(spot, given=True)

    def child(self, key: str, keys: Sequence[str], required: str | None = None) -> Section | None:
        """Give the mapping under a key; None where it is left out."""
        node, spot, _ = self._look(key, required)
        return None if node is None else Section(node, spot.path, keys, self._faults)

    def children(self, key: str, keys: Sequence[str]) -> Found[tuple[Section, ...]]:
        """Give the mappings of the list under a key; paths count the entries from 1.

        A key without a value counts as an empty list.
        """
        node, spot, expected = self._look(key, None)
        if node is None or isinstance(node, Refused):
            return Found(spot, given=expected)
        if isinstance(node, Scalar) and node.is_null:
            return Found(spot, (), given=True)
        if not isinstance(node, Items):
            self._report(spot, f"{key} is a list, not {_kind(node)}", "entries that start with -")
            return Found(spot, given=True)
        sections = (
            Section(item, f"{spot.path}[{number}]", keys, self._faults)
            for number, item in enumerate(node.items, 1)
        )
        return Found(spot, tuple(sections), given=True)

    def _report(self, spot: Spot, message: str, accepted: str = "") -> None:
        self._faults.add(spot.mark, spot.path, spot.text, message, accepted)


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

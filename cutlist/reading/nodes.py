"""Job file to a tree of nodes that know their line and column.

Only the YAML parser's events are used: no value is ever resolved or constructed, so a scalar stays
the text that stands in the file (``23.625`` never becomes a float, ``no`` never a truth value), and
tags, anchors and aliases have nothing to act on. They are refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Protocol, TypeAlias

import yaml

from cutlist.errors import Fault, FaultCode, JobFileError
from cutlist.reading.places import Mark

if TYPE_CHECKING:
    from cutlist.reading.faults import Faults

#: Bytes; a cut list of a thousand lines is a tenth of it.
MAX_BYTES: Final = 1_000_000
#: A job file nests four deep.
MAX_DEPTH: Final = 20
#: Where the parser counts a new line.
_LINE_BREAK: Final = re.compile("\r\n|[\r\n\x85\u2028\u2029]")


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single value as text; ``plain`` tells that it stands without quotes.

    What was built in code may hold the number itself: ``exact``, in ``unit`` where that is neither
    the job's nor to be said by the text.
    """

    mark: Mark
    text: str
    plain: bool
    exact: Fraction | None = None
    unit: str = ""

    @property
    def is_null(self) -> bool:
        """Whether nothing is given: no text, ``~`` or ``null``, without quotes."""
        return self.plain and self.text in ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Items:
    """A list."""

    mark: Mark
    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A mapping of keys to values in file order, nothing checked."""

    mark: Mark
    pairs: tuple[tuple[Node, Node], ...]


@dataclass(frozen=True, slots=True)
class Refused:
    """Something whose fault has been reported already."""

    mark: Mark


Node: TypeAlias = Scalar | Items | Table | Refused


def load_bytes(path: Path) -> bytes:
    """Read the file, at most ``MAX_BYTES``.

    Raises
    ------
    JobFileError
        If there is no such file, it is unreadable, or larger.
    """
    try:
        if path.exists() and not path.is_file():
            raise _file_error(path, "this is not a file", "the path of a job file")
        with path.open("rb") as stream:
            data = stream.read(MAX_BYTES + 1)
    except JobFileError:
        raise
    except FileNotFoundError:
        raise _file_error(path, "there is no such file", "the path of a job file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise _file_error(path, f"the file cannot be read: {reason}", "a readable file") from None
    if len(data) > MAX_BYTES:
        raise _file_error(path, f"the file is larger than {MAX_BYTES:,} bytes", "a smaller file")
    return data


def parse(data: bytes, file: str, faults: Faults) -> Node | None:
    """Parse one YAML document; None for a file without content.

    Tags, anchors and aliases are added to ``faults`` and parsing goes on.

    Raises
    ------
    JobFileError
        If the text is not UTF-8 or not YAML; with that fault and those found before it.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        mark = _mark_after(data[: error.start].decode("utf-8", "replace"))
        found = f"byte 0x{data[error.start]:02X}"
        faults.add(
            FaultCode.FILE, mark, "", found, "the file is not UTF-8 text", "a file saved as UTF-8"
        )
        raise JobFileError(file, faults.in_order()) from None
    composer = _Composer(text, faults)
    try:
        return composer.document()
    except yaml.reader.ReaderError as error:
        mark = _mark_after(text[: error.position])
        found = f"U+{ord(text[error.position]):04X}"
        message = "this control character cannot stand in a job file"
        faults.add(FaultCode.SYNTAX, mark, "", found, message, "printable text")
    except yaml.MarkedYAMLError as error:
        mark = _place(error, text)
        faults.add(FaultCode.SYNTAX, mark, "", _line(text, mark), *_explain(error))
    except _TooDeepError as error:
        message = f"this is nested more than {MAX_DEPTH} deep"
        line = _line(text, error.mark)
        faults.add(FaultCode.TOO_MANY, error.mark, "", line, message, "keys, lists and values")
    except (yaml.YAMLError, ValueError, OverflowError):
        # The scanner turns an escape beyond the last character into a bare ValueError.
        mark = composer.here()
        message = "this is not YAML: an impossible number or escape"
        line = _line(text, mark)
        faults.add(FaultCode.SYNTAX, mark, "", line, message, "the character itself")
    raise JobFileError(file, faults.in_order())


class _TooDeepError(Exception):
    def __init__(self, mark: Mark) -> None:
        self.mark = mark
        super().__init__()


class _Composer:
    """Builds nodes from the parser's events."""

    def __init__(self, text: str, faults: Faults) -> None:
        self._text = text
        self._faults = faults
        # The parser behind the safe loader; its methods carry no types.
        self._loader: Any = None

    def here(self) -> Mark:
        """Give the place that the parser has reached."""
        return Mark(1, 1) if self._loader is None else _mark(self._loader.get_mark())

    def document(self) -> Node | None:
        """Read the first document and refuse any further one."""
        self._loader = yaml.SafeLoader(self._text)
        self._next()
        if isinstance(self._loader.peek_event(), yaml.StreamEndEvent):
            return None
        self._next()
        root = self._node(self._next(), 1, "")
        self._next()
        following = self._loader.peek_event()
        if isinstance(following, yaml.DocumentStartEvent):
            message = "a second document starts here; a job file is one"
            start = _mark(following.start_mark)
            self._faults.add(FaultCode.NOT_READ, start, "", "---", message, "one document")
        return root

    def _next(self) -> yaml.Event:
        event: yaml.Event = self._loader.get_event()
        return event

    def _refuse(self, mark: Mark, path: str, found: str, message: str, accepted: str) -> None:
        self._faults.add(FaultCode.NOT_READ, mark, path, found, message, accepted)

    def _node(self, event: yaml.Event, depth: int, path: str) -> Node:
        mark = _mark(event.start_mark)
        if depth > MAX_DEPTH:
            raise _TooDeepError(mark)
        if isinstance(event, yaml.AliasEvent):
            message = "references to other places are not read"
            found = f"*{event.anchor}"
            self._refuse(mark, path, found, message, "the value written out")
            return Refused(mark)
        assert isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent))
        if event.anchor is not None:
            message = "marks to refer back to are not read"
            self._refuse(mark, path, f"&{event.anchor}", message, "the value alone")
        if event.tag is not None:
            written = str(event.tag).replace("tag:yaml.org,2002:", "!!")
            self._refuse(mark, path, written, "type tags are not read", "the value alone")
        if isinstance(event, yaml.ScalarEvent):
            return Scalar(mark, event.value, event.style is None)
        if isinstance(event, yaml.SequenceStartEvent):
            items: list[Node] = []
            while not isinstance(item := self._next(), yaml.SequenceEndEvent):
                items.append(self._node(item, depth + 1, f"{path}[{len(items) + 1}]"))
            return Items(mark, tuple(items))
        pairs = []
        while not isinstance(start := self._next(), yaml.MappingEndEvent):
            key = self._node(start, depth + 1, path)
            below = f"{path}.{key.text}".lstrip(".") if isinstance(key, Scalar) else path
            pairs.append((key, self._node(self._next(), depth + 1, below)))
        return Table(mark, tuple(pairs))


class _HasPlace(Protocol):
    """The parser's own kind of mark, counted from 0."""

    line: int
    column: int


def _mark(mark: _HasPlace | None) -> Mark:
    return Mark(0, 0) if mark is None else Mark(mark.line + 1, mark.column + 1)


def _mark_after(before: str) -> Mark:
    lines = _LINE_BREAK.split(before)
    return Mark(len(lines), len(lines[-1]) + 1)


def _place(error: yaml.MarkedYAMLError, text: str) -> Mark:
    """Give the place of a slip: the parser often stumbles over it only on a line further down."""
    said = error.problem or ""
    if error.context_mark and ("end of stream" in said or "could not find expected ':'" in said):
        return _mark(error.context_mark)
    mark = _mark(error.problem_mark or error.context_mark)
    if "expected ',' or" not in said:
        return mark
    # A plain value runs on over line ends: a comma or bracket is missing where it began to.
    lines = _LINE_BREAK.split(text)
    before = lines[mark.line - 1][: mark.column - 1]
    above = [n for n in range(1, mark.line) if not re.match(r"\s*(#|$)", lines[n - 1])]
    if not above or re.search(r"[:,{}\[\]]", before):
        return mark
    return Mark(above[-1], len(lines[above[-1] - 1].rstrip()) + 1)


def _line(text: str, mark: Mark) -> str:
    """Give the line of a mark, for the reader to recognise."""
    lines = _LINE_BREAK.split(text)
    return lines[mark.line - 1].strip() if 0 < mark.line <= len(lines) else ""


#: What the parser says, as a pattern; what it means to someone who writes a job file; the remedy.
_EXPLANATIONS: Final = (
    (r"character '\\t'", "a tab stands here; YAML is indented with spaces", "spaces"),
    (
        r"mapping values are not allowed",
        "a colon too many, or the line is indented wrongly",
        'text with a colon in quotes: "panel: left"',
    ),
    (
        r"found character '.' that cannot start",
        "a value cannot start with this character",
        'the value in quotes: "@ 3"',
    ),
    (
        r"expected <block end>, but found ':'",
        "the key before the colon is missing",
        "key: value",
    ),
    (
        r"expected <block end>|did not find expected '-'",
        "the line is indented wrongly, or text goes on after a closing quote",
        "keys of one entry start in one column",
    ),
    (r"could not find expected ':'", "the colon after a key is missing", "key: value"),
    (r"end of stream|unexpected end", "a quote or a bracket is not closed", "a closing one"),
    (r"expected ',' or", "a comma or a closing bracket is missing", "{name: end, qty: 2}"),
)


def _explain(error: yaml.MarkedYAMLError) -> tuple[str, str]:
    said = error.problem or error.context or "unreadable"
    for pattern, message, accepted in _EXPLANATIONS:
        if re.search(pattern, said):
            return message, accepted
    return f"this is not YAML: {said}", "key: value"


def _file_error(path: Path, message: str, accepted: str) -> JobFileError:
    return JobFileError(str(path), [Fault(0, 0, "", "", message, accepted, FaultCode.FILE)])

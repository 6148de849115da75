"""The same job file with some of its values changed: ``saw.kerf=1/8,3/32``.

A key is named by its path as faults name it, ``sheets[2].price``; an entry of a list by its number
or by its name, ``sheets[birch full].price``. Keys of the saw, the store and the vehicle may stand
alone. The changed value is read and checked as if it stood in the file.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import product
from math import prod
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cutlist.errors import Fault, FaultCode, JobFileError
from cutlist.reading import keys
from cutlist.reading.faults import Faults, did_you_mean
from cutlist.reading.nodes import Items, Node, Refused, Scalar, Table, load_bytes, parse
from cutlist.reading.places import Mark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.job import Job
    from cutlist.model.variants import Varied

__all__ = ["MOST_JOBS", "Varying", "read_varied", "read_varying"]

#: So many jobs at most come of all values together.
MOST_JOBS: Final = 24
#: Where a key that stands alone is looked for.
_SECTIONS: Final = (keys.ONE_SAW, keys.ONE_STORE, keys.ONE_VEHICLE)
#: What is no number, and what a comparison by it would not be one of the same parts.
_WORDS: Final = ("job", "units", "also_in", "name", "material", "match", "kind", "offcuts", "grain")
_STEP: Final = re.compile(r"([^.\[\]]+)((?:\[[^\[\]]+\])*)")
_EXAMPLE: Final = "saw.kerf=1/8,3/32"
#: What stands nowhere in the file.
_NOWHERE: Final = Mark(0, 0)


@dataclass(frozen=True, slots=True)
class Varying:
    """A key of the job and the values that it is given, one after the other.

    Parameters
    ----------
    text
        As it was asked for, to name it by in a fault.
    path
        The keys and entries that lead to the value.
    values
        As they would stand in the job file.
    """

    text: str
    path: tuple[str, ...]
    values: tuple[str, ...]

    @property
    def key(self) -> str:
        """The path in one word: ``sheets[2].price``."""
        words = (step if step.startswith("[") else f".{step}" for step in self.path)
        return "".join(words).lstrip(".")


def read_varying(text: str) -> Varying:
    """Read ``KEY=V1,V2``.

    Raises
    ------
    JobFileError
        If it has another form, or names what is no number.
    """
    key, equals, listed = text.partition("=")
    values = tuple(dict.fromkeys(value.strip() for value in listed.split(",")))
    steps = [_STEP.fullmatch(word.strip()) for word in re.split(r"\.(?![^\[]*\])", key.strip())]
    path: list[str] = []
    for step in steps:
        if step is None or not equals or not all(values):
            found = "a key without a value" if step else "this is no path of a key"
            raise _wrong(text, "", key if step is None else "", found, _EXAMPLE)
        path += [step[1].strip(), *re.findall(r"\[[^\[\]]+\]", step[2])]
    if len(path) == 1 and path[0] not in keys.TOP.names:
        section = next((one.name for one in _SECTIONS if path[0] in one.keys.names), None)
        if section is not None:
            path.insert(0, section)
    named = [step for step in path if not step.startswith("[")]
    if named[-1] in _WORDS:
        raise _wrong(text, key, key, "this key is no number", _EXAMPLE)
    return Varying(text, tuple(path), values)


def read_varied(path: Path | str, varyings: Sequence[Varying]) -> list[tuple[Varied, Job]]:
    """Read a job file once for each choice of the values.

    Raises
    ------
    JobFileError
        If the file is wrong, if a value or a key cannot be, or if the choices are too many.
    """
    from cutlist.reading import read_nodes

    count = prod(len(one.values) for one in varyings)
    texts = " ".join(one.text for one in varyings)
    if count > MOST_JOBS:
        message = f"these are {count} jobs in all"
        raise _wrong(texts, "", "", message, f"values for at most {MOST_JOBS}")
    file = Path(path)
    data = load_bytes(file)
    out: list[tuple[Varied, Job]] = []
    for values in product(*(one.values for one in varyings)):
        root = parse(data, str(file), Faults())
        assert root is not None, "the file was read before"
        for one, value in zip(varyings, values, strict=True):
            root = _changed(root, one, one.path, value, "")
        said = " ".join(f"{one.key}={value}" for one, value in zip(varyings, values, strict=True))
        job = read_nodes(root, data, folder=file.parent, file=f"{file} with {said}")
        pairs = zip((one.key for one in varyings), values, strict=True)
        out.append((tuple(pairs), job))
    return out


def _changed(node: Node, varying: Varying, path: Sequence[str], value: str, above: str) -> Node:
    """Give a node with the value at a path changed; keys that are not there are added."""
    if not path:
        return Scalar(_NOWHERE, value, plain=True)
    step, *rest = path
    here = above + (step if step.startswith("[") else f".{step}" if above else step)
    if step.startswith("["):
        if not isinstance(node, Items):
            raise _wrong(varying.text, here, "", f"{above} is no list", _EXAMPLE)
        index = _index(node, varying, step[1:-1].strip(), here, above)
        entries = list(node.items)
        entries[index] = _changed(entries[index], varying, rest, value, here)
        return replace(node, items=tuple(entries))
    if not isinstance(node, Table):
        message = f"{above} has entries, by number or name" if isinstance(node, Items) else ""
        accepted = f"{above}[1].{step}" if message else _EXAMPLE
        raise _wrong(varying.text, here, "", message or f"{above} has no keys", accepted)
    pairs = [
        (key, _changed(below, varying, rest, value, here) if _is(key, step) else below)
        for key, below in node.pairs
    ]
    if not any(_is(key, step) for key, _ in pairs):
        empty: Node = Table(_NOWHERE, ())
        below = _changed(empty if rest else Refused(_NOWHERE), varying, rest, value, here)
        pairs.append((Scalar(_NOWHERE, step, plain=True), below))
    return replace(node, pairs=tuple(pairs))


def _is(key: Node, word: str) -> bool:
    return isinstance(key, Scalar) and key.text == word


def _index(node: Items, varying: Varying, word: str, here: str, above: str) -> int:
    """Give the place of an entry by its number from 1, or by its name."""
    names = [_name(entry) for entry in node.items]
    if word in names:
        return names.index(word)
    if re.fullmatch(r"\d{1,6}", word, re.ASCII) and 1 <= int(word) <= len(names):
        return int(word) - 1
    otherwise = f"[1] to [{len(names)}], or a name" if names else "another key: this list is empty"
    accepted = did_you_mean(word, [name for name in names if name], otherwise)
    raise _wrong(varying.text, here, word, f"{above} has no such entry", accepted)


def _name(entry: Node) -> str:
    """Give the name of an entry; that of a saw is its kind where it has no other."""
    pairs = entry.pairs if isinstance(entry, Table) else ()
    for word in ("name", "kind"):
        for key, value in pairs:
            if _is(key, word) and isinstance(value, Scalar):
                return value.text
    return ""


def _named(text: str) -> str:
    return f"--vary {text}"


def _wrong(text: str, path: str, found: str, message: str, accepted: str) -> JobFileError:
    fault = Fault(0, 0, path, found, message, accepted, FaultCode.WRONG_VALUE)
    return JobFileError(_named(text), [fault])

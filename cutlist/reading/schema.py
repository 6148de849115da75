"""The JSON Schema of the job file, for editors: made of the description that the reader goes by.

Dialect 2020-12 of JSON Schema. It sees single values and keys; what several of them say together -
names that are taken, parts that fit no sheet, a match of parts of other sizes - is the reader's.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from cutlist.reading import keys
from cutlist.reading.keys import Below, Each, Key, Keys
from cutlist.reading.kinds import Kind
from cutlist.units.system import Units

__all__ = ["DIALECT", "job_schema"]

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
#: What may stand for "left out": as text, or as YAML reads null and ~.
_NONE: Final = ({"type": "null"}, {"const": "none"})
#: Keys of which one has to be there, though none of them has to.
_EITHER: Final = ("saw", "saws")


def job_schema() -> dict[str, Any]:
    """Return the schema as plain data, a new object on each call."""
    kinds: dict[str, Any] = {}
    schema = {
        "$schema": DIALECT,
        "title": "A job of sheet goods",
        "description": "What is to be made, what it is cut from, and the saws that cut it.",
        **_mapping(keys.TOP, kinds),
    }
    schema["required"] = [name for name in schema["required"] if name not in _EITHER]
    schema["oneOf"] = [{"required": [name]} for name in _EITHER]
    schema["$defs"] = dict(sorted(kinds.items()))
    return schema


def _mapping(of: Keys, kinds: dict[str, Any]) -> dict[str, Any]:
    """Describe a mapping with these keys and no others."""
    needed = [
        entry.name
        for entry in of.entries
        if (isinstance(entry, Each) and entry.least)
        or (isinstance(entry, Key | Below) and entry.needed is not None)
    ]
    return {
        "type": "object",
        "properties": {entry.name: _entry(entry, kinds) for entry in of.entries},
        "required": needed,
        "additionalProperties": False,
    }


def _entry(entry: Key[Any] | Below | Each, kinds: dict[str, Any]) -> dict[str, Any]:
    if isinstance(entry, Below):
        return _mapping(entry.keys, kinds) | _examples(entry.needed)
    if isinstance(entry, Each):
        least = {"minItems": entry.least} if entry.least else {}
        return {"type": "array", "items": _mapping(entry.keys, kinds), **least}
    choices = [_kind(entry.kind, kinds)]
    if entry.most > 1:
        listed = {"type": "array", "items": choices[0], "minItems": 1, "maxItems": entry.most}
        choices.append(listed)
    if entry.or_else is not None:
        other = entry.or_else
        choices.append(_mapping(other, kinds) if isinstance(other, Keys) else _entry(other, kinds))
    if entry.may_be_none:
        choices += _NONE
    said = choices[0] if len(choices) == 1 else {"anyOf": choices}
    return said | _examples(entry.needed)


def _kind(kind: Kind[Any], kinds: dict[str, Any]) -> dict[str, Any]:
    """Describe a kind of value, once for all keys where it has a name."""
    if not kind.name:
        return dict(kind.schema)
    kinds[kind.name] = dict(kind.schema)
    return {"$ref": f"#/$defs/{kind.name}"}


def _examples(needed: str | Mapping[Units, str] | None) -> dict[str, Any]:
    """Give the examples that a fault shows, without the key in front."""
    if needed is None:
        return {}
    texts = [needed] if isinstance(needed, str) else list(needed.values())
    values = [text.partition(": ")[2] for text in texts]
    plain = [value for value in values if "{" not in value and "|" not in value]
    return {"examples": plain} if plain else {}

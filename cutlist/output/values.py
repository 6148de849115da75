"""Frozen dataclasses as plain data, exactly, and back again.

A fraction is written as ``"3/8"``, a decimal as its digits, an enumeration as its value, a tuple as
a list. Fields that have their default are left out. Reading goes by the annotations of the classes,
so that a class needs no code of its own.
"""

from __future__ import annotations

import datetime
import types
import typing
from dataclasses import MISSING, Field, fields, is_dataclass
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, Union

from cutlist.model import edges, job, rack, weights

__all__ = ["from_plain", "to_plain"]

#: Where the names in annotations are looked up: the classes of what is asked for.
_NAMES = {
    name: kind
    for module in (edges, job, rack, weights)
    for name, kind in vars(module).items()
    if isinstance(kind, type)
} | {"datetime": datetime}


def to_plain(value: Any) -> Any:
    """Turn a value into dicts, lists, strings, whole numbers, booleans and None."""
    if value is None or isinstance(value, bool | int):
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, Fraction | Decimal):
        return str(value)
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, str):
        return value
    if isinstance(value, tuple):
        return [to_plain(item) for item in value]
    if is_dataclass(value):
        return {
            field.name: to_plain(getattr(value, field.name))
            for field in fields(value)
            if getattr(value, field.name) != _default(field)
        }
    raise TypeError(f"no plain form of {type(value).__name__}")


def _default(field: Field[Any]) -> Any:
    if field.default_factory is not MISSING:
        return field.default_factory()
    return field.default


def from_plain(kind: Any, data: Any) -> Any:
    """Turn plain data back into a value of a class, or of what an annotation says.

    Raises
    ------
    ValueError, TypeError, KeyError
        If the data is none that :func:`to_plain` writes for such a value.
    """
    origin = typing.get_origin(kind)
    if origin in (Union, types.UnionType):
        return _of_union(typing.get_args(kind), data)
    if origin is tuple:
        return _of_tuple(typing.get_args(kind), data)
    if origin is not None:
        return from_plain(origin, data)
    if is_dataclass(kind):
        return _of_class(kind, data)
    if kind is datetime.date:
        return datetime.date.fromisoformat(data)
    if kind in (bool, int, str):
        if type(data) is not kind:
            raise TypeError(f"{kind.__name__} is wanted, found {data!r}")
        return data
    if not isinstance(data, str):
        raise TypeError(f"text is wanted for {kind.__name__}, found {data!r}")
    return kind(data)


def _of_union(kinds: tuple[Any, ...], data: Any) -> Any:
    if data is None and type(None) in kinds:
        return None
    choices = [kind for kind in kinds if kind is not type(None)]
    if len(choices) != 1:
        raise TypeError("a value may be of one class only")
    return from_plain(choices[0], data)


def _of_tuple(kinds: tuple[Any, ...], data: Any) -> tuple[Any, ...]:
    if not isinstance(data, list):
        raise TypeError(f"a list is wanted, found {data!r}")
    if kinds[1:] == (...,):
        return tuple(from_plain(kinds[0], item) for item in data)
    return tuple(from_plain(kind, item) for kind, item in zip(kinds, data, strict=True))


def _of_class(kind: Any, data: Any) -> Any:
    if not isinstance(data, dict):
        raise TypeError(f"an object is wanted, found {data!r}")
    hints = _hints(kind)
    unknown = data.keys() - hints.keys()
    if unknown:
        raise KeyError(min(unknown))
    return kind(**{name: from_plain(hints[name], item) for name, item in data.items()})


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return typing.get_type_hints(kind, localns=_NAMES)

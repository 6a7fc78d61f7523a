"""What was read, as one text: every figure of it, and nothing of where it stands in the files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction
from pathlib import Path

from pydantic import BaseModel

from blendwise.records.place import Place
from blendwise.records.reading.document import Document


def canonical(thing: object) -> str:
    """A record, or a book's worth of them, as a text that is another where any figure is another."""
    match thing:
        case Place() | Document() | Path():
            return ""
        case BaseModel():
            pairs = ((name, getattr(thing, name)) for name in type(thing).model_fields)
            return _named(type(thing).__name__, {name: value for name, value in pairs if value is not None})
        case Mapping():
            return _named("", thing)
        case list() | tuple():
            return "[" + ",".join(map(canonical, thing)) + "]"
        case set() | frozenset():
            return "{" + ",".join(sorted(map(canonical, thing))) + "}"
        case float() | int() | Fraction() | str() | None:
            return repr(thing)
    if is_dataclass(thing):
        kept = {field.name: getattr(thing, field.name) for field in fields(thing)}
        return _named(type(thing).__name__, kept)
    return repr(thing)


def _named(name: str, pairs: Mapping[object, object] | Mapping[str, object]) -> str:
    return name + "{" + ",".join(f"{key!r}:{canonical(value)}" for key, value in pairs.items()) + "}"

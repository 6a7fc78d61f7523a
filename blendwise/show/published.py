"""The schema of an answer, made from its dataclass by the rules that ``answers.answer`` publishes by."""

from __future__ import annotations

import types
from collections.abc import Iterable, Mapping
from dataclasses import is_dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from typing_extensions import TypedDict

from blendwise.answers.answer import keys, told

_LIST: Any = list
_DICT: Any = dict


def shape(kind: type) -> Any:
    """The document of a dataclass as a TypedDict, for pydantic: every key required, none besides."""
    return _shape(kind)


@cache
def _shape(kind: Any) -> Any:
    hints = get_type_hints(kind)
    made = {key: _published_type(_hint(kind, name, hints)) for key, name in keys(kind)}
    return _typed(kind, made)


def document(kind: type) -> Any:
    """The shape of a whole document: the keys of its head first."""
    body, hints = shape(kind), get_type_hints(kind)
    whole = {name: document(hints[name]) for name in getattr(kind, "WHOLE", ())}
    return _typed(kind, {"schema": str, "blendwise": str, **body.__annotations__, **whole})


def _typed(kind: type, keys_of: Mapping[str, Any]) -> Any:
    make: Any = TypedDict
    typed = make(kind.__name__, keys_of)
    typed.__doc__ = kind.__doc__
    return typed


def _hint(kind: type, name: str, hints: Mapping[str, Any]) -> Any:
    if name in hints:
        return hints[name]
    made = next(vars(base)[name] for base in kind.__mro__ if name in vars(base))
    assert isinstance(made, told) and made.fget is not None
    return get_type_hints(made.fget)["return"]


def _published_type(hint: Any) -> Any:
    """A field's type as JSON holds it."""
    origin, parts = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return Union[tuple(_published_type(each) for each in parts)]  # noqa: UP007 (made at run time)
    if origin is Literal:
        return hint
    if origin is tuple:
        inner = {_published_type(each) for each in parts if each is not Ellipsis}
        return _LIST[Union[tuple(inner)]]  # noqa: UP007
    if origin is not None and issubclass(origin, Mapping):
        return _DICT[str, _published_type(parts[1])]
    if origin is not None and issubclass(origin, Iterable):
        return _LIST[_published_type(parts[0])]
    if hint in (date, Path):
        return str
    if is_dataclass(hint):
        kind: Any = hint
        return _shape(kind)
    return hint

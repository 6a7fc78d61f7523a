"""Answers publish themselves: one walk over typed results makes their JSON, their frames and their schema.

A result is a frozen dataclass.  Its fields are the keys of the published document, in order, then the
properties marked ``@told``; a field made by ``hidden`` stays inside; a trailing underscore (``try_``) is
dropped.  Numbers are canonical (fractions, g, min, °C, cm); what is infinite or undefined becomes null.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Final, TypeVar, overload

from blendwise.records.place import Spot
from blendwise.version import __version__

if TYPE_CHECKING:
    import pandas as pd

Unbounded = float | None
"""A number that may be without end, published as null."""
Value = Unbounded | str
_INSIDE: Final = "inside"
T = TypeVar("T")


if TYPE_CHECKING:
    told = property
else:

    class told(property):  # noqa: N801 (stands where @property stands)
        """A property that is published with the fields."""


@overload
def hidden() -> Any: ...
@overload
def hidden(default: T) -> T: ...
def hidden(default: Any = MISSING) -> Any:
    """A field that is not published; it must be given where it has no default."""
    return field(default=default, metadata={_INSIDE: True})


class Answer:
    """The base of every result that a command answers with.

    ``SCHEMA``: name and version of its document.  ``frame_rows``: what ``to_frame`` has a row for.
    ``WHOLE``: the fields that hold an answer of their own, published with its head.
    """

    __slots__ = ()
    SCHEMA: ClassVar[str]
    WHOLE: ClassVar[tuple[str, ...]] = ()

    def to_json(self) -> dict[str, Any]:
        """The published document, as ``blendwise schema`` describes it."""
        whole = {name: getattr(self, name).to_json() for name in self.WHOLE}
        return {"schema": self.SCHEMA, "blendwise": __version__, **published(self), **whole}

    def frame_rows(self) -> Iterable[object]:
        """The dataclasses or mappings that a frame has a row for."""
        return (self,)

    def frame_columns(self) -> list[str] | None:
        """The columns of a frame, None where its rows say it."""
        return None

    def to_frame(self) -> pd.DataFrame:
        """A row each of ``frame_rows``; lists joined by commas, places as ``file:line``."""
        import pandas as pd

        rows = [cells(row) for row in self.frame_rows()]
        return pd.DataFrame(rows, columns=self.frame_columns())


def keys(kind: type) -> tuple[tuple[str, str], ...]:
    """Published key and attribute of a dataclass, in order."""
    return _keys(kind)


@cache
def _keys(kind: Any) -> tuple[tuple[str, str], ...]:
    inside = {each.name for each in fields(kind) if each.metadata.get(_INSIDE)}
    named = [each.name for each in fields(kind) if each.name not in inside]
    bases = (vars(base).items() for base in reversed(kind.__mro__))
    also = [name for members in bases for name, made in members if isinstance(made, told)]
    return tuple((name.rstrip("_"), name) for name in (*named, *dict.fromkeys(also)))


def published(value: Any) -> Any:
    """A value as JSON holds it: dataclasses as objects, days in ISO 8601, no number that is not finite."""
    if value is None or isinstance(value, (str, bool, int)):
        return value
    if isinstance(value, float):
        return float(value) if math.isfinite(value) else None
    if is_dataclass(value):
        return {key: published(getattr(value, name)) for key, name in keys(type(value))}
    if isinstance(value, Mapping):
        return {str(key): published(each) for key, each in value.items()}
    if isinstance(value, date):
        return value.isoformat()
    return value.as_posix() if isinstance(value, Path) else [published(each) for each in value]


def cells(row: object) -> dict[str, object]:
    """A row of a frame: one cell a published key; what is nested is flattened to text."""
    if isinstance(row, Mapping):
        return dict(row)
    return {key: _cell(getattr(row, name)) for key, name in keys(type(row))}


def _cell(value: object) -> object:
    if isinstance(value, Spot):
        return str(value)
    if isinstance(value, tuple):
        return ", ".join(str(each) for each in value)
    return published(value) if isinstance(value, date) else value


@dataclass(frozen=True, slots=True)
class Range:
    """From ``low`` to ``high``, in the unit of what it tells; ``high`` may be without end."""

    low: Unbounded
    high: Unbounded

"""A model walked beside a file's plain data: every text of the file with the marker of the field it fills."""

from __future__ import annotations

import types
from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated, Any, Union, get_args, get_origin

from blendwise.quantity import Dimension
from blendwise.records.reading.bands import Band
from blendwise.records.reading.fields import Reads
from blendwise.records.reading.record import Record, spelt

DocPath = tuple[str | int, ...]
Shape = tuple[tuple[Band, ...], Any]
"""The bands of a field, and the shape of what it holds: of each entry, or a record's own (True)."""


def masses_written(model: type[Record], plain: object) -> Iterator[tuple[DocPath, str]]:
    """(path, text) of every field that may hold a mass; what grows with the batch stands among them.

    A field that holds volumes alone (a mould) is none of them.
    """
    for path, text, marker in _walk(model, (), plain, ()):
        if Dimension.MASS in marker.measures:
            yield path, text


def _walk(
    annotation: Any, metadata: tuple[Any, ...], plain: object, path: DocPath
) -> Iterator[tuple[DocPath, str, Reads]]:
    kind, extra = _bare(annotation)
    marker = next((each for each in (*metadata, *extra) if isinstance(each, Reads)), None)
    if isinstance(kind, type) and issubclass(kind, Record):
        yield from _record(kind, plain, path)
    elif marker is not None:
        if isinstance(plain, str):
            yield path, plain, marker
    elif get_origin(kind) is dict and isinstance(plain, dict):
        for key, value in plain.items():
            yield from _walk(get_args(kind)[1], (), value, (*path, key))
    elif get_origin(kind) in (list, tuple) and isinstance(plain, list):
        for index, value in enumerate(plain):
            yield from _walk(get_args(kind)[0], (), value, (*path, index))


def _record(model: type[Record], plain: object, path: DocPath) -> Iterator[tuple[DocPath, str, Reads]]:
    fields = {field.alias or name: field for name, field in model.model_fields.items()}
    if isinstance(plain, str) and model.shorthand is not None:
        short = fields[model.shorthand]
        yield from _walk(short.annotation, tuple(short.metadata), plain, path)
    elif isinstance(plain, dict):
        for key, value in plain.items():
            field = fields.get(spelt(key))
            if field is not None:
                yield from _walk(field.annotation, tuple(field.metadata), value, (*path, key))


def _bare(annotation: Any) -> tuple[Any, tuple[Any, ...]]:
    """An annotation without Annotated and None, and what Annotated said."""
    said: tuple[Any, ...] = ()
    while True:
        origin = get_origin(annotation)
        if origin is Annotated:
            annotation, *more = get_args(annotation)
            said += tuple(more)
        elif origin in (Union, types.UnionType):
            choices = [part for part in get_args(annotation) if part is not type(None)]
            annotation = choices[0]
        else:
            return annotation, said


def figures_of(record: Record, path: DocPath = ()) -> Iterator[tuple[DocPath, object, Band]]:
    """Every figure of a record and of those below it that has a band: where it stands, itself, its band."""
    for name, alias, shape in _shapes(type(record)):
        yield from _figures(shape, getattr(record, name), (*path, alias))
    for below, value, band in getattr(record, "reckoned", ()):
        yield (*path, *below), value, band


def _figures(shape: Shape, value: object, path: DocPath) -> Iterator[tuple[DocPath, object, Band]]:
    own, inner = shape
    if own and value is not None:
        yield from ((path, value, band) for band in own)
    elif isinstance(value, Record):
        yield from figures_of(value, path)
    elif isinstance(value, dict) and inner:
        for key, child in value.items():
            yield from _figures(inner, child, (*path, key))
    elif isinstance(value, list) and inner:
        for index, child in enumerate(value):
            yield from _figures(inner, child, (*path, index))


@lru_cache
def _shapes(model: type[Record]) -> tuple[tuple[str, str, Shape], ...]:
    """(attribute, name in the file, shape) of the fields of a model below which there are bands."""
    found = []
    for name, field in model.model_fields.items():
        shape = _shape(field.annotation, tuple(field.metadata))
        if shape is not None:
            found.append((name, field.alias or name, shape))
    return tuple(found)


def _shape(annotation: Any, metadata: tuple[Any, ...] = ()) -> Shape | None:
    kind, extra = _bare(annotation)
    own = tuple(each for each in (*metadata, *extra) if isinstance(each, Band))
    if own:
        return own, None
    if isinstance(kind, type) and issubclass(kind, Record):
        return (), True
    if get_origin(kind) in (dict, list):
        inner = _shape(get_args(kind)[-1])
        return None if inner is None else ((), inner)
    return None

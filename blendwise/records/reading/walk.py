"""A model walked beside a file's plain data: every text of the file with the marker of the field it fills."""

from __future__ import annotations

import types
from collections.abc import Iterator
from typing import Annotated, Any, Union, get_args, get_origin

from blendwise.quantity import Dimension
from blendwise.records.reading.fields import Reads
from blendwise.records.reading.record import Record, spelt

DocPath = tuple[str | int, ...]


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

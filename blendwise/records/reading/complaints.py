"""pydantic's complaints in a maker's words."""

from __future__ import annotations

import types
from collections.abc import Mapping
from typing import Annotated, Any, Final, Union, get_args, get_origin

from blendwise.quantity import QuantityError
from blendwise.records.nearest import hint, nearest
from blendwise.records.reading.fields import FieldError
from blendwise.records.reading.record import Record
from blendwise.version import __version__

Complaint = tuple[str, str, tuple[str | int, ...], bool]
_KINDS: Final = {
    "dict_type": ("Names and values must stand here.", "Write them as `name: value`."),
    "model_type": ("Fields must stand here.", "Write them as `name: value`."),
    "model_attributes_type": ("Fields must stand here.", "Write them as `name: value`."),
    "list_type": ("A list must stand here.", "Write it in [ ], or one entry a line after a dash."),
    "tuple_type": ("A list must stand here.", "Write it in [ ], or one entry a line after a dash."),
    "string_type": ("A text must stand here.", ""),
    "too_long": ("There are too many entries here.", ""),
}


def complaint(item: Mapping[str, Any], model: type[Record]) -> Complaint:
    """(message, remedy, path further down, whether the name is meant rather than the value) of one error."""
    kind = item["type"]
    loc: tuple[str | int, ...] = item["loc"]
    if kind == "value_error":
        return _own(item["ctx"]["error"])
    if kind == "missing":
        what = f'"{loc[-1]}" is missing here.' if isinstance(loc[-1], str) else "An entry is missing here."
        return what, "Add it.", (), False
    if kind == "extra_forbidden":
        known = field_names(_model_at(model, loc[:-1]))
        remedy = hint(str(loc[-1]), known, "This place")
        if nearest(str(loc[-1]), known) is None:
            remedy += f" A later version may know it; this is {__version__}."
        return f'"{loc[-1]}" is not a field here.', remedy, (), True
    message, remedy = _KINDS.get(kind, (str(item["msg"]) + ".", ""))
    return message, remedy, (), False


def _own(error: Exception) -> Complaint:
    if isinstance(error, FieldError):
        return error.message, error.remedy, error.path, bool(error.path)
    if isinstance(error, QuantityError):
        return error.message, error.remedy, (), False
    return f"{error}.", "", (), False


def field_names(model: type[Record]) -> list[str]:
    """The fields of a model as they are written in files."""
    return [field.alias or name for name, field in model.model_fields.items()]


def _model_at(model: type[Record], loc: tuple[str | int, ...]) -> type[Record]:
    """The model that holds the field at ``loc``: follow names through annotations."""
    here: Any = model
    for step in loc:
        if isinstance(here, type) and issubclass(here, Record):
            fields = {field.alias or name: field.annotation for name, field in here.model_fields.items()}
            here = _inner(fields.get(str(step)))
        else:
            here = _inner(_member(here))
    return here if isinstance(here, type) and issubclass(here, Record) else model


def _inner(annotation: Any) -> Any:
    """An annotation without Annotated and without None."""
    while get_origin(annotation) in (Annotated, Union, types.UnionType):
        choices = [part for part in get_args(annotation) if part is not type(None)]
        annotation = choices[0]
    return annotation


def _member(annotation: Any) -> Any:
    arguments = get_args(annotation)
    if get_origin(annotation) is dict:
        return arguments[1]
    return arguments[0] if arguments else None

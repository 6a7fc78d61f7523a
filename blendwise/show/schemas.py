"""JSON Schemas: of the published answers and of the files of a book, made from the types that judge them."""

from __future__ import annotations

import importlib
from typing import Any

from blendwise.answers import documents as doc

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ANSWERS: dict[str, tuple[Any, str]] = {
    "check": (doc.CheckDoc, doc.CHECK_SCHEMA),
    "assign": (doc.AssignDoc, doc.ASSIGN_SCHEMA),
    "error": (doc.ErrorDoc, doc.ERROR_SCHEMA),
}
"""Kind of answer → its type and the name in its ``schema`` key."""

FILES = {
    "plan": ("plan", "Plan", "one"),
    "scents": ("scent", "Scent", "by name"),
    "colourants": ("colourant", "Colourant", "by name"),
    "oils": ("oil", "BaseOil", "by name"),
    "usual": ("usual", "Usual", "one"),
    "note": ("note", "Note", "one"),
    "rules": ("rule", "AnyRuleEntry", "list"),
    "pours": ("pour", "PourStyle", "by name"),
    "scales": ("scales", "Scales", "one"),
}
"""Kind of file → module and model in ``records``, and whether the file holds one, many by name, or a list."""

KINDS = (*FILES, *ANSWERS)


def schema_of(kind: str) -> dict[str, Any]:
    """The schema of one kind (KeyError for a kind which does not exist)."""
    return _answer_schema(kind) if kind in ANSWERS else _file_schema(kind)


def _answer_schema(kind: str) -> dict[str, Any]:
    shape, name = ANSWERS[kind]
    made = _made(shape)
    made["properties"]["schema"]["const"] = name
    return {"$schema": DIALECT, "$id": f"urn:{name.replace('/', ':')}", **_closed(made)}


def _file_schema(kind: str) -> dict[str, Any]:
    module, model, holds = FILES[kind]
    made = _made(getattr(importlib.import_module(f"blendwise.records.{module}"), model))
    shared = {"$defs": made.pop("$defs")} if "$defs" in made else {}
    match holds:
        case "by name":
            body = {"type": "object", "additionalProperties": _without_name(made)}
        case "list":
            body = {"type": "array", "items": made}
        case _:
            body = made
    return {"$schema": DIALECT, "$id": f"urn:blendwise:file:{kind}", **body, **shared}


def _made(shape: Any) -> dict[str, Any]:
    from pydantic import TypeAdapter

    return TypeAdapter(shape).json_schema(by_alias=True)


def _without_name(entry: dict[str, Any]) -> dict[str, Any]:
    """The schema of an entry whose name is its key in the file."""
    properties = {key: each for key, each in entry["properties"].items() if key != "name"}
    required = [key for key in entry.get("required", []) if key != "name"]
    return {**entry, "properties": properties, "required": required}


def _closed(schema: Any) -> Any:
    """The schema with no keys allowed beyond those it names, at every depth."""
    if isinstance(schema, list):
        return [_closed(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    closed = {key: _closed(each) for key, each in schema.items()}
    return {**closed, "additionalProperties": False} if "properties" in closed else closed

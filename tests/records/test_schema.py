"""The published schemas say what the loader does."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from blendwise.records.book import load_book, read_plan
from blendwise.records.place import RecordError
from blendwise.records.reading.document import read_document, text_document
from blendwise.records.reading.schema import KINDS, schema


def errors(kind: str, plain: object) -> list[str]:
    """What a schema has against a value."""
    return [
        f"{e.json_path}: {e.message}"
        for e in jsonschema.Draft202012Validator(schema(kind)).iter_errors(plain)
    ]


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_has_a_schema(kind: str) -> None:
    """Each schema is valid JSON Schema, closed, free of nulls, and describes every field."""
    found = schema(kind)
    jsonschema.Draft202012Validator.check_schema(found)
    text = json.dumps(found)
    assert '"null"' not in text
    assert "x-may-be" not in text
    if kind not in ("rules", "symptoms"):
        assert [] == [name for name, field in _fields(found) if not field.get("description")]


def _fields(tree: Any) -> list[tuple[str, dict[str, Any]]]:
    if isinstance(tree, dict):
        own = tree.get("properties")
        here = list(own.items()) if isinstance(own, dict) else []
        return [*here, *(field for inner in tree.values() for field in _fields(inner))]
    return [field for inner in tree for field in _fields(inner)] if isinstance(tree, list) else []


def test_the_sound_book_satisfies_its_schemas(folder: Path) -> None:
    """What the loader accepts, the schemas accept."""
    load_book(folder)
    for kind, name in {
        "scents": "scents.yaml",
        "colourants": "colourants.yaml",
        "oils": "oils.yaml",
        "usual": "usual.yaml",
        "pours": "loose/pours.yaml",
        "scales": "loose/scales.yaml",
        "plan": "plans/greenhouse-morning.yaml",
    }.items():
        assert errors(kind, read_document(folder / name).root.plain) == []


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("for: sale", "for: fun"),
        ("pour: column", "pours: column"),
        ("may become: cream", "may become: pink"),
        ("mass: 90 g, ", ""),
        ("dosing: same total", "dosing: [same total]"),
        ("because: ", "becaus: "),
    ],
)
def test_what_the_loader_refuses_the_schema_refuses(plan_text: str, old: str, new: str) -> None:
    """Unknown fields and words, missing fields and wrong shapes are refused by both."""
    bent = plan_text.replace(old, new)
    with pytest.raises(RecordError):
        read_plan(bent)
    assert errors("plan", text_document(bent).root.plain)


def test_shorthands_and_spellings() -> None:
    """Shorthands, one text for a list of one, `not known` and US spellings are in the schemas."""
    sound = {
        "x": {"acceleration": "moderate", "tags": "spice", "vanillin": "not known", "limit in bar": "9 %"}
    }
    assert errors("scents", sound) == []
    assert errors("scents", {"x": {"acceleration": "modrate"}})
    plan = {"plan": "a", "portions": [{"name": "b", "share": "100 %", "colorants": {"c": "1 tsp"}}]}
    assert errors("plan", plan) == []


def test_an_unknown_kind() -> None:
    """A kind of file that does not exist has no schema."""
    with pytest.raises(KeyError):
        schema("soup")

"""JSON Schemas for editors, made from the models that the loader itself uses."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from pydantic import TypeAdapter

from blendwise.records.kinds.additive import OwnAdditive
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.plan import Plan
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.notes.note import Note
from blendwise.records.reading.fields import NOT_KNOWN
from blendwise.records.reading.record import MAY_BE_UNKNOWN, SPELLINGS, Record

Schema = dict[str, Any]
RULE_WORDS: Final = Path(__file__).parents[1] / "kinds" / "rule_words.json"
"""Word → what it is, in a line; made from the measures, and kept so by a test."""
DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
_CATALOGUES: Final[dict[str, type[Record]]] = {
    "scents": Scent,
    "colourants": Colourant,
    "oils": BaseOil,
    "additives": OwnAdditive,
    "pours": PourStyle,
}
_SINGLES: Final[dict[str, type[Record]]] = {"plan": Plan, "usual": Usual, "note": Note, "scales": Scales}
KINDS: Final = (*_CATALOGUES, *_SINGLES, "rules", "symptoms")


def schema(kind: str) -> Schema:
    """The JSON Schema (draft 2020-12) of one kind of file; KeyError for a kind that is not in ``KINDS``."""
    if kind in _CATALOGUES:
        found = _catalogue(_CATALOGUES[kind])
    elif kind == "rules":
        found = _rules()
    elif kind == "symptoms":
        found = _symptoms()
    else:
        found = _tidy(_SINGLES[kind].model_json_schema())
    return {"$schema": DIALECT, "title": f"Blendwise {kind}", **found}


def _catalogue(model: type[Record]) -> Schema:
    """A mapping of entries, each headed by its name."""
    entry = _tidy(model.model_json_schema())
    shared = entry.pop("$defs", {})
    full = entry["anyOf"][1] if model.shorthand else entry
    full["properties"].pop("name")
    full["required"] = [name for name in full.get("required", ()) if name != "name"]
    return {
        "type": "object",
        "description": f"{model.__name__} entries by name.",
        "additionalProperties": {"$ref": "#/$defs/entry"},
        "$defs": {**shared, "entry": entry},
    }


def _rules() -> Schema:
    from blendwise.records.kinds.rule import AnyRuleEntry

    return _with_words(_tidy(TypeAdapter(list[AnyRuleEntry]).json_schema()))


def _with_words(tree: Schema) -> Schema:
    """Wherever measures are named, the words that there are, so that editors complete and explain them."""
    from blendwise.records.kinds.rule import SAYS_OF_A_MEASURE

    words = json.loads(RULE_WORDS.read_text("utf-8"))
    named = {name: {"description": said} for name, said in words.items()}

    def tell(node: Schema) -> None:
        if node.get("additionalProperties") == SAYS_OF_A_MEASURE:
            node["allOf"] = [{"$ref": "#/$defs/words"}]

    _each(tree, tell)
    tree.setdefault("$defs", {})["words"] = {"properties": named}
    return tree


def _symptoms() -> Schema:
    from blendwise.records.kinds.symptom import AnySymptomEntry

    return _tidy(TypeAdapter(list[AnySymptomEntry]).json_schema())


def _tidy(tree: Schema) -> Schema:
    """Without pydantic's titles, defaults and nulls (never read); spelt either way."""
    _each(tree, _plainer)
    return tree


def _each(tree: Any, change: Callable[[Schema], None]) -> None:
    todo = [tree]
    while todo:
        here = todo.pop()
        if isinstance(here, dict):
            change(here)
            todo.extend(here.values())
        elif isinstance(here, list):
            todo.extend(here)


def _plainer(node: Schema) -> None:
    if isinstance(node.get("title"), str):
        node.pop("title")
    if "type" in node or "anyOf" in node or "$ref" in node:
        node.pop("default", None)
    choices = [choice for choice in node.get("anyOf", ()) if choice != {"type": "null"}]
    if node.pop(MAY_BE_UNKNOWN, False):
        choices = [*(choices or [_taken(node)]), {"const": NOT_KNOWN}]
    if len(choices) == 1:
        node.pop("anyOf")
        node.update({**choices[0], **node})
    elif choices:
        node["anyOf"] = choices
    _either_spelling(node)


def _taken(node: Schema) -> Schema:
    """What a node says of its value, taken out of it; its description stays."""
    return {key: node.pop(key) for key in list(node) if key != "description"}


def _either_spelling(node: Schema) -> None:
    properties = node.get("properties")
    if isinstance(properties, dict):
        for typed, inside in SPELLINGS.items():
            if inside in properties:
                properties.setdefault(typed, copy.deepcopy(properties[inside]))

"""The words that editors complete in a rule are those that a rule may use."""

from __future__ import annotations

import json

import jsonschema
import pytest

from blendwise.facts.tables import vocabulary
from blendwise.show.schemas import schema_of
from tests.rule_words import FILE, text


def test_the_file_is_made_from_the_measures() -> None:
    """Every word stands in it with what it is; `python -m tests.rule_words` writes it anew."""
    assert text() == FILE.read_text("utf-8")
    assert set(vocabulary()) == set(json.loads(FILE.read_text("utf-8")))


@pytest.mark.parametrize("part", ["when", "must"])
def test_a_condition_completes_every_word(part: str) -> None:
    """The schema of rule files names all words where a condition names measures, with their meaning."""
    schema = schema_of("rules")
    words = schema["$defs"]["words"]["properties"]
    assert set(vocabulary()) == set(words)
    assert "portion" in words["scent rate"]["description"]
    rule = {"rule": "r", "looks at": "portion", part: {"scent rate": "at most 3 %"}, "else": "hint"}
    rule.setdefault("must", {"dose of [lime]": "at most 2 %"})
    jsonschema.validate([rule], schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate([{**rule, part: {"scent rate": 3}}], schema)

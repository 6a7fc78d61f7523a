"""Every shipped rule stands in the table of sources once, with who says so and how it was read."""

from __future__ import annotations

import csv
from pathlib import Path

from blendwise.records.kinds.rule import RuleRecord, load_rule_files
from blendwise.records.shipped import starter_folder

TABLE = Path(__file__).with_name("rules_sources.csv")
STANDINGS = {"read", "read in part", "reported", "memory", "practice", "judgement", "derived"}


def table() -> list[dict[str, str]]:
    lines = TABLE.read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def rules() -> dict[str, RuleRecord]:
    shipped = load_rule_files(starter_folder("rules"))
    return {entry.name: entry for entry in shipped if isinstance(entry, RuleRecord)}


def test_every_rule_once() -> None:
    named = [row["rule"] for row in table()]
    assert len(named) == len(set(named))
    assert set(rules()) == set(named)


def test_every_source_says_how_it_was_read() -> None:
    for row in table():
        assert row["standing"] in STANDINGS, row
        assert row["rests_on"], row
        assert row["who"], row


def test_the_basis_says_the_same() -> None:
    """What is practice, remembered or judgement says so in the rule's basis; what was read does not."""
    found = rules()
    for row in table():
        basis = found[row["rule"]].basis
        if row["standing"] == "memory":
            assert "memory" in basis, row
        if row["standing"] == "judgement":
            assert any(word in basis for word in ("judgement", "unknown is never none", "our ")), row
        if row["standing"] == "practice":
            assert "practice" in basis, row
        if row["standing"].startswith("read") or row["standing"] == "derived":
            assert "memory" not in basis, row
            assert "common practice" not in basis, row

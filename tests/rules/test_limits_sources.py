"""Every rule of limits.yaml stands in the table of sources once, with how its source was read."""

from __future__ import annotations

import csv
from pathlib import Path

from blendwise.records.book import starter_folder
from blendwise.records.kinds.rule import RuleRecord, rules_in
from blendwise.records.reading.document import read_document

TABLE = Path(__file__).with_name("limits_sources.csv")
STANDINGS = {"read", "read in part", "reported", "memory", "practice", "judgement", "derived"}


def table() -> list[dict[str, str]]:
    lines = TABLE.read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def rules() -> dict[str, RuleRecord]:
    entries = rules_in(read_document(starter_folder("rules") / "limits.yaml"))
    return {entry.name: entry for entry in entries if isinstance(entry, RuleRecord)}


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
    """What is only remembered or our own judgement says so in the rule's own basis."""
    found = rules()
    for row in table():
        basis = found[row["rule"]].basis
        if row["standing"] == "memory":
            assert "memory" in basis, row
        if row["standing"].startswith("read"):
            assert "memory" not in basis, row
            assert "common practice" not in basis, row

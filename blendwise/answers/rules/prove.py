"""A rule's cases: those it has, and those that its own bounds suggest; written on yes."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from blendwise.answers.rules.compute import place_of
from blendwise.answers.rules.proofs import proofs_of
from blendwise.answers.rules.result import Proof, said
from blendwise.answers.rules.taught import Proven
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.proposals import lacking, proposed
from blendwise.records.book import BookFiles
from blendwise.records.reading.document import read_document
from blendwise.records.writing.edit import add_item, save

KIND: Final = {"hits": "hit", "misses": "miss"}
OUTCOME: Final = {"hits": "broken", "misses": "holds"}


def proven(rule: Rule, book: BookFiles) -> Proven:
    """The cases of a rule, and a hit and a miss for it where it lacks them."""
    found = proposed(rule, vocabulary())
    lacks = lacking(rule)
    rows = {part: row for part, row in (("hits", found.hit), ("misses", found.miss)) if row and part in lacks}
    suggested = tuple(Proof(KIND[part], said(row), OUTCOME[part]) for part, row in rows.items())
    return Proven(
        rule=rule.name,
        cases=proofs_of(rule),
        proposed=suggested,
        lacks=tuple(part for part in lacks if part not in rows),
        mine=rule.record.is_mine,
        where=place_of(rule.place, book),
        rows=tuple(rows.items()),
    )


def write_cases(found: Proven, rule: Rule) -> Proven:
    """Write the proposed rows into the rule's own entry; RecordError where they cannot be."""
    doc = read_document(rule.place.file)
    index = next(i for i, entry in enumerate(doc.root.plain) if rule.name in entry.values())
    for part, row in found.rows:
        doc = add_item(doc, (index, part), dict(row))  # type: ignore[arg-type]
    save(doc)
    return replace(found, written=True)

"""An edit of the catalogue on the maker's word: one value changed, one line added to ``seen``, no other byte.

The file's fingerprint is compared once more before it is replaced (``records.edit.save``).
"""

from __future__ import annotations

import difflib
import shlex
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from blendwise.answers.refusals import NotAskable
from blendwise.answers.review.compute import Reading
from blendwise.answers.review.result import AdoptResult
from blendwise.beliefs.changes import FIELD, Change, changes_of
from blendwise.quantity import format_number
from blendwise.records.nearest import hint
from blendwise.records.reading.document import Document
from blendwise.records.writing.edit import Plain, add_field, add_item, save, set_value

WORD_IN = {"acceleration": "is", "browning": "band"}
CATALOGUE = "scents.yaml"


def adopt(reading: Reading, name: str, dry_run: bool = False) -> AdoptResult:
    """Write what own batches say of an oil into its entry; NotAskable where they say nothing else than it."""
    scent = reading.book.scents.get(name)
    if scent is None:
        raise NotAskable(
            f'There is no scent "{name}".', hint(name, list(reading.book.scents), "The catalogue")
        )
    learned = reading.lessons.oils.get(name)
    changes = [each for each in changes_of(scent, learned, reading.book.scales) if each.differs]
    if not changes:
        raise NotAskable(
            f'Your looks say nothing of "{name}" that its entry does not say.',
            f"See what they do say: blendwise review --scent {shlex.quote(name)}",
        )
    before = reading.book.docs[CATALOGUE]
    after = edited(before, changes, reading.today)
    if not dry_run:
        save(after)
    return AdoptResult(name, CATALOGUE, tuple(changes), _diff(before, after), not dry_run)


def edited(doc: Document, changes: Sequence[Change], today: date) -> Document:
    """The catalogue with every change made and told in ``seen``."""
    for change in changes:
        doc = _with_value(doc, change)
        entry: Plain = {"on": today.isoformat(), "what": told(change)}
        doc = add_item(doc, (change.oil, "seen"), entry)
    return doc


def _with_value(doc: Document, change: Change) -> Document:
    oil, field = change.oil, FIELD[change.trait]
    there = doc.root.plain[oil].get(field)
    inner = WORD_IN.get(change.trait)
    if isinstance(there, dict):
        assert inner is not None
        return set_value(doc, (oil, field, inner), change.now)
    if there is not None:
        return set_value(doc, (oil, field), change.now)
    if inner is None:
        return add_field(doc, (oil,), field, change.now)
    assert change.dose is not None
    at = f"{format_number(100 * change.dose)} % of oils"
    return add_field(doc, (oil,), field, {inner: change.now, "at": at, "evidence": change.evidence})


def told(change: Change) -> str:
    """The line for ``seen``: "Acceleration slight → moderate: 3 of 4 batches."."""
    spoke = f"{change.supporting} of {len(change.told)} batches"
    count = spoke if change.supporting else f"by {change.batches} batches"
    field = FIELD[change.trait]
    return f"{field[0].upper()}{field[1:]} {change.was or 'not known'} → {change.now}: {count}."


def _diff(before: Document, after: Document) -> str:
    name = Path(before.file).name
    lines = difflib.unified_diff(
        before.text.splitlines(), after.text.splitlines(), name, name, lineterm="", n=1
    )
    return "\n".join(lines)

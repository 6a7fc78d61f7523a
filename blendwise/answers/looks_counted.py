"""Whose looks count, and where they say another word than the catalogue."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.beliefs.believe import Believing
from blendwise.beliefs.changes import Change, changes_of
from blendwise.facts.assumed import Assumed, assumed
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent


def looks_counted(believing: Believing, scents: Sequence[Scent], scales: Scales) -> Iterator[Assumed]:
    """What own looks have to do with an answer about these oils."""
    lessons = believing.lessons
    if lessons is not None and any(scent.name in lessons.oils for scent in scents):
        yield assumed(
            "own looks",
            looks=float(lessons.looks),
            batches=float(lessons.batches - lessons.cups),
            cups=float(lessons.cups),
        )
        for scent in scents:
            changes = changes_of(scent, lessons.oils.get(scent.name), scales)
            yield from (_changed(change) for change in changes if change.differs)
    if lessons is not None and lessons.set_aside:
        yield assumed("notes set aside", notes=float(lessons.set_aside))
    if believing.careful:
        yield Assumed("careful")


def _changed(change: Change) -> Assumed:
    return assumed(
        "belief changed",
        oil=change.oil,
        trait=change.trait,
        was=change.was,
        now=change.now,
        notes=change.notes,
        evidence=change.evidence,
        batches=float(change.batches),
        cups=float(change.cups),
        dose=change.dose or None,
    )

"""Which look of a batch comes next, and when."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from blendwise.answers.note.result import Due, Next
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.note import DAYS_OF_LOOKS

DUE_LOOKS: Final = ("at the cut", "week 1", "week 2", "week 4", "week 6")
FORGOTTEN_AFTER: Final = 100  # days after the pour from which nothing is due any more: judgement


def next_due(poured: date, seen: set[str], today: date) -> Next | None:
    """The next look that is not noted, and its day; of several whose day has come, the last."""
    last = max((DUE_LOOKS.index(look) for look in seen if look in DUE_LOOKS), default=-1)
    coming = [Next(look, poured + timedelta(days=DAYS_OF_LOOKS[look])) for look in DUE_LOOKS[last + 1 :]]
    come = [each for each in coming if each.day <= today]
    return come[-1] if come else coming[0] if coming else None


def due(batches: Sequence[Batch], today: date, plan: str | None = None) -> list[Due]:
    """The next look of every batch, those whose day has come first."""
    found = []
    for batch in batches:
        if batch.is_cup and batch.is_unlooked:
            continue  # set out, and never poured as far as anybody noted
        poured = date.fromisoformat(batch.poured)
        coming = next_due(poured, {look.look for look in batch.looks}, today)
        old = (today - poured).days > FORGOTTEN_AFTER
        if coming is not None and not old and (plan is None or batch.plan == plan):
            found.append(Due(batch.key, batch.plan, coming.look, coming.day, (today - coming.day).days))
    return sorted(found, key=lambda each: (each.day, each.batch))

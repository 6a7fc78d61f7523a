"""What a test cup measured: minutes of a scented cup beside those of its control."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from blendwise.answers.answer import Range
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.note import Note
from blendwise.records.notes.notebook import Seen, row_of
from blendwise.records.reading.document import text_document, validated


@dataclass(frozen=True, slots=True)
class Measured:
    """One scented cup beside the control: minutes of both, times faster, and oil → dose on the cup's oils."""

    cup: str
    control: Range
    scented: Range
    times: float
    doses: dict[str, float]


def measured(batch: Batch, text: str) -> tuple[Measured, ...]:
    """The ratios that a cup's looks and the note just made (its text) come to."""
    seen = {name: each for look in batch.looks for name, each in look.portions.items() if each.minutes}
    new = row_of(validated(Note, text_document(text)), "")
    if not any(each.minutes for each in new.portions.values()):
        return ()
    seen |= {name: each for name, each in new.portions.items() if each.minutes}
    return tuple(_ratios(batch, seen))


def _ratios(batch: Batch, seen: dict[str, Seen]) -> Iterator[Measured]:
    poured = batch.frozen(None)
    if poured is None:
        return
    bare = next((seen[name] for name in poured.portions if name in seen and not poured.doses.get(name)), None)
    if bare is None or bare.minutes is None:
        return
    for name, made in poured.portions.items():
        doses = {oil: grams / made.oils for oil, grams in poured.doses.get(name, {}).items()}
        quick = seen[name].minutes if name in seen else None
        if doses and quick is not None and min(quick) > 0:
            times = math.sqrt(bare.minutes[0] * bare.minutes[1] / (quick[0] * quick[1]))
            yield Measured(name, Range(*bare.minutes), Range(*quick), times, doses)

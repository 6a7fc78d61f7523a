"""What the maker's own notes hold of a plan's last batch, or of every cup that held an oil."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from math import isfinite, nan
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.result import NotedBatch, OwnLook, OwnWord, ShelfWord
from blendwise.facts.columns import Column
from blendwise.records.as_of import AsOf
from blendwise.records.place import RecordError
from blendwise.science.cure import CURE_DAYS

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.answers.check.result import CheckResult
    from blendwise.records.kinds.plan import Plan
    from blendwise.records.kinds.scent import Scent
    from blendwise.records.notes.batches import Batch
    from blendwise.records.notes.notebook import NoteRow

SEEN: Final = ("colour", "edge", "halo", "strength", "gel", "rivers", "ricing", "remarks")
"""What is told of a look, beside the minutes."""


def noted(book: Door, on: AsOf) -> list[Batch]:
    """Every batch that is noted by that day, in the order of their pours; test cups too."""
    from blendwise.records.notes.batches import batches_of
    from blendwise.records.notes.notebook import read_notebook

    return batches_of(read_notebook(book.folder), book.folder, on.today)[0]


def last_batch(book: Door, plan: str | Path, on: AsOf) -> Batch | None:
    """The plan's last batch that is noted, test cups apart; None where none is."""
    name = book.plan(plan).plan
    own = (each for each in reversed(noted(book, on)) if each.plan == name and not each.is_cup)
    return next(own, None)


def as_poured(book: Door, plan: str | Path, on: AsOf) -> Plan | None:
    """The plan as its last batch was poured by it, with the doses of that day; None where that is not kept.

    The file may have been changed since: bars that were made are judged by what is in them.
    """
    from blendwise.answers.review.past import text_of
    from blendwise.records.book import read_plan

    batch, record = last_batch(book, plan, on), book.plan(plan)
    if batch is None or record.doc is None:
        return None
    text = text_of(book.files, batch, next(iter(batch.poured_as), None))
    try:
        return read_plan(text, book.files, record.doc.file) if text and text != record.doc.text else None
    except RecordError:  # kept for oils that the book no longer has
        return None


def own_looks(
    book: Door, plan: str | Path | None, oils: Sequence[str], on: AsOf
) -> tuple[tuple[OwnLook, ...], tuple[OwnLook, ...]]:
    """The looks at a plan's last batch, and those at the cups of any batch that held one of the oils."""
    last = last_batch(book, plan, on) if plan is not None else None
    held = _looks(noted(book, on)) if oils else ()
    return tuple(_looks([last] if last else [])), tuple(look for look in held if set(oils) & set(look.doses))


def own_words(book: Door, oils: Sequence[str], on: AsOf) -> tuple[OwnWord, ...]:
    """What the entries of oils say was seen of them by that day, the last first."""
    found = (
        OwnWord(oil, day, each.what)
        for oil in oils
        for each in book.files.scents[oil].seen
        if (day := date.fromisoformat(str(each.on))) <= on.today
    )
    return tuple(sorted(found, key=lambda each: each.on, reverse=True))


def seen_cured(book: Door, on: AsOf) -> frozenset[str]:
    """The oils of which the colour of a cup was noted from four weeks on; test cups count."""
    late = (look for look in _looks(noted(book, on)) if look.days >= CURE_DAYS[0] and "colour" in look.told)
    return frozenset(oil for look in late for oil in look.doses)


def shelf_words(book: Door, oils: Sequence[str]) -> dict[str, ShelfWord]:
    """What the entries of oils say of their colour and their speed."""
    return {oil: _shelf_word(book.files.scents[oil]) for oil in oils if oil in book.files.scents}


def _shelf_word(scent: Scent) -> ShelfWord:
    colour, speed = scent.browns_to, scent.acceleration
    said = scent.evidence or ""
    return ShelfWord(
        browns=colour.band if colour else None,
        browns_at=colour.at.text if colour and colour.at else "",
        browns_by=(colour.evidence or said) if colour else "",
        speed=speed.told if speed else None,
        speed_at=speed.at.text if speed and speed.at else "",
        speed_by=(speed.evidence or said) if speed else "",
    )


def alike(book: Door, check: CheckResult, on: AsOf) -> tuple[OwnLook, ...]:
    """The looks at cups of any batch that have the name, and hold the very oils, of a cup of the plan."""
    cups = {row.portion: {oil for oil, mass in row.scents.items() if mass} for row in check.grams}
    return tuple(look for look in _looks(noted(book, on)) if cups.get(look.portion) == set(look.doses))


def batches_noted(book: Door, plan: str | Path, on: AsOf) -> tuple[NotedBatch, ...]:
    """The plan's batches as they were made."""
    name = book.plan(plan).plan
    own = [each for each in noted(book, on) if each.plan == name and not each.is_cup]
    return tuple(_as_made(each) for each in own)


def shelf_lots(book: Door, plan: str | Path | Plan, oils: Sequence[str]) -> dict[str, str]:
    """The lot that stands on the shelf of each oil that is named, else of each of the plan's."""
    scents = book.plan(plan).scents
    names = oils or tuple(scents.blend if scents and scents.blend else ())
    lots = {name: book.files.scents[name].lot for name in names if name in book.files.scents}
    return {name: lot for name, lot in lots.items() if lot}


def planned_warmth(book: Door, plan: str | Path | Plan, on: AsOf) -> tuple[float | None, float | None]:
    """Room and batter as they are planned (°C); None for what nobody planned."""
    s = book.situation(plan, on)
    held = (s.home(each) for each in ("room temperature", "batter temperature"))
    room, batter = (float(each.low[0]) if isinstance(each, Column) else nan for each in held)
    return (room if isfinite(room) else None, batter if isfinite(batter) else None)


def _as_made(batch: Batch) -> NotedBatch:
    room = next((look.room for look in batch.looks if look.room is not None), None)
    warm = next((look.batter_at_split for look in batch.looks if look.batter_at_split is not None), None)
    return NotedBatch(batch.key, date.fromisoformat(batch.poured), room, warm, batch.lots)


def _looks(batches: Iterable[Batch]) -> Iterator[OwnLook]:
    for batch in batches:
        for row in batch.looks:
            yield from _of_row(batch, row)


def _of_row(batch: Batch, row: NoteRow) -> Iterator[OwnLook]:
    frozen = batch.frozen(row.variation)
    for name, seen in row.portions.items():
        grams: Mapping[str, float] = frozen.doses.get(name, {}) if frozen else {}
        portion = frozen.portions.get(name) if frozen else None
        oils = portion.oils if portion else 0.0
        told = {each: str(getattr(seen, each)) for each in SEEN if getattr(seen, each)}
        yield OwnLook(
            batch=batch.key,
            plan=batch.plan,
            look=row.look,
            on=date.fromisoformat(row.on),
            days=batch.days(row),
            portion=name,
            told=told,
            minutes=seen.minutes,
            doses={oil: mass / oils for oil, mass in grams.items() if mass and oils},
            expected=(frozen.predictions.get(name, {}) if frozen else {}).get("browning band", ""),
            unscented=portion.stays_fluid if portion else None,
        )

"""The review: what was seen beside what was expected, what the evidence says, and what to do next."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from typing import Final

from blendwise.answers.refusals import NotAskable
from blendwise.answers.review.advice import the_one_change, what_to_repeat
from blendwise.answers.review.past import Past
from blendwise.answers.review.result import Aside, BatchLine, Difference, OwnPace, ReviewResult, ScentLook
from blendwise.answers.review.rule_record import records_of
from blendwise.answers.review.tallies import tallies_of
from blendwise.answers.review.versions import contests
from blendwise.beliefs.changes import Change, changes_of
from blendwise.beliefs.expected import Compared, Unit, compared, units_of
from blendwise.beliefs.hex_bands import hex_bands
from blendwise.beliefs.kept import learned_of
from blendwise.beliefs.lessons import Lessons
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import BookFiles
from blendwise.records.nearest import hint
from blendwise.records.notes.batches import Batch, batches_of, contradictions
from blendwise.records.notes.codes import parted
from blendwise.records.notes.notebook import Notebook, Seen, read_notebook
from blendwise.records.place import Fault, Place

ENOUGH_TO_PROPOSE: Final = 2  # batches that must say the same before an edit is proposed: judgement


@dataclass(frozen=True)
class Reading:
    """The notebook of a book on a day, read once."""

    book: BookFiles
    today: date
    notebook: Notebook
    batches: tuple[Batch, ...]
    faults: tuple[Fault, ...]

    @cached_property
    def units(self) -> list[Unit]:
        """Every portion of every version of every batch."""
        return [unit for batch in self.batches for unit in units_of(batch)]

    @cached_property
    def bands(self) -> dict[tuple[str, str], str]:
        """The bands that hex codes tell, by note and portion."""
        return hex_bands(self.units, self.book.scales)

    @cached_property
    def set_aside(self) -> tuple[Aside, ...]:
        """The faults as an answer tells them."""
        return tuple(
            Aside(each.place.file.name, each.place.line, each.message, each.remedy) for each in self.faults
        )

    @cached_property
    def lessons(self) -> Lessons:
        """What the notebook teaches."""
        return learned_of(self.book, self.today, self.notebook)


def read(book: BookFiles, today: date) -> Reading:
    """Read all notes; what cannot be read or cannot be true is kept as faults."""
    notebook = read_notebook(book.folder)
    batches, impossible = batches_of(notebook, book.folder, today)
    told = [fault for batch in batches for fault in _contradicted(batch, book)]
    return Reading(book, today, notebook, tuple(batches), (*notebook.faults, *impossible, *told))


def _contradicted(batch: Batch, book: BookFiles) -> Iterator[Fault]:
    for before, after, portion, field in contradictions(batch):
        yield Fault(
            Place(book.folder / "notes" / after.file),
            f'"{portion}": {field} differs from what {before.note} says of the same look; the later counts.',
            "Write a note that corrects the wrong one.",
        )


def review(reading: Reading, rulebook: Rulebook, plan: str | None = None) -> ReviewResult:
    """Expected beside seen for all batches or those of a plan; proposals; what to repeat and change."""
    chosen = of_plan(reading, plan)
    keys = {batch.key for batch in chosen}
    units = [unit for unit in reading.units if unit.batch.key in keys]
    rows = [row for unit in units for row in compared(unit, reading.bands)]
    lines = tuple(_lines(reading, rulebook, chosen, rows))
    return ReviewResult(
        today=reading.today,
        asked="review",
        subject=plan or "",
        batches=lines,
        compared=tuple(rows),
        proposals=tuple(proposals(reading, chosen)),
        repeat=what_to_repeat(lines),
        change=the_one_change(units, reading.bands, reading.lessons, reading.book),
        set_aside=reading.set_aside,
        pours=tuple(_paces(reading, chosen)),
        units=reading.book.usual.units,
    )


def _paces(reading: Reading, batches: Sequence[Batch]) -> Iterator[OwnPace]:
    """The maker's pace in the styles of these batches that were ever timed."""
    styles = dict.fromkeys(day.pour for batch in batches for day in batch.poured_as.values())
    for style in styles:
        if style is not None and (pace := reading.lessons.pours.get(style)):
            factors = (math.exp(each) for each in (pace.mean, *pace.ends()))
            yield OwnPace(style, pace.batches, *factors)


def of_plan(reading: Reading, plan: str | None) -> list[Batch]:
    """The batches of a plan or a code (or the test cups of a name), all batches where none is named.

    NotAskable if there is none.
    """
    if plan is None:
        return [batch for batch in reading.batches if not batch.is_cup]
    named = (plan, parted(plan)[0])
    chosen = [batch for batch in reading.batches if batch.plan == plan or batch.key in named]
    if not chosen:
        known = list(dict.fromkeys(batch.plan for batch in reading.batches))
        raise NotAskable(f'No batch of "{plan}" is noted.', hint(plan, known, "The notebook"))
    return chosen


def _lines(
    reading: Reading, rulebook: Rulebook, batches: Sequence[Batch], rows: Sequence[Compared]
) -> Iterator[BatchLine]:
    past, by_batch = Past(reading.book, reading.today, rulebook), dict[str, list[Compared]]()
    for row in rows:
        by_batch.setdefault(row.batch, []).append(row)
    for batch in batches:
        own = [row.verdict for row in by_batch.get(batch.key, []) if row.verdict]
        said = [look.repeat for look in batch.looks if look.repeat is not None]
        good = own.count("as expected")
        liked = tuple(dict.fromkeys(name for look in batch.looks for name in look.favourites))
        yield BatchLine(
            batch.key, batch.plan, batch.poured, len(batch.looks), said[-1] if said else None, liked,
            good, len(own) - good, past.of(batch),
        )  # fmt: skip


def proposals(reading: Reading, batches: Sequence[Batch]) -> Iterator[Change]:
    """Edits of the catalogue that enough batches speak for, of the oils in these batches."""
    used = {
        oil for batch in batches for poured in batch.poured_as.values()
        for doses in poured.doses.values() for oil in doses
    }  # fmt: skip
    for name, learned in reading.lessons.oils.items():
        scent = reading.book.scents.get(name)
        if scent is None or name not in used:
            continue
        for change in changes_of(scent, learned, reading.book.scales):
            if change.differs and change.supporting >= ENOUGH_TO_PROPOSE:
                yield change


def review_rules(reading: Reading, rulebook: Rulebook, plan: str | None = None) -> ReviewResult:
    """Each rule's record."""
    keys = {batch.key for batch in of_plan(reading, plan)}
    units = [unit for unit in reading.units if unit.batch.key in keys]
    found = tuple(records_of(rulebook.rules, units, reading.bands))
    return ReviewResult(reading.today, "rules", plan or "", rules=found, set_aside=reading.set_aside)


def review_scent(reading: Reading, name: str) -> ReviewResult:
    """What the evidence says of one oil, and every look at it."""
    scent = reading.book.scents.get(name)
    if scent is None:
        raise NotAskable(
            f'There is no scent "{name}".', hint(name, list(reading.book.scents), "The catalogue")
        )
    beliefs = tuple(changes_of(scent, reading.lessons.oils.get(name), reading.book.scales))
    looks = tuple(look for unit in reading.units for look in _looks_at(unit, name))
    return ReviewResult(
        reading.today, "scent", name, beliefs=beliefs, looks=looks,
        tallies=tuple(tallies_of(reading.units, name)), units=reading.book.usual.units,
        proposals=tuple(each for each in beliefs if each.differs and each.supporting >= ENOUGH_TO_PROPOSE),
        set_aside=reading.set_aside,
    )  # fmt: skip


def _looks_at(unit: Unit, oil: str) -> Iterator[ScentLook]:
    grams = unit.poured.doses.get(unit.portion, {}).get(oil, 0.0) if unit.poured else 0.0
    if grams <= 0:
        return
    dose = grams / unit.made.oils if unit.made else None
    for look, seen in unit.looks:
        yield ScentLook(
            look.note, look.on, unit.batch.key, look.look, unit.portion, grams, dose, in_short(seen), seen
        )


def in_short(seen: Seen) -> str:
    """Everything seen of a portion in one line."""
    said = []
    if seen.minutes is not None:
        low, high = seen.minutes
        said.append(f"thick at {low:.3g} min" if low == high else f"thick at {low:.3g} to {high:.3g} min")
    if seen.fluid_at is not None:
        said.append(f"still fluid at {seen.fluid_at:.3g} min")
    for field in ("ricing", "colour", "edge", "halo", "strength", "gel", "ash", "rivers", "spots"):
        value = getattr(seen, field)
        if value is not None:
            said.append(f"{field} {value}")
    return ", ".join([*said, seen.remarks] if seen.remarks else said)


def review_variations(reading: Reading, plan: str | None = None) -> ReviewResult:
    """Which version won."""
    found = tuple(contests(of_plan(reading, plan)))
    return ReviewResult(reading.today, "variations", plan or "", contests=found, set_aside=reading.set_aside)


def review_against(reading: Reading, one: str, other: str) -> ReviewResult:
    """What differed between two batches beside what differed in the bars; a plan is its last batch."""
    from blendwise.answers.review.side_by_side import differences

    first, second = of_plan(reading, one)[-1], of_plan(reading, other)
    rest = [batch for batch in second if batch.key != first.key]
    if not rest:
        raise NotAskable(f'"{other}" names no second batch.', "Name a batch by its code, or another plan.")
    found: tuple[Difference, ...] = tuple(differences(first, rest[-1], reading.book.usual.units))
    subject = f"{first.key} against {rest[-1].key}"
    return ReviewResult(reading.today, "against", subject, differences=found, set_aside=reading.set_aside)

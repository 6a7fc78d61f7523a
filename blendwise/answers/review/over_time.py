"""The notebook over time: what was believed of an oil after each of its batches, colours look by look."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Final

from blendwise.answers.review.compute import Reading
from blendwise.beliefs.changes import Change
from blendwise.beliefs.expected import Unit
from blendwise.beliefs.kept import shelf_of
from blendwise.beliefs.lessons import EIGHTY
from blendwise.records.notes.batches import batches_of

if TYPE_CHECKING:
    from blendwise.beliefs.learning.learn import Shelf

STORIES: Final = 6
"""Beliefs that are told over time: those that the looks narrowed most."""
MOMENTS: Final = 6
"""Days at which a belief is worked out again, today among them."""
SAYS: Final = {
    "acceleration": ("minutes", "fluid_at"),
    "browning": ("colour",),
    "after six weeks": ("strength",),
}
"""What a look must hold to say something of a trait."""
NARROWED: Final = 0.1
"""Of its doubt that must be gone before a belief has a story."""


@dataclass(frozen=True, slots=True)
class Moment:
    """What was believed from a day on: the middle, and the ends that hold 80 %."""

    since: date
    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class Story:
    """One trait of one oil over time; the first moment is before any look."""

    change: Change
    moments: tuple[Moment, ...]
    today: date


@dataclass(frozen=True, slots=True)
class Shade:
    """A colour that was seen of a portion, so many days after its pour; ``word``: the band it counts as."""

    days: int
    look: str
    word: str


@dataclass(frozen=True, slots=True)
class Weeks:
    """A portion through the weeks: the band expected ("" where none was written), and every look."""

    batch: str
    plan: str
    portion: str
    version: str
    expected: str
    shades: tuple[Shade, ...]


def stories(reading: Reading, changes: Iterable[Change]) -> Iterator[Story]:
    """How the beliefs that narrowed most came about, the most narrowed first."""
    narrowed = sorted((each for each in changes if gone(each) >= NARROWED), key=gone, reverse=True)
    shelf = shelf_of(reading.book) if narrowed else None
    yield from (_story(reading, each, shelf) for each in narrowed[:STORIES] if shelf is not None)


def gone(change: Change) -> float:
    """Which part of the doubt before any look is gone."""
    return 1 - change.sd / change.prior_sd if change.prior_sd > 0 else 0.0


def _story(reading: Reading, change: Change, shelf: Shelf) -> Story:
    from blendwise.beliefs.learning.learn import learn_one

    days = _days(reading, change)
    spread = EIGHTY * change.prior_sd
    first = min([*days, reading.today])
    told = [Moment(first, change.prior_mean - spread, change.prior_mean, change.prior_mean + spread)]
    for day in days[:-1]:
        batches, _ = batches_of(reading.notebook, reading.book.folder, day)
        belief = learn_one(change.trait, change.oil, batches, shelf)
        if belief is not None and belief.looks:
            low, high = belief.ends()
            told.append(Moment(day, low, belief.mean, high))
    told.append(Moment(days[-1] if days else reading.today, change.low, change.mean, change.high))
    return Story(change, tuple(told), reading.today)


def _days(reading: Reading, change: Change) -> list[date]:
    """The days of the looks that say something of a belief: all, or so many spread evenly."""
    found = sorted(
        {
            date.fromisoformat(look.on)
            for unit in reading.units
            if unit.poured and unit.poured.doses.get(unit.portion, {}).get(change.oil, 0.0) > 0
            for look, seen in unit.looks
            if any(getattr(seen, field) is not None for field in SAYS[change.trait])
        }
    )
    if len(found) <= MOMENTS:
        return found
    return [found[round(n * (len(found) - 1) / (MOMENTS - 1))] for n in range(MOMENTS)]


def weeks(reading: Reading, batches: Sequence[str]) -> Iterator[Weeks]:
    """Every portion of these batches of which a colour was seen, look by look."""
    for unit in reading.units:
        if unit.batch.key in batches and (shades := tuple(_shades(reading, unit))):
            expected = unit.poured.predictions.get(unit.portion, {}) if unit.poured else {}
            yield Weeks(
                unit.batch.key,
                unit.batch.plan,
                unit.portion,
                unit.variation or "",
                expected.get("browning band", ""),
                shades,
            )


def _shades(reading: Reading, unit: Unit) -> Iterator[Shade]:
    for look, seen in unit.looks:
        word = reading.bands.get((look.note, unit.portion)) or (seen.colour or "")
        if word and not word.startswith("#"):
            yield Shade(unit.batch.days(look), look.look, word)

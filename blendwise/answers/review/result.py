"""Typed results of a review and of an adopted edit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from blendwise.answers.answer import Answer, hidden, keys, published
from blendwise.answers.harm import PouredPast
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.beliefs.changes import Change
from blendwise.beliefs.expected import Compared, Trouble
from blendwise.quantity import METRIC, Units
from blendwise.records.notes.notebook import Seen


@dataclass(frozen=True, slots=True)
class BatchLine:
    """One batch in short: how it was liked, and how many of its looks came out as expected."""

    batch: str
    plan: str
    poured: str
    looks: int
    repeat: bool | None
    favourites: tuple[str, ...]
    as_expected: int
    otherwise: int
    past: PouredPast | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """What to repeat or the one thing to change: ``kind`` names its sentence, the rest fills it in."""

    kind: str
    plan: str
    batch: str
    portion: str = ""
    oil: str = ""
    times: int = 0
    of: int = 0
    seen: str = ""
    expected: str = ""


@dataclass(frozen=True, slots=True)
class ScentLook:
    """One look at a portion that held an oil: ``grams`` of it, ``dose`` in g per g of the portion's oils.

    ``whole``: all that was seen, thing by thing; ``seen`` is the same in a line.
    """

    note: str
    on: str
    batch: str
    look: str
    portion: str
    grams: float
    dose: float | None
    seen: str
    whole: Seen = hidden(Seen())


@dataclass(frozen=True, slots=True)
class Tally:
    """In how many batches (``came``) of those looked at (``of``) an oil's portions showed a trouble.

    ``lot``: of the oil, "" where nobody wrote one down.  ``warm_came``, ``warm_stayed``: degrees Celsius of
    the batter at the split of the batches with it and of those without, rising, where they were kept.
    """

    kind: Trouble
    lot: str
    came: int
    of: int
    warm_came: tuple[float, ...] = ()
    warm_stayed: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs between two batches; ``kind`` "poured" (what was done) or "bars" (what came)."""

    kind: str
    what: str
    one: str
    other: str


@dataclass(frozen=True, slots=True)
class Aside:
    """A note that does not count, and why."""

    file: str
    line: int
    message: str
    remedy: str


@dataclass(frozen=True, slots=True)
class OwnPace:
    """How long a style takes with this maker, as a factor on the rulebook's minutes, with the ends that hold
    80 % of the next pours; from so many timed batches."""

    style: str
    batches: int
    factor: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class ReviewResult(Answer):
    """Expected beside seen, and what follows from it.  Parts that were not asked for are empty."""

    SCHEMA = "blendwise/review/1"

    today: date
    asked: str
    subject: str
    batches: tuple[BatchLine, ...] = ()
    compared: tuple[Compared, ...] = ()
    proposals: tuple[Change, ...] = ()
    repeat: Advice | None = None
    change: Advice | None = None
    rules: tuple[Record, ...] = ()
    beliefs: tuple[Change, ...] = ()
    looks: tuple[ScentLook, ...] = ()
    tallies: tuple[Tally, ...] = ()
    contests: tuple[Contest, ...] = ()
    differences: tuple[Difference, ...] = ()
    set_aside: tuple[Aside, ...] = ()
    pours: tuple[OwnPace, ...] = ()
    units: Units = hidden(METRIC)

    def frame_rows(self) -> Iterator[Compared]:
        """Expected beside seen, a row each."""
        return iter(self.compared)

    def frame_columns(self) -> list[str]:
        """All that a comparison says."""
        return [key for key, _ in keys(Compared)]


@dataclass(frozen=True, slots=True)
class AdoptResult(Answer):
    """An edit of one oil on the maker's word; ``diff`` is the change of the file, line by line."""

    SCHEMA = "blendwise/adopt/1"

    oil: str
    file: str
    changes: tuple[Change, ...]
    diff: str
    written: bool

    def frame_rows(self) -> Iterator[Mapping[str, Any]]:
        """The changes, a row each, what the batches told as a list."""
        return (published(each) for each in self.changes)

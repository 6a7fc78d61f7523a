"""Typed results of noting a look and of what is due."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from blendwise.answers.answer import Answer, hidden, keys
from blendwise.answers.harm import PouredPast
from blendwise.answers.note.measured import Measured
from blendwise.answers.note.said import ReadAs
from blendwise.quantity import METRIC, Units


@dataclass(frozen=True, slots=True)
class Next:
    """The next look of a batch."""

    look: str
    day: date


@dataclass(frozen=True, slots=True)
class Due:
    """A look that is to come or overdue: ``days_over`` is negative until its day has come."""

    batch: str
    plan: str
    look: str
    day: date
    days_over: int


@dataclass(frozen=True, slots=True)
class Turn:
    """What is believed of one trait of an oil, before a look and after it (None: nothing is known)."""

    oil: str
    trait: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class NoteResult(Answer):
    """A note as it was written (or would be: ``written`` is False on a dry run).

    ``understood``: what was said of each portion, as it is noted; ``changes``: what this look made of what
    is believed of oils.  ``past``: the harms that it was poured past, told at the first note; then a dry run
    keeps its text to itself, for the plan's lye stands in it.  ``measured``: of a test cup.
    """

    SCHEMA = "blendwise/note/1"

    note: str
    file: str
    plan: str
    look: str
    on: date
    batch: str
    after: str
    froze: bool
    written: bool
    text: str
    next: Next | None
    understood: tuple[ReadAs, ...] = ()
    changes: tuple[Turn, ...] = ()
    past: PouredPast | None = None
    measured: tuple[Measured, ...] = ()
    units: Units = hidden(METRIC)

    def frame_rows(self) -> Iterator[Mapping[str, Any]]:
        """The document as one row, without the look to come and what is told of its parts."""
        apart = ("next", "past", "understood", "changes", "measured")
        yield {key: value for key, value in self.to_json().items() if key not in apart}


@dataclass(frozen=True, slots=True)
class DueResult(Answer):
    """All looks that are to come."""

    SCHEMA = "blendwise/due/1"

    today: date
    due: tuple[Due, ...]

    def frame_rows(self) -> Iterator[Due]:
        """A row a look."""
        return iter(self.due)

    def frame_columns(self) -> list[str]:
        """All that is said of a look."""
        return [key for key, _ in keys(Due)]

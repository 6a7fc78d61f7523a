"""Typed results of a review and of an adopted edit."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blendwise.answers.review.documents import ADOPT_SCHEMA, REVIEW_SCHEMA, AdoptDoc, ReviewDoc, change_doc
from blendwise.answers.review.rule_record import Record
from blendwise.answers.review.versions import Contest
from blendwise.answers.shapes import head
from blendwise.beliefs.changes import Change
from blendwise.beliefs.expected import Compared
from blendwise.records.place import Fault

if TYPE_CHECKING:
    import pandas as pd


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
    """One look at a portion that held an oil."""

    note: str
    on: str
    batch: str
    look: str
    portion: str
    grams: float
    dose: float | None
    seen: str


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that differs between two batches; ``kind`` "poured" (what was done) or "bars" (what came)."""

    kind: str
    what: str
    one: str
    other: str


@dataclass(frozen=True, slots=True)
class ReviewResult:
    """Expected beside seen, and what follows from it.  Parts that were not asked for are empty."""

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
    contests: tuple[Contest, ...] = ()
    differences: tuple[Difference, ...] = ()
    set_aside: tuple[Fault, ...] = ()

    def to_json(self) -> ReviewDoc:
        """The published document of ``blendwise review --json``."""
        from blendwise.answers.review.documents import review_body

        return {**head(REVIEW_SCHEMA), **review_body(self)}

    def to_frame(self) -> pd.DataFrame:
        """Expected beside seen, a row each."""
        import pandas as pd

        from blendwise.answers.review.documents import ComparedDoc, compared_doc

        rows = [compared_doc(each) for each in self.compared]
        return pd.DataFrame(rows, columns=list(ComparedDoc.__annotations__))


@dataclass(frozen=True, slots=True)
class AdoptResult:
    """An edit of one oil on the maker's word; ``diff`` is the change of the file, line by line."""

    oil: str
    file: str
    changes: tuple[Change, ...]
    diff: str
    written: bool

    def to_json(self) -> AdoptDoc:
        """The published document of ``blendwise review --adopt --json``."""
        return {
            **head(ADOPT_SCHEMA),
            "oil": self.oil,
            "file": self.file,
            "changes": [change_doc(each) for each in self.changes],
            "diff": self.diff,
            "written": self.written,
        }

    def to_frame(self) -> pd.DataFrame:
        """The changes, a row each."""
        import pandas as pd

        return pd.DataFrame([change_doc(each) for each in self.changes])

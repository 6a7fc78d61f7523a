"""Typed results of noting a look and of what is due, with their published documents."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from typing_extensions import TypedDict

from blendwise.answers.documents import HeadDoc
from blendwise.answers.shapes import head

if TYPE_CHECKING:
    import pandas as pd

NOTE_SCHEMA = "blendwise/note/1"
DUE_SCHEMA = "blendwise/due/1"


class DueDoc(TypedDict):
    """A look that is to come: ``days_over`` is negative until its day has come."""

    batch: str
    plan: str
    look: str
    day: str
    days_over: int


class NextDoc(TypedDict):
    """The next look of the batch."""

    look: str
    day: str


class NoteDoc(HeadDoc):
    """The document of ``blendwise note --json``."""

    note: str
    file: str
    plan: str
    look: str
    on: str
    batch: str
    after: str
    froze: bool
    written: bool
    text: str
    next: NextDoc | None


class DueListDoc(HeadDoc):
    """The document of ``blendwise note --due --json``."""

    today: str
    due: list[DueDoc]


@dataclass(frozen=True, slots=True)
class Due:
    """A look that is to come or overdue."""

    batch: str
    plan: str
    look: str
    day: date
    days_over: int


@dataclass(frozen=True, slots=True)
class NoteResult:
    """A note as it was written (or would be: ``written`` is False on a dry run)."""

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
    next_due: tuple[str, date] | None

    def to_json(self) -> NoteDoc:
        """The published document."""
        coming = self.next_due
        return {
            **head(NOTE_SCHEMA),
            "note": self.note,
            "file": self.file,
            "plan": self.plan,
            "look": self.look,
            "on": self.on.isoformat(),
            "batch": self.batch,
            "after": self.after,
            "froze": self.froze,
            "written": self.written,
            "text": self.text,
            "next": None if coming is None else {"look": coming[0], "day": coming[1].isoformat()},
        }

    def to_frame(self) -> pd.DataFrame:
        """The note as one row."""
        import pandas as pd

        return pd.DataFrame([{key: value for key, value in self.to_json().items() if key != "next"}])


@dataclass(frozen=True, slots=True)
class DueResult:
    """All looks that are to come."""

    today: date
    due: tuple[Due, ...]

    def to_json(self) -> DueListDoc:
        """The published document."""
        return {
            **head(DUE_SCHEMA),
            "today": self.today.isoformat(),
            "due": [_due_doc(each) for each in self.due],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row a look."""
        import pandas as pd

        return pd.DataFrame([_due_doc(each) for each in self.due], columns=list(DueDoc.__annotations__))


def _due_doc(due: Due) -> DueDoc:
    return {
        "batch": due.batch,
        "plan": due.plan,
        "look": due.look,
        "day": due.day.isoformat(),
        "days_over": due.days_over,
    }

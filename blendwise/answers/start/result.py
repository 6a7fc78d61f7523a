"""What ``start`` answers: the book that was made, and how its first plan came out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from blendwise.answers.answer import Answer

FIRST_PLAN: Final = "plans/first.yaml"


@dataclass(frozen=True, slots=True)
class StartResult(Answer):
    """A book that was made.  ``taken``: questions with their default; ``sound``: the first plan's check.

    ``unread_columns``: of the spreadsheet, kept as remarks alone; ``sheet_answers``: the file that says so.
    """

    SCHEMA = "blendwise/start/1"

    folder: str
    files: tuple[str, ...]
    answers: Mapping[str, str]
    taken: tuple[str, ...]
    oils_on_the_shelf: int
    sound: bool
    kept: bool = True
    first_plan: str = FIRST_PLAN
    sheet_answers: str = ""
    unread_columns: tuple[str, ...] = ()

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row a file."""
        return ({"file": file} for file in self.files)

    def frame_columns(self) -> list[str]:
        """The files alone."""
        return ["file"]

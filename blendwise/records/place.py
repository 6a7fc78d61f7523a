"""Where something is written, and what is wrong there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

MOST_FAULTS: Final = 100


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A file, a line and a column, both counted from 1."""

    file: Path
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"

    @property
    def spot(self) -> Spot:
        """The same place as answers carry it."""
        return Spot(str(self.file), self.line, self.column)


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """A place as answers show it: ``file`` relative to the book, or by its rulebook's folder and name."""

    file: str
    line: int
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in one place: what it is, and what to write instead (may be empty)."""

    place: Place
    message: str
    remedy: str = ""

    def __str__(self) -> str:
        return f"{self.place}: {self.message}" + (f" {self.remedy}" if self.remedy else "")


class RecordError(Exception):
    """Files that cannot be used as they stand: the faults found in them, in order of place.

    At most ``MOST_FAULTS`` are kept; ``more`` says how many there were beyond them.
    """

    def __init__(self, faults: Sequence[Fault]) -> None:
        ordered = sorted(dict.fromkeys(faults), key=lambda fault: (fault.place, fault.message))
        self.faults: tuple[Fault, ...] = tuple(ordered[:MOST_FAULTS])
        self.more = len(ordered) - len(self.faults)
        left = [f"and {self.more} more"] if self.more else []
        super().__init__("\n".join([*map(str, self.faults), *left]))


def read_fault(file: Path, message: str, remedy: str = "") -> RecordError:
    """A RecordError about a file as a whole."""
    return RecordError([Fault(Place(file), message, remedy)])

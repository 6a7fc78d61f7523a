"""Where something is written, and what is wrong there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A file, a line and a column, both counted from 1."""

    file: Path
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in one place: what it is, and what to write instead (may be empty)."""

    place: Place
    message: str
    remedy: str = ""

    def __str__(self) -> str:
        return f"{self.place}: {self.message}" + (f" {self.remedy}" if self.remedy else "")


class RecordError(Exception):
    """Files that cannot be used as they stand; all the faults found in them, in order of place."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        ordered = sorted(dict.fromkeys(faults), key=lambda fault: (fault.place, fault.message))
        super().__init__("\n".join(map(str, ordered)))
        self.faults: tuple[Fault, ...] = tuple(ordered)


def read_fault(file: Path, message: str, remedy: str = "") -> RecordError:
    """A RecordError about a file as a whole."""
    return RecordError([Fault(Place(file), message, remedy)])

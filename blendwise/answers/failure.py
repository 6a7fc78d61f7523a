"""Why a command could not answer: what is wrong, where, and what to do; with its published document."""

from __future__ import annotations

from dataclasses import dataclass

from blendwise.answers.answer import Answer


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing wrong; without a file where no file is to blame, without a line where all of it is."""

    file: str | None
    line: int | None
    column: int | None
    message: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Failure(Answer):
    """What any command says that could not answer, and the exit code that it leaves."""

    SCHEMA = "blendwise/error/1"

    kind: str
    exit_code: int
    faults: tuple[Trouble, ...]

    def frame_rows(self) -> tuple[Trouble, ...]:
        """A row a fault."""
        return self.faults

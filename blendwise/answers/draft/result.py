"""What ``draft`` answers: the plan that was drafted, every answer, and the advice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from blendwise.answers.answer import Answer
from blendwise.answers.check.result import CheckResult


@dataclass(frozen=True, slots=True)
class DraftResult(Answer):
    """The plan that was drafted, its text, where it was written ("" where it was not), and the advice."""

    SCHEMA = "blendwise/draft/1"

    plan: str
    text: str
    answers: Mapping[str, str]
    check: CheckResult
    written: str = ""

    def frame_rows(self) -> Iterator[dict[str, object]]:
        """A row an answer, in the order of the questions."""
        return ({"question": question, "answer": answer} for question, answer in self.answers.items())

    def frame_columns(self) -> list[str]:
        """The questions with their answers."""
        return ["question", "answer"]

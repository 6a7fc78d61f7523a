"""A plan by questions: each answer is checked by itself, and in the plan as far as it stands."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING, Final

from blendwise.answers.draft.checks import checked
from blendwise.answers.draft.questions import Question, next_question
from blendwise.answers.draft.remarks import Remark, remarks
from blendwise.answers.draft.result import DraftResult
from blendwise.answers.draft.text import plan_text
from blendwise.answers.refusals import NotAskable
from blendwise.beliefs.believe import AS_WRITTEN, Believing
from blendwise.facts.situation.appearance import appearance
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import BookFiles, read_plan
from blendwise.records.kinds.scent import BANDS
from blendwise.records.place import RecordError

if TYPE_CHECKING:
    from pathlib import Path

LIGHT: Final = (80.0, 70.0, 60.0, 48.0, 36.0)
"""CIELAB lightness down to which a portion is offered ivory, cream, beige, tan, brown: a judgement."""


@dataclass
class Draft:
    """A draft under way.  ``answers``: what was said, as typed, under the keys of the questions."""

    name: str
    file: Path
    book: BookFiles
    rulebook: Rulebook
    today: date
    believing: Believing = AS_WRITTEN
    answers: dict[str, str] = field(default_factory=dict)
    told: set[str] = field(default_factory=set)

    def question(self) -> Question | None:
        """What is asked next; None once everything is answered."""
        asked = next_question(self.answers, self.book)
        if asked is not None and asked.kind == "becomes":
            return replace(asked, default=self._band(asked.subject))
        return asked

    def answer(self, question: Question, text: str) -> list[Remark]:
        """Take an answer (empty: the default); what is to be said of it.

        NotAskable or QuantityError with what to write instead where it cannot be taken; it is not kept then.
        """
        said = text.strip() or question.default
        if not said and not question.empty:
            remedy = "Answer it in a few words; at a prompt `<` goes back."
            raise NotAskable("Nothing was answered, and this has no default.", remedy)
        kept = checked(question.kind, said, self.book, self.answers)
        trial = {**self.answers, question.key: kept}
        situation = self._tried(trial) if "lye" in trial else None
        self.answers[question.key] = kept
        if situation is None:
            return []
        return list(remarks(question, situation, self.rulebook, self.told))

    def back(self, given: Collection[str] = ()) -> None:
        """Take the last answer back that was not ``given`` beforehand."""
        while self.answers and self.answers.popitem()[0] in given:
            continue

    def finished(self) -> DraftResult:
        """The advice on the finished plan; RecordError where it cannot be worked out."""
        from blendwise.answers.check.compute import check_situation

        text = plan_text(self.name, self.answers, self.book, self.today)
        advice = check_situation(self._situation(self.answers), self.rulebook)
        return DraftResult(self.name, text, dict(self.answers), advice)

    def _situation(self, answers: Mapping[str, str]) -> Situation:
        text = plan_text(self.name, answers, self.book, self.today)
        plan = read_plan(text, self.book, self.file)
        return work_out(plan, self.book, self.today, None, self.believing)

    def _tried(self, answers: Mapping[str, str]) -> Situation:
        """The plan so far, worked out; NotAskable with the first reason why it cannot be."""
        try:
            return self._situation(answers)
        except RecordError as error:
            fault = error.faults[0]
            raise NotAskable(fault.message, fault.remedy) from None

    def _band(self, portion: str) -> str:
        """The band that a portion of this lightness may reach and hardly show it."""
        s = self._situation(self.answers)
        light = float(appearance(s).planned[s.portions.index(portion), 0])
        return BANDS[sum(light < bound for bound in LIGHT)]

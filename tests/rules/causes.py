"""Causes prove themselves: each of their hits must speak for them, none of their misses may.

Rows are read as those of the rules are, so that they may lean on the limit of what speaks ``for`` a cause.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from blendwise.answers.why.causes import ReadCause, read_causes, weigh
from blendwise.facts.columns import Vocabulary
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.rows import Row, read_row
from blendwise.judge.rulebook.selftest import one_row
from blendwise.records.kinds.rule import RuleRecord
from blendwise.records.kinds.symptom import Symptoms


@dataclass(frozen=True)
class CauseCase:
    """One row of facts that a cause is asked of; ``speaks``: whether it must speak for the cause."""

    name: str
    cause: ReadCause
    raw: dict[str, object]
    speaks: bool
    vocabulary: Vocabulary

    @cached_property
    def row(self) -> Row:
        """The row, read; ConditionError where it cannot be."""
        return read_row(_as_rule(self.cause), self.raw, self.vocabulary, ())

    @property
    def why(self) -> str:
        """Empty where the case comes out as it must, else what is wrong."""
        grain = self.cause.record.looks_at
        table = one_row(grain, self.row, self.vocabulary)
        standing = weigh(self.cause, {grain: table}).standing
        wanted = "for" if self.speaks else "not for"
        right = (standing == "for") == self.speaks
        return "" if right else f"{self.name} comes out {standing}, not {wanted}."


def cause_cases(found: Symptoms, vocabulary: Vocabulary) -> Iterator[CauseCase]:
    """Every row of every cause, named ``symptom/cause/hit-1``."""
    for symptom in found.symptoms:
        for cause in read_causes(found, symptom, vocabulary):
            for kind, rows in (("hit", cause.record.hits), ("miss", cause.record.misses)):
                for number, raw in enumerate(rows, 1):
                    name = f"{symptom.symptom}/{cause.record.cause}/{kind}-{number}"
                    yield CauseCase(name, cause, raw, kind == "hit", vocabulary)


def _as_rule(cause: ReadCause) -> Rule:
    """The cause as a rule whose demand is what speaks for it: its limits are what rows lean on."""
    record = RuleRecord.model_validate(
        {"rule": "cause", "looks at": cause.record.looks_at, "must": cause.record.for_, "else": "hint"}
    )
    return Rule("cause", "hint", cause.record.looks_at, cause.against, cause.for_, record)

"""What is said of a draft after an answer: how much it makes, what the pour asks, what breaks a rule."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from blendwise.answers.check.compute import judge_situation
from blendwise.answers.draft.questions import Question
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.layers import Rulebook

JUDGED_AFTER: Final = frozenset({"becomes", "parts", "load", "dosing", "never"})
"""Kinds of question after which the plan so far is put to the rulebook."""
HEAVY: Final = ("stop", "conflict")


@dataclass(frozen=True, slots=True)
class Remark:
    """Something to say: ``kind`` names its words, ``details`` (canonical numbers) and findings fill them."""

    kind: str
    details: Mapping[str, str | float] = field(default_factory=dict)
    findings: Sequence[Finding] = ()


def remarks(question: Question, s: Situation, rulebook: Rulebook, told: set[str]) -> Iterator[Remark]:
    """What an answer brought about; ``told``: findings said before, to which those said now are added."""
    if question.kind == "lye":
        yield Remark("pot", _pot(s))
    if question.kind == "pour" and s.pour is not None:
        pour = s.pour
        spread: dict[str, str | float] = {"least": pour.minutes.low, "most": pour.minutes.high}
        yield Remark("pour", {**spread, "batter": pour.batter, "bears": pour.tolerates})
    if question.kind == "becomes":
        mass = float(s.split.batter[s.portions.index(question.subject)])
        yield Remark("portion", {"name": question.subject, "batter": mass})
    if question.kind in JUDGED_AFTER:
        yield from _broken(s, rulebook, told)


def _pot(s: Situation) -> dict[str, str | float]:
    pot = s.pot
    return {"oils": pot.oils_total, "naoh": pot.weighed, "water": pot.water, "batter": pot.batter}


def _broken(s: Situation, rulebook: Rulebook, told: set[str]) -> Iterator[Remark]:
    found = [
        finding
        for finding in judge_situation(s, rulebook).findings
        if finding.status == "broken" and finding.level in HEAVY
    ]
    new = [finding for finding in found if f"{finding.rule}/{finding.subject_text}" not in told]
    told.update(f"{finding.rule}/{finding.subject_text}" for finding in new)
    if new:
        yield Remark("broken", {}, tuple(new))

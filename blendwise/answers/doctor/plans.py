"""The plans of a book before the rulebook: how each stands, which passed once and do not now, idle rules."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final

import numpy as np

from blendwise.answers.check.compute import check_situation, judge_situation, relative
from blendwise.answers.check.versions import with_versions
from blendwise.answers.doctor.result import PlanLine, Sign
from blendwise.beliefs.believe import Believing
from blendwise.facts.situation.worked_out import Situation, versions_of, work_out
from blendwise.facts.tables import tables
from blendwise.judge.conditions import logic
from blendwise.judge.findings.evaluate import Facts, evaluate
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.records.book import BookFiles, load_plan
from blendwise.records.notes.batches import Batch
from blendwise.records.notes.notebook import Poured
from blendwise.records.place import Fault, RecordError, Spot

HEAVY: Final = ("stop", "conflict")


@dataclass(frozen=True, slots=True)
class Examined:
    """One plan: how it stands, its situation (None where it cannot be worked out), and how far rules came.

    ``asked``: names of the rules that were asked of anything in it; ``broken``: of those broken or undecided.
    """

    line: PlanLine
    situation: Situation | None = None
    faults: tuple[Fault, ...] = ()
    asked: frozenset[str] = frozenset()
    broken: frozenset[str] = frozenset()


def examined(path: Path, book: BookFiles, rulebook: Rulebook, today: date, believing: Believing) -> Examined:
    """Judge one plan; what stands in the way is kept with it."""
    file = relative(str(path), book.folder)
    try:
        s = work_out(load_plan(path, book), book, today, None, believing)
        findings = with_versions(check_situation(s, rulebook), s, rulebook).findings
        worked = [_worked(each, rulebook) for each in (s, *versions_of(s))]
    except RecordError as error:
        return Examined(PlanLine(path.stem, file, judged=False), None, error.faults)
    asked, broken = (frozenset[str]().union(*names) for names in zip(*worked, strict=True))
    return Examined(_line(s.plan.plan, file, findings), s, (), asked, broken)


def _line(plan: str, file: str, findings: Sequence[Finding]) -> PlanLine:
    broken: list[str] = [finding.level for finding in findings if finding.status == "broken"]
    waiting = [f for f in findings if f.status == "undecided" and f.level in HEAVY]
    undecided = sum(f.stands for f in waiting)
    counts = (*map(broken.count, ("stop", "conflict", "caution")), undecided, len(waiting) - undecided)
    return PlanLine(plan, file, True, *counts)


def _worked(s: Situation, rulebook: Rulebook) -> tuple[frozenset[str], frozenset[str]]:
    """The rules that were asked of any row, and those that were broken or undecided in one."""
    facts = {grain: Facts(table) for grain, table in tables(s).items()}
    asked, broken = set(), set()
    for rule in rulebook.rules:
        outcomes = evaluate(rule, facts[rule.looks_at]).outcomes
        if (outcomes != logic.NOT_ASKED).any():
            asked.add(rule.name)
        if (outcomes >= logic.UNDECIDED).any():
            broken.add(rule.name)
    return frozenset(asked), frozenset(broken)


def rules_without_work(plans: Sequence[Examined], rulebook: Rulebook) -> Iterator[Sign]:
    """Rules that were asked of nothing in any plan, and rules that every plan keeps."""
    judged = [plan for plan in plans if plan.situation is not None]
    if not judged:
        return
    asked = frozenset[str]().union(*(plan.asked for plan in judged))
    broken = frozenset[str]().union(*(plan.broken for plan in judged))
    idle = tuple(rule.name for rule in rulebook.rules if rule.name not in asked)
    kept = tuple(rule.name for rule in rulebook.rules if rule.name in asked - broken)
    if idle:
        yield Sign("never asked", "hint", "the rulebook", idle)
    if kept:
        yield Sign("never broken", "hint", "the rulebook", kept)


def no_longer_passing(
    plans: Sequence[Examined], batches: Sequence[Batch], book: BookFiles, rulebook: Rulebook
) -> Iterator[Sign]:
    """Plans against which no rule spoke on the day of their last pour, and one does since rules changed."""
    for plan in plans:
        own = [batch for batch in batches if batch.plan == plan.line.plan]
        if plan.situation is None or not own:
            continue
        last = max(own, key=lambda batch: batch.poured)
        new: dict[str, None] = {}
        for then in last.poured_as.values():
            if then.rules and then.rules != rulebook.fingerprint:
                new |= dict.fromkeys(_newly(plan.situation, then, rulebook))
        if new:
            place = Spot(plan.line.file, 1)
            yield Sign("no longer passes", "wrong", plan.line.plan, tuple(new), last.poured, where=place)


def _newly(s: Situation, then: Poured, rulebook: Rulebook) -> Iterator[str]:
    """Stops and conflicts on the doses as poured then, by rules that did not speak against them then."""
    poured = _as_poured(s, then)
    if poured is None:
        return
    for finding in judge_situation(poured, rulebook).findings:
        if finding.level in HEAVY and finding.status == "broken" and finding.rule not in then.flagged:
            yield finding.rule


def _as_poured(s: Situation, then: Poured) -> Situation | None:
    """The plan at the doses of that day; None where its portions or scents are no longer the same."""
    if not then.doses or set(then.doses) - set(s.portions):
        return None
    x = np.zeros(s.shape)
    for portion, given in then.doses.items():
        for scent, grams in given.items():
            if scent not in s.scents:
                return None
            x[s.scents.index(scent), s.portions.index(portion)] = grams
    return s.with_doses(x)

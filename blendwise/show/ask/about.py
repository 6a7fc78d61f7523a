"""What the rules find on the matter of a question, a line a rule, the heaviest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.ask.topics import topic_of
from blendwise.answers.check.result import CheckResult
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.show.blocks import Line
from blendwise.show.check.brief import brief_verdict, with_lever
from blendwise.show.check.levers import for_group, mended_above
from blendwise.show.check.says import says
from blendwise.show.text import joined
from blendwise.show.words import TIGHT_TAG, UNKNOWN_TAG

HEAVY: Final = ("stop", "conflict")


def plain_verdict(found: CheckResult) -> str:
    """The verdict of a check as one says it aloud."""
    return brief_verdict(found).replace("Nothing in the rulebook worse than a hint speaks", "Nothing speaks")


def is_about(question: str, finding: Finding) -> bool:
    """Whether a finding stands on one of a question's measures."""
    topic = topic_of(question)
    asked = {*topic.facts, *topic.minds} & {finding.measure, *finding.also}
    return bool(asked) and finding.status != "accepted" and not finding.hidden


def about(question: str, found: CheckResult) -> Iterator[Line]:
    """Findings on the measures of a question; two that one change mends are told together."""
    names = [row.portion for row in found.grams]
    told: dict[str, list[str]] = {}
    groups = grouped([each for each in found.findings if is_about(question, each)])
    for held in sorted(groups, key=lambda held: -LEVELS.index(held[0].level)):
        first = held[0]
        if first.status == "undecided":
            yield from _open(held)
            continue
        tag = TIGHT_TAG if first.status == "tight" else first.level
        text = _mended(held, found, names) if tag in HEAVY else says(held, found.units, names)
        cause, _, change = text.partition(": ")
        if change and change in told:
            continue
        told.setdefault(change, []).append(cause)
        yield Line(tag, text)


def grouped(findings: Sequence[Finding]) -> list[list[Finding]]:
    """Findings of one rule together."""
    groups: dict[str, list[Finding]] = {}
    for each in findings:
        groups.setdefault(each.rule, []).append(each)
    return list(groups.values())


def _mended(held: Sequence[Finding], found: CheckResult, names: Sequence[str]) -> str:
    """What is found with the change that mends it, though it may have been worked out for another finding."""
    own = [each for each in found.levers if each.plan and for_group([each], held)]
    above = [each for each in found.levers if each.plan and mended_above([each], held)]
    told = tuple(replace(each, rule=held[0].rule, version=held[0].version) for each in (own or above)[:1])
    return with_lever(held, replace(found, levers=told), names)


def _open(held: Sequence[Finding]) -> Iterator[Line]:
    facts = dict.fromkeys(f"{gap.fact} of {gap.subject}" for each in held for gap in each.missing)
    if facts and held[0].level in HEAVY:
        yield Line(UNKNOWN_TAG, f"a {held[0].level} until it is written down: {joined(list(facts)[:3])}")

"""The rules in blocks: the list, one rule in full, and how a test or a look over them came out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from blendwise.answers.rules.result import (
    ChangeView,
    Proof,
    RuleReport,
    RulesResult,
    RuleView,
    Wrong,
    said,
)
from blendwise.show import words
from blendwise.show.blocks import Block, Entry, Note, Section, Title
from blendwise.show.numbers import counted
from blendwise.show.review.words import record, switched_off
from blendwise.show.text import quoted, sentence

IN_WORDS = "In a sentence"
WHEN, MUST, PROVED, PROTECTS, LINES = "When", "Must", "Proved by", "Protects", "As written"
KIND_OF_STOP = "Kind of stop"
KINDS_OF_STOP = {"harm": "harm: do not pour", "paper": "a paper is missing: not for sale until it is there"}
SOLVER, RECORD = "In an assignment", "In your notes"
HINTS = "nothing: a hint informs, it does not steer"
COMPILES = {
    "row": "one bound on the doses",
    "cap": "a bound on the doses, found by turning the limit back to the dose that reaches it",
    "either-or": "either the doses keep clear of where it applies, or they keep to it",
    "clock": "a place in the order of scenting that leaves time enough",
    "closed cells": "portions that stay closed to an oil",
    "settled before": "no dose changes it, so that the judge alone tells of it",
    "afterwards": "not a bound on the doses: every answer is checked against it afterwards",
}
CASE = {"hit": "Hit", "miss": "Miss", "at the limit": "At exactly its limit"}
EVERYWHERE = "everywhere"
STAND = "How they then stand"
UNCHANGED = "Your own layer changes nothing"
CHANGES = "What your own layer changes"
SUMMARY = "A rule is shown whole by `blendwise rules show NAME`."
VERBS = {"new": "new", "replace": "replaced", "adjust": "adjusted", "off": "switched off"}
WISHED = 5
WISHES = {
    "because": "No reason is given of {}: a line `because:` tells you in a year why.",
    "try": "No remedy is given of {}: a line `try:` tells what to do instead.",
    "cases": "No cases prove {}: `blendwise rules prove NAME` proposes them.",
}
ASKED = {"test": "case", "lint": "entry"}
FINE = {
    "test": "Every rule answers its own cases rightly",
    "lint": "Nothing is wrong with the rules as written",
}


def changed_blocks(result: RulesResult) -> list[Block]:
    """All that differs from the starter's rules, and the rules as they then stand."""
    said_so = f"{counted(len(result.changes), 'change')} to {result.of} rules".capitalize()
    lines = (Entry(rule.level, f"{rule.rule}, {_asks(rule)}") for rule in result.rules)
    standing: list[Block] = [Section(STAND), *lines] if result.rules else []
    verdict = sentence(said_so if result.changes else UNCHANGED)
    return [Title("What differs from the starter's rules", verdict), *_changes(result), *standing]


def list_blocks(result: RulesResult) -> list[Block]:
    """Every rule in a line each: what it asks, and of what."""
    of = "" if result.of is None else f" of {result.of}"
    return [
        Title("The rules that count", sentence(f"{counted(len(result.rules), 'rule')}{of}".capitalize())),
        *(Entry(rule.level, f"{rule.rule}, {_asks(rule)}") for rule in result.rules),
        *_changes(result),
        Note(SUMMARY),
    ]


def _asks(rule: RuleView) -> str:
    condition = f", when {said(rule.when)}" if rule.when else ""
    return f"{rule.looks_at}: {said(rule.must)}{condition}"


def rule_blocks(result: RulesResult) -> list[Block]:
    """One rule in full, with what the maker's own layer changes in it."""
    return [*(_whole(rule) for rule in result.rules), *_changes(result)]


def _whole(rule: RuleView) -> Entry:
    details = {
        IN_WORDS: rule.sentence,
        WHEN: said(rule.when) or EVERYWHERE,
        MUST: said(rule.must),
        words.WHY: rule.because,
        words.TRY: rule.try_,
        PROTECTS: rule.protects,
        KIND_OF_STOP: KINDS_OF_STOP.get(rule.kind_of_stop or "", ""),
        SOLVER: HINTS if rule.level == "hint" else COMPILES.get(rule.compiles, rule.compiles),
        RECORD: record(rule.noted) if rule.noted is not None else "",
        PROVED: f"{counted(rule.hits, 'hit')} and {counted(rule.misses, 'miss', 'misses')}",
        words.SOURCE: f"{rule.basis}; {words.place(rule.where)}",
    }
    cases = tuple((CASE[proof.kind], sentence(_case(proof))) for proof in rule.cases)
    return Entry(rule.level, f"{rule.rule}, asked of each {rule.looks_at}", (*_told(details), *cases))


def _case(proof: Proof) -> str:
    return f"{proof.facts}: {proof.outcome}" if proof.facts else proof.outcome


def _told(details: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    return tuple((name, sentence(text)) for name, text in details.items() if text)


def _changes(result: RulesResult) -> Iterator[Block]:
    if result.changes:
        yield Section(CHANGES)
        yield from (_change(change) for change in result.changes)


def _change(change: ChangeView) -> Entry:
    what = f": {change.was} became {change.now}" if change.was and change.now else ""
    off = switched_off(change.noted) if change.noted is not None else ""
    details = {words.WHY: change.because, RECORD: off, words.SOURCE: words.place(change.where)}
    return Entry(VERBS.get(change.verb, change.verb), f"{quoted(change.rule)}{what}", _told(details))


def report_blocks(report: RuleReport) -> list[Block]:
    """How it came out, and everything wrong with its place and lines."""
    asked = counted(report.asked, ASKED[report.kind], "entries" if report.kind == "lint" else "")
    failed = f"{counted(len(report.wrong), 'thing')} wrong".capitalize()
    verdict = FINE[report.kind] if report.sound else failed
    return [
        Title(f"The rules: {asked} asked", sentence(verdict)),
        *map(_wrong, report.wrong),
        *_wishes(report),
    ]


def _wishes(report: RuleReport) -> Iterator[Block]:
    """What would help in a year, in a line each; nothing of it is wrong."""
    for part, said_so in WISHES.items():
        rules = [wish.rule for wish in report.wishes if part in wish.lacks]
        if rules:
            more = f" and {len(rules) - WISHED} more" if len(rules) > WISHED else ""
            yield Note(f"{said_so.format(', '.join(rules[:WISHED]) + more)}")


def _wrong(wrong: Wrong) -> Entry:
    details = {
        words.TRY: wrong.remedy,
        words.SOURCE: words.place(wrong.where),
        LINES: " ".join(wrong.lines.split()),
    }
    return Entry("wrong", wrong.message.removesuffix("."), _told(details))

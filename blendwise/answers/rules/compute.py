"""The rules as a maker asks after them: which there are, what one says, and whether they hold together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from blendwise.answers import documents as doc
from blendwise.answers.check.compute import relative
from blendwise.answers.review.rule_record import Record
from blendwise.answers.rules.proofs import Proof, proofs_of
from blendwise.answers.shapes import head, place_doc
from blendwise.assignment.problem.kinds import how_it_compiles
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.compile import Rule
from blendwise.judge.rulebook.layers import Change, Rulebook, layered
from blendwise.records.book import BookFiles
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError, Spot

if TYPE_CHECKING:
    import pandas as pd



@dataclass(frozen=True, slots=True)
class RuleView:
    """One rule as it counts: its conditions as typed, why, what to try, on what basis, and its own lines."""

    name: str
    level: str
    looks_at: str
    topic: str
    when: Mapping[str, object]
    must: Mapping[str, object]
    because: str
    try_: str
    basis: str
    protects: str
    hits: int
    misses: int
    mine: bool
    text: str
    place: Spot
    compiles: str = ""
    record: Record | None = None
    proofs: tuple[Proof, ...] = ()

    def body(self) -> doc.RuleDoc:
        """The rule as the published document."""
        return {
            "rule": self.name,
            "level": self.level,
            "looks_at": self.looks_at,
            "topic": self.topic,
            "when": dict(self.when),
            "must": dict(self.must),
            "because": self.because,
            "try": self.try_,
            "basis": self.basis,
            "protects": self.protects,
            "hits": self.hits,
            "misses": self.misses,
            "mine": self.mine,
            "compiles": self.compiles,
            "record": None if self.record is None else _record_doc(self.record),
            "cases": [proof.body() for proof in self.proofs],
            "where": place_doc(self.place),
        }


@dataclass(frozen=True, slots=True)
class ChangeView:
    """One way in which the maker's layer differs from the starter's rules."""

    verb: str
    rule: str
    was: str
    now: str
    because: str
    place: Spot

    def body(self) -> doc.ChangeDoc:
        """The change as the published document."""
        return {
            "verb": self.verb,
            "rule": self.rule,
            "was": self.was,
            "now": self.now,
            "because": self.because,
            "where": place_doc(self.place),
        }


@dataclass(frozen=True, slots=True)
class RulesResult:
    """The rules that count, in order, and all that the maker's own layer changes.

    ``of``: out of how many they were chosen, where only some were asked for.
    """

    rules: tuple[RuleView, ...]
    changes: tuple[ChangeView, ...] = ()
    of: int | None = None

    def to_json(self) -> doc.RulesDoc:
        """The published document of ``blendwise rules list --json`` and ``rules show --json``."""
        return {
            **head(doc.RULES_SCHEMA),
            "rules": [rule.body() for rule in self.rules],
            "changes": [change.body() for change in self.changes],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row a rule, with its conditions as text."""
        import pandas as pd

        columns = ["rule", "level", "looks_at", "topic", "when", "must", "because", "try", "basis"]
        rows = [{**rule.body(), "when": said(rule.when), "must": said(rule.must)} for rule in self.rules]
        return pd.DataFrame(rows, columns=columns)


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong with a rule: message, remedy, place, and the rule's own lines."""

    message: str
    remedy: str
    place: Spot
    lines: str = ""


@dataclass(frozen=True, slots=True)
class RuleReport:
    """How a test or lint of the rules came out: how many cases or rules were asked, and what is wrong."""

    kind: Literal["test", "lint"]
    asked: int
    wrong: tuple[Wrong, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing is wrong."""
        return not self.wrong

    def to_json(self) -> doc.RuleReportDoc:
        """The published document of ``blendwise rules test --json`` and ``rules lint --json``."""
        return {
            **head(doc.RULE_REPORT_SCHEMA),
            "kind": self.kind,
            "asked": self.asked,
            "sound": self.sound,
            "wrong": [_wrong_doc(each) for each in self.wrong],
        }

    def to_frame(self) -> pd.DataFrame:
        """A row for each thing wrong."""
        import pandas as pd

        rows = [(each.message, each.remedy, each.place.file, each.place.line) for each in self.wrong]
        return pd.DataFrame(rows, columns=["message", "remedy", "file", "line"])


def all_rules(book: BookFiles) -> RulesResult:
    """Every rule that counts in a book; RecordError where the rules cannot be read."""
    return _result(layered(book.rules, vocabulary()), book)


def one_rule(book: BookFiles, name: str) -> RulesResult:
    """One rule and what the maker's layer changes in it; RecordError with the nearest if there is none."""
    rulebook = layered(book.rules, vocabulary())
    result = _result(rulebook, book)
    found = tuple(
        replace(rule, proofs=proofs_of(rulebook.by_name[name])) for rule in result.rules if rule.name == name
    )
    changes = tuple(change for change in result.changes if change.rule == name)
    if not found and not changes:
        known = [rule.name for rule in result.rules]
        fault = Fault(
            Place(book.folder / "rules"), f'There is no rule "{name}".', hint(name, known, "The rulebook")
        )
        raise RecordError([fault])
    return RulesResult(found, changes)


def changed_rules(book: BookFiles) -> RulesResult:
    """All that the maker's layer changes, and the rules as they then count."""
    result = all_rules(book)
    named = {change.rule for change in result.changes}
    rules = tuple(rule for rule in result.rules if rule.mine or rule.name in named)
    return replace(result, rules=rules, of=len(result.rules))


def tested_rules(book: BookFiles) -> RuleReport:
    """Every hit, miss and limit case of every rule, asked."""
    from blendwise.judge.rulebook.selftest import run_all

    results = run_all(layered(book.rules, vocabulary()).rules, vocabulary())
    failed = [result for result in results if not result.passed]
    wrong = (
        Wrong(
            each.why,
            "Correct the row or the rule.",
            _spot(each.case.rule.place, book),
            each.case.rule.record.text,
        )
        for each in failed
    )
    return RuleReport("test", len(results), tuple(wrong))


def linted_rules(book: BookFiles) -> RuleReport:
    """Everything wrong with the rules as they are written."""
    from blendwise.judge.rulebook.lint import lint

    complaints = lint(book.rules, vocabulary())
    wrong = (
        Wrong(each.fault.message, each.fault.remedy, _spot(each.fault.place, book), each.lines)
        for each in complaints
    )
    return RuleReport("lint", len(book.rules), tuple(wrong))


def said(condition: Mapping[str, object]) -> str:
    """A condition in one line, as typed: "planned lightness at least 70; gel avoid"."""
    return "; ".join(_lines(condition))


def _lines(condition: Mapping[str, object]) -> Iterator[str]:
    for measure, wanted in condition.items():
        if isinstance(wanted, list) and all(isinstance(each, Mapping) for each in wanted):
            yield f"{measure}: " + " or ".join(said(each) for each in wanted)
        elif isinstance(wanted, Mapping):
            yield f"{measure} {said(wanted)}"
        else:
            yield f"{measure} {', '.join(map(str, wanted)) if isinstance(wanted, list) else wanted}"


def _result(rulebook: Rulebook, book: BookFiles) -> RulesResult:
    rules = tuple(_view(rule, book) for rule in rulebook.rules)
    return RulesResult(rules, tuple(_change(change, book) for change in rulebook.changes))


def _view(rule: Rule, book: BookFiles) -> RuleView:
    record = rule.record
    return RuleView(
        name=rule.name,
        level=rule.level,
        looks_at=rule.looks_at,
        topic=record.topic or "",
        when=record.when,
        must=record.must,
        because=record.because,
        try_=record.try_,
        basis=record.basis,
        protects=record.protects or "",
        hits=len(record.hits),
        misses=len(record.misses),
        mine=record.is_mine,
        text=record.text,
        place=_spot(rule.place, book),
        compiles=how_it_compiles(rule),
    )


def with_record(result: RulesResult, records: Iterable[Record]) -> RulesResult:
    """The rules with what the maker's notes say of each."""
    known = {record.rule: record for record in records}
    return replace(result, rules=tuple(replace(rule, record=known.get(rule.name)) for rule in result.rules))


def _record_doc(record: Record) -> doc.RecordDoc:
    return {
        "flagged_and_seen": record.flagged_and_seen,
        "flagged_and_not": record.flagged_and_not,
        "seen_and_not_flagged": record.seen_and_not_flagged,
    }


def _change(change: Change, book: BookFiles) -> ChangeView:
    spot = _spot(change.place, book)
    return ChangeView(change.verb, change.rule, change.was, change.now, change.because, spot)


def _spot(place: Place, book: BookFiles) -> Spot:
    return Spot(relative(str(place.file), book.folder), place.line, place.column)


def _wrong_doc(wrong: Wrong) -> doc.WrongDoc:
    return {"message": wrong.message, "remedy": wrong.remedy, "where": place_doc(wrong.place)}

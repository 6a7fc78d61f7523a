"""The rules as a maker asks after them: which there are, what one says, and whether they hold together."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace

from blendwise.answers.check.compute import relative
from blendwise.answers.review.rule_record import Record
from blendwise.answers.rules.proofs import proofs_of
from blendwise.answers.rules.result import ChangeView, RuleReport, RulesResult, RuleView, Wish, Wrong
from blendwise.answers.rules.sentences.printing import sentence_of
from blendwise.assignment.problem.kinds import how_it_compiles
from blendwise.facts.tables import vocabulary
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.judge.rulebook.layers import Change, Rulebook
from blendwise.judge.rulebook.standing import standing
from blendwise.records.book import BookFiles
from blendwise.records.kinds.rule import RuleRecord
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError, Spot


def all_rules(book: BookFiles) -> RulesResult:
    """Every rule that counts in a book; RecordError where the rules cannot be read."""
    return _result(standing(book, vocabulary()), book)


def one_rule(book: BookFiles, name: str) -> RulesResult:
    """One rule and what the maker's layer changes in it; RecordError with the nearest if there is none."""
    rulebook = standing(book, vocabulary())
    result = _result(rulebook, book)
    found = tuple(
        replace(
            view, cases=proofs_of(rulebook.by_name[name]), sentence=sentence_of(rulebook.by_name[name], book)
        )
        for view in result.rules
        if view.rule == name
    )
    changes = tuple(change for change in result.changes if change.rule == name)
    if not found and not changes:
        known = [rule.rule for rule in result.rules]
        fault = Fault(
            Place(book.folder / "rules"), f'There is no rule "{name}".', hint(name, known, "The rulebook")
        )
        raise RecordError([fault])
    return RulesResult(found, changes)


def changed_rules(book: BookFiles) -> RulesResult:
    """All that the maker's layer changes, and the rules as they then count."""
    result = all_rules(book)
    named = {change.rule for change in result.changes}
    rules = tuple(rule for rule in result.rules if rule.mine or rule.rule in named)
    return replace(result, rules=rules, of=len(result.rules))


def tested_rules(book: BookFiles) -> RuleReport:
    """Every hit, miss and limit case of every rule, asked; a row that cannot be read is told of."""
    from blendwise.judge.conditions.limits import ConditionError
    from blendwise.judge.rulebook.compile import faults_of
    from blendwise.judge.rulebook.selftest import Result, cases_of, run

    rulebook = standing(book, vocabulary())
    results: list[Result] = []
    wrong: list[Wrong] = []
    for rule in rulebook.rules:
        place, text = place_of(rule.place, book), rule.record.text
        try:
            asked = [run(case) for case in cases_of(rule, vocabulary())]
        except ConditionError as error:
            faults = faults_of(rule.record, [error])
            wrong += [Wrong(each.message, each.remedy, place_of(each.place, book), text) for each in faults]
            continue
        results += asked
        why = (each.why for each in asked if not each.passed)
        wrong += [Wrong(each, "Correct the row or the rule.", place, text) for each in why]
    return RuleReport("test", len(results), (*_unread(rulebook, book), *wrong))


def linted_rules(book: BookFiles) -> RuleReport:
    """Everything wrong with the rules as they are written."""
    from blendwise.judge.rulebook.guards import faults_of_guards
    from blendwise.judge.rulebook.lint import Complaint, kindly, lint

    rulebook = standing(book, vocabulary())
    shipped = [rule for rule in rulebook.rules if not rule.record.is_mine]
    strange = faults_of_guards(rulebook.rules, book, shipped)
    complaints = [*lint(book.rules, vocabulary()), *(Complaint(fault, "") for fault in strange)]
    complaints.sort(key=lambda each: each.fault.place)
    wrong = (
        Wrong(each.fault.message, each.fault.remedy, place_of(each.fault.place, book), each.lines)
        for each in complaints
    )
    unread = _unread(rulebook, book, {each.fault.place for each in complaints})
    wishes = tuple(Wish(rule.name, lacks) for rule in rulebook.rules if (lacks := kindly(rule)))
    return RuleReport("lint", len(book.rules), (*unread, *wrong), wishes)


def _unread(rulebook: Rulebook, book: BookFiles, said: Collection[Place] = ()) -> Iterator[Wrong]:
    """The maker's entries and files that cannot be read, but for those told already."""
    for aside in rulebook.asides:
        if aside.why == "cannot be read" and aside.place not in said:
            yield Wrong(aside.message, aside.remedy, place_of(aside.place, book))


def _result(rulebook: Rulebook, book: BookFiles) -> RulesResult:
    rules = tuple(_view(rule, book) for rule in rulebook.rules)
    return RulesResult(rules, tuple(_change(change, book) for change in rulebook.changes))


def _view(rule: Rule, book: BookFiles) -> RuleView:
    record = rule.record
    return RuleView(
        rule=rule.name,
        level=rule.level,
        looks_at=rule.looks_at,
        topic=record.topic or "",
        when=record.when,
        must=record.must,
        because=record.because,
        try_=record.try_,
        basis=record.basis,
        protects=record.protects or "",
        kind_of_stop=rule.kind_of_stop,
        hits=len(record.hits),
        misses=len(record.misses),
        mine=record.is_mine,
        compiles=how_it_compiles(rule),
        where=place_of(rule.place, book),
    )


def with_record(result: RulesResult, records: Iterable[Record]) -> RulesResult:
    """The rules with what the maker's notes say of each."""
    known = {record.rule: record for record in records}
    return replace(result, rules=tuple(replace(rule, noted=known.get(rule.rule)) for rule in result.rules))


def switched_off(book: BookFiles, changes: Iterable[ChangeView]) -> tuple[Rule, ...]:
    """The shipped rules that the maker has switched off, as they were."""
    names = {change.rule for change in changes if change.verb == "off"}
    entries = (each for each in book.rules if not each.is_mine and each.name in names)
    return tuple(compile_rule(each, vocabulary()) for each in entries if isinstance(each, RuleRecord))


def with_records_of_off(result: RulesResult, records: Iterable[Record]) -> RulesResult:
    """The changes, each rule that is switched off with what the notes say of it."""
    known = {record.rule: record for record in records}
    changes = (
        replace(each, noted=known.get(each.rule)) if each.verb == "off" else each for each in result.changes
    )
    return replace(result, changes=tuple(changes))


def _change(change: Change, book: BookFiles) -> ChangeView:
    spot = place_of(change.place, book)
    return ChangeView(change.verb, change.rule, change.was, change.now, change.because, spot)


def place_of(place: Place, book: BookFiles) -> Spot:
    """A place as it is told: the file as the book has it."""
    return Spot(relative(str(place.file), book.folder), place.line, place.column)

"""A sentence taken as a rule: named, written out, looked over beside the others, tried on the plans."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final, Protocol

from blendwise.answers.rules.sentences.alike import alike, rule_of
from blendwise.answers.rules.sentences.draft import BASES, Draft, Unread
from blendwise.answers.rules.sentences.printing import sentence_of
from blendwise.answers.rules.sentences.reading import read_sentence, reason_in
from blendwise.answers.rules.taught import CountsAs, NotRead, Taught, Tried
from blendwise.assignment.problem.kinds import how_it_compiles
from blendwise.facts.situation.worked_out import Situation
from blendwise.facts.tables import tables, vocabulary
from blendwise.judge.findings.findings import judge
from blendwise.judge.rulebook.compile import Rule, compile_rule
from blendwise.judge.rulebook.contradictions import contradictions
from blendwise.judge.rulebook.guards import known_names, strange_names
from blendwise.judge.rulebook.layers import Rulebook
from blendwise.judge.rulebook.lint import never_both, pointless
from blendwise.quantity import QuantityError
from blendwise.records.book import BookFiles
from blendwise.records.kinds.rule import RuleRecord, rules_in
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document
from blendwise.records.reading.fields import FieldError, parse_name, parse_text
from blendwise.records.writing.entry import entry_text

FILE: Final = "rules/mine/said.yaml"
LONGEST_NAME: Final = 40
MOST_PLANS: Final = 24
_JOINT: Final = re.compile(r"[^\w]+", re.UNICODE)
_BRACES: Final = re.compile(r"[{}]")
BASIS: Final = "judgement"
"""A sentence is its maker's word; that batches showed it is for the maker to write."""


class Plans(Protocol):
    """How a plan is worked out on a day ("" for today)."""

    def __call__(self, plan: Path, day: str) -> Situation:
        """RecordError where it cannot be."""
        ...


def taught(
    sentence: str,
    book: BookFiles,
    rulebook: Rulebook,
    *,
    basis: str = "",
    level: str = "",
    name: str = "",
    because: str = "",
) -> Taught:
    """The rule that a sentence says, or what is not understood of it; QuantityError where a name is taken."""
    if basis and basis not in BASES:
        raise QuantityError(
            f'"{basis}" is nothing that a rate is of here.', f"There are: {', '.join(BASES)}."
        )
    found = read_sentence(sentence, book, basis)
    if isinstance(found, Unread):
        told = because or "; ".join(found.aside)
        each = _each(found.alone, book, rulebook, basis=basis, level=level, name=name, because=told)
        return replace(
            _not_understood(sentence, found), each=each, asks=_asked(each), to=FILE if each else ""
        )
    if level:
        found = replace(found, level=level)
    rule = rule_of(found)
    if rule is None:
        return _not_understood(sentence, Unread((), found.shape, ""))
    rule = rule_of(found, _name(name, sentence_of(rule, book), rulebook))
    assert rule is not None
    told = reason_in(sentence, book)
    if told and not found.aside:  # the maker sees what was taken for a reason
        found = replace(found, aside=(told,))
    return _taught(sentence, found, rule, book, rulebook, _usable(because, parse_text) if because else told)


def _each(alone: Sequence[str], book: BookFiles, rulebook: Rulebook, **more: str) -> tuple[Taught, ...]:
    """The sentences that one is made of, each taught by itself; none where one of them is no rule."""
    found: list[Taught] = []
    for sentence in alone:
        one = taught(sentence, book, rulebook, **more)
        if not one.rules:
            return ()
        found += one.rules
        rulebook = replace(rulebook, rules=(*rulebook.rules, *(rule_in(each) for each in one.rules)))
        if more["name"] in rulebook.by_name:
            more["name"] = _name("", more["name"], rulebook)
    return tuple(found)


def _asked(each: Sequence[Taught]) -> tuple[str, ...]:
    return next((one.asks for one in each if one.asks), ())


def _not_understood(sentence: str, found: Unread) -> Taught:
    spans = tuple(NotRead(sentence[start:end], start, end) for start, end in found.spans)
    return Taught(
        sentence,
        "",
        "",
        "",
        "",
        unread=spans,
        either=found.either,
        alone=found.alone,
        figures=found.figures,
        aside=found.aside,
        nearest=found.nearest,
        example=found.example,
    )


def _taught(
    sentence: str, draft: Draft, rule: Rule, book: BookFiles, rulebook: Rulebook, because: str
) -> Taught:
    reads_as = sentence_of(rule, book)
    fields = {"rule": rule.name, **draft.body(), "says": _says(reads_as), "because": because, "basis": BASIS}
    return Taught(
        sentence=sentence,
        rule=rule.name,
        level=rule.level,
        looks_at=rule.looks_at,
        reads_as=reads_as,
        counts=tuple(CountsAs(word, means) for word, means in draft.counts.items() if means),
        asks=BASES if draft.asks else (),
        trouble=tuple(_trouble(rule, book, rulebook)),
        compiles=how_it_compiles(rule),
        entry=entry_text(sentence, fields),
        aside=draft.aside,
        to=FILE,
    )


def _says(reads_as: str) -> str:
    """What a finding tells: its subject, and the maker's own words."""
    return f"{{subject}}: your rule says {_BRACES.sub('', reads_as)}"


def _usable(text: str, parse: Callable[[str], str]) -> str:
    """What was typed as a field of the rule holds it; QuantityError where it cannot."""
    try:
        return parse(text)
    except FieldError as error:
        raise QuantityError(error.message, error.remedy) from None


def _name(wanted: str, reads_as: str, rulebook: Rulebook) -> str:
    """The name that is wanted, or one made of the sentence; QuantityError where a wanted one is taken."""
    if wanted:
        if wanted in rulebook.by_name:
            raise QuantityError(f'There is a rule "{wanted}" already.', "Choose another name.")
        return _usable(wanted, parse_name)
    words = [word for word in _JOINT.split(reads_as.partition(": ")[2] or reads_as) if word]
    made = ""
    for word in words:
        longer = f"{made}-{word}" if made else word
        if len(longer) > LONGEST_NAME:
            break
        made = longer
    made = made.casefold() or "my-rule"
    taken, count, name = rulebook.by_name, 2, made
    while name in taken:
        name, count = f"{made}-{count}", count + 1
    return name


def _trouble(rule: Rule, book: BookFiles, rulebook: Rulebook) -> Iterator[str]:
    """Why it would never speak, always speak, or never hold beside another rule."""
    for other in rulebook.rules:
        if alike(rule, other):
            yield f'"{other.name}" says the same already.'
    shipped = [each for each in rulebook.rules if not each.record.is_mine]
    strange = (f"{wrong.message} {wrong.remedy}" for wrong in strange_names(rule, known_names(book, shipped)))
    yield from strange
    yield from (f"{wrong.message} {wrong.remedy}".strip() for wrong in pointless(rule))
    for later, earlier, measure in contradictions([*rulebook.rules, rule]):
        if later is rule:
            yield never_both(earlier, measure).message


def tried(rule: Rule, plans: Sequence[Path], days: Mapping[str, str], work_out: Plans) -> Iterator[Tried]:
    """What the rule says of each plan as it stands, on the day of its last pour; the last poured first."""
    ordered = sorted(plans, key=lambda path: (days.get(path.stem, ""), path.stem), reverse=True)
    for path in ordered[:MOST_PLANS]:
        day = days.get(path.stem, "")
        try:
            s = work_out(path, day)
        except RecordError:
            continue
        found = judge([rule], tables(s))
        by = {
            status: tuple(f.subject_text for f in found if f.status == status)
            for status in ("broken", "undecided", "tight")
        }
        yield Tried(path.stem, day, by["broken"], by["undecided"], by["tight"])


def rule_in(found: Taught) -> Rule:
    """The rule of a taught sentence, read again from the very text that is kept."""
    doc = text_document(found.entry)
    (entry,) = rules_in(doc)
    assert isinstance(entry, RuleRecord)
    return compile_rule(entry, vocabulary())

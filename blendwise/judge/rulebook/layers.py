"""Layers of rules: the starter's, then the maker's, changed only by the verbs replace, adjust and off.

Nothing may loosen a locked rule (a stop, or one that says what it protects): it is not switched off,
replaced, lowered, or given a looser number.  A stricter level or number is welcome.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

from blendwise.facts.columns import Vocabulary
from blendwise.judge.conditions.conditions import ANY_OF, Atom
from blendwise.judge.conditions.limits import ConditionError, Steps, find_word
from blendwise.judge.conditions.ranges import implies
from blendwise.judge.conditions.reading import read_atom
from blendwise.judge.findings.finding import LEVELS
from blendwise.judge.rulebook.compile import Rule, faults_of, read_rule
from blendwise.judge.rulebook.rungs import rungs_of
from blendwise.records.kinds.rule import AdjustRecord, OffRecord, RuleEntry, RuleRecord
from blendwise.records.layer.aside import Aside
from blendwise.records.nearest import hint
from blendwise.records.place import Fault, Place, RecordError


@dataclass(frozen=True, slots=True)
class Change:
    """One way in which the rules differ from the starter's: ``verb`` is new, replace, adjust or off."""

    verb: str
    rule: str
    was: str
    now: str
    because: str
    place: Place


@dataclass(frozen=True)
class Rulebook:
    """The rules that count, in order, all that differs from the starter's, and what does not count."""

    rules: tuple[Rule, ...]
    changes: tuple[Change, ...] = ()
    asides: tuple[Aside, ...] = ()

    @cached_property
    def by_name(self) -> Mapping[str, Rule]:
        return {rule.name: rule for rule in self.rules}

    @cached_property
    def rungs(self) -> Mapping[str, frozenset[str]]:
        """Rule → the milder rules that speak only where what it demands holds: what it comes down to."""
        return rungs_of(self.rules)

    @property
    def off(self) -> tuple[Change, ...]:
        """What is switched off, to be counted under every advice."""
        return tuple(change for change in self.changes if change.verb == "off")

    @cached_property
    def fingerprint(self) -> str:
        """A name for exactly these rules (sha256 of what they demand, 16 hexadecimal digits)."""
        said = "\n".join(
            f"{r.name}|{r.looks_at}|{r.level}|{r.record.when}|{r.record.must}" for r in self.rules
        )
        return hashlib.sha256(said.encode()).hexdigest()[:16]


def layered(entries: Sequence[RuleEntry], vocabulary: Vocabulary) -> Rulebook:
    """Put the layers together.

    RecordError with every fault: conditions that cannot be read, a name used twice or not at all, a locked
    rule loosened.
    """
    rulebook, faults = read_layers(entries, vocabulary)
    if faults:
        raise RecordError(faults)
    return rulebook


def read_layers(entries: Sequence[RuleEntry], vocabulary: Vocabulary) -> tuple[Rulebook, list[Fault]]:
    """The rules as far as they can be read, and every fault (for the linter, which goes on)."""
    stack = Stack(vocabulary)
    for entry in sorted(entries, key=lambda entry: entry.is_mine):
        stack.take(entry)
    return stack.rulebook(), stack.faults


def changed(rulebook: Rulebook) -> tuple[Change, ...]:
    """All that differs from the starter's rules, in the order it is written."""
    return rulebook.changes


@dataclass
class Stack:
    """Rules by name as the entries are taken one after another; an entry that cannot be, leaves faults."""

    vocabulary: Vocabulary
    rules: dict[str, Rule] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    touched: dict[tuple[str, str], RuleEntry] = field(default_factory=dict)
    unread: set[str] = field(default_factory=set)
    gone: dict[str, RuleEntry] = field(default_factory=dict)

    def rulebook(self, asides: Sequence[Aside] = ()) -> Rulebook:
        """The rules as they stand, in order."""
        for order, rule in enumerate(self.rules.values()):
            if rule.order != order:
                self.rules[rule.name] = replace(rule, order=order)
        return Rulebook(tuple(self.rules.values()), tuple(self.changes), tuple(asides))

    def take(self, entry: RuleEntry) -> None:
        if isinstance(entry, RuleRecord) and entry.rule is not None:
            self._add(entry)
        elif entry.name in self.rules:
            self._change(entry, self.rules[entry.name])
        elif entry.name in self.gone:
            place = self.gone[entry.name].at()
            self._fault(entry, f'"{entry.name}" is switched off at {place}.', "Keep one of the two.")
        elif entry.name not in self.unread:
            self._fault(
                entry, f'There is no rule "{entry.name}".', hint(entry.name, self.rules, "The rulebook")
            )

    def _add(self, record: RuleRecord) -> None:
        first = self.rules.get(record.name)
        if first is not None:
            remedy = (
                "Begin it with `replace:` or `adjust:` if you mean to change that rule, or use another name."
            )
            self._fault(record, f'The name "{record.name}" is already used at {first.place}.', remedy)
        elif self._read(record) and record.is_mine:
            self._note("new", record, "", record.else_, record.because)

    def _read(self, record: RuleRecord) -> bool:
        rule, errors = read_rule(record, self.vocabulary)
        self.faults += faults_of(record, errors)
        if errors:
            self.unread.add(record.name)
            return False
        self.rules[record.name] = rule
        return True

    def _change(self, entry: RuleEntry, rule: Rule) -> None:
        if not self._first(entry):
            return
        match entry:
            case AdjustRecord(to=str()):
                self._level(entry, rule)
            case AdjustRecord():
                self._number(entry, rule)
            case _ if rule.is_locked:
                self._locked(entry, rule, "switched off" if isinstance(entry, OffRecord) else "replaced")
            case OffRecord():
                del self.rules[rule.name]
                self.gone[rule.name] = entry
                self._note("off", entry, rule.level, "off", entry.because)
            case RuleRecord() if self._read(entry):
                self._note("replace", entry, said_by(rule), said_by(self.rules[rule.name]), entry.because)

    def _first(self, entry: RuleEntry) -> bool:
        """Whether this is the first change of its kind to the rule; else a fault that names both places."""
        kind = type(entry).__name__
        if isinstance(entry, AdjustRecord) and isinstance(entry.to, dict):
            kind = next(iter(entry.to))
        earlier = self.touched.setdefault((entry.name, kind), entry)
        if earlier is not entry:
            message = f'"{entry.name}" is changed in the same way at {earlier.at()}.'
            self._fault(entry, message, "Keep one of the two.")
        return earlier is entry

    def _level(self, entry: AdjustRecord, rule: Rule) -> None:
        if rule.is_locked and LEVELS.index(entry.to) < LEVELS.index(rule.level):
            self._locked(entry, rule, "lowered")
        elif self._read(rule.record.model_copy(update={"else_": entry.to})):
            self._note("adjust", entry, rule.level, entry.to, entry.because)

    def _number(self, entry: AdjustRecord, rule: Rule) -> None:
        try:
            new, old, where = find_number(entry, rule, self.vocabulary)
        except ConditionError as error:
            self.faults += faults_of(entry, [error])
            return
        stricter = implies(new, old) if where[0] == "must" else implies(old, new)
        if rule.is_locked and not stricter:
            self._locked(entry, rule, "given a looser number")
        elif self._read(with_text(rule.record, where, next(iter(entry.to.values())))):
            self._note("adjust", entry, str(old), str(new), entry.because)

    def _locked(self, entry: RuleEntry, rule: Rule, what: str) -> None:
        why = "a stop" if rule.level == "stop" else f"a rule that protects {rule.record.protects}"
        remedy = "A stricter level or number is welcome, and a rule of your own beside it."
        self._fault(entry, f'"{rule.name}" is {why} and cannot be {what}.', remedy)

    def _fault(self, entry: RuleEntry, message: str, remedy: str) -> None:
        self.faults.append(Fault(entry.at(), message, remedy))

    def _note(self, verb: str, entry: RuleEntry, was: str, now: str, because: str) -> None:
        self.changes.append(Change(verb, entry.name, was, now, because, entry.at()))


def said_by(rule: Rule) -> str:
    """What a rule demands, on one line."""
    when = ", ".join(map(str, rule.when)) or "always"
    return f"{rule.level}: when {when}: must {', '.join(map(str, rule.must))}"


def find_number(entry: AdjustRecord, rule: Rule, vocabulary: Vocabulary) -> tuple[Atom, Atom, Steps]:
    """(the new line, the line it stands for, its path in the record).

    The measure is looked for in ``must``, then in ``when``; the relation must be the rule's own, for only
    the number is adjusted.  ConditionError where there is no such line, or more than one.
    """
    ((measure, text),) = entry.to.items()
    path = ("to", measure)
    try:
        word = find_word(measure, rule.looks_at, vocabulary)
        new = read_atom(word, text, vocabulary, rule.looks_at, entry.at(*path).line)
    except ConditionError as error:
        raise ConditionError(error.message, error.remedy, path) from error
    for part, condition in (("must", rule.must), ("when", rule.when)):
        where = zip(condition, paths(getattr(rule.record, part)), strict=True)
        lines = [(old, (part, *steps)) for old, steps in where if old.measure == new.measure]
        alike = [(old, steps) for old, steps in lines if old.relation == new.relation]
        if len(alike) == 1:
            return new, *alike[0]
        if lines:
            said = " and ".join(f'"{old}"' for old, _ in lines)
            raise ConditionError(f"The rule says {said}.", "Keep its words, or use `replace:`.", path)
    measures = ", ".join(dict.fromkeys(atom.measure for atom in (*rule.must, *rule.when)))
    raise ConditionError(f'"{rule.name}" does not speak of "{measure}".', f"It speaks of: {measures}.", path)


def paths(raw: Mapping[str, Any]) -> Iterator[Steps]:
    """The path of each line of a condition as typed, in the order of its compiled atoms."""
    yield from ((measure,) for measure in raw if measure != ANY_OF)
    for index, branch in enumerate(raw.get(ANY_OF, ())):
        yield from ((ANY_OF, index, measure) for measure in branch)


def with_text(record: RuleRecord, where: Steps, text: object) -> RuleRecord:
    """The record with another text at one path of its conditions."""
    part, *steps, last = where
    fresh = _copied(getattr(record, str(part)))
    inner: Any = fresh
    for step in steps:
        inner = inner[step]
    inner[last] = text
    return record.model_copy(update={str(part): fresh})


def _copied(raw: Mapping[str, Any]) -> dict[str, Any]:
    """A condition as typed, copied as far down as its lines."""
    return {key: [dict(branch) for branch in value] if key == ANY_OF else value for key, value in raw.items()}

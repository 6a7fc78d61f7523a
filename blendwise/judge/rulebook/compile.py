"""A rule as the judge holds it: its record with both conditions read against a vocabulary."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from blendwise.facts.columns import Vocabulary
from blendwise.facts.registry import of_size
from blendwise.judge.conditions.conditions import Condition, swap
from blendwise.judge.conditions.limits import ConditionError, Steps, short
from blendwise.judge.conditions.reading import Reader
from blendwise.judge.findings.finding import Level
from blendwise.records.kinds.rule import IN_MEMORY, KindOfStop, RuleEntry, RuleRecord
from blendwise.records.place import Fault, Place, RecordError


@dataclass(frozen=True)
class Rule:
    """One rule, ready to be asked.  ``order`` is its place in the rulebook, for sorting."""

    name: str
    level: Level
    looks_at: str
    when: Condition
    must: Condition
    record: RuleRecord
    order: int = 0

    @cached_property
    def readings(self) -> tuple[tuple[Condition, Condition], ...]:
        """``(when, must)``, and for a rule that tells ``one`` from ``other`` the same turned about.

        A pair or an edge stands in its table once, and which of the two is ``one`` is nobody's choice: so
        such a rule is asked in both orders, and the worse outcome counts.
        """
        straight = (self.when, self.must)
        turned = (swap(self.when), swap(self.must))
        return (straight, turned) if turned != straight else (straight,)

    @property
    def is_locked(self) -> bool:
        """Whether nothing may loosen it: a stop, or a rule that says what it protects."""
        return self.level == "stop" or self.record.protects is not None

    def leaves_open(self, careful: bool) -> bool:
        """Whether ignorance alone makes it a question and no finding, and doubt a caution at most.

        Not what is locked (it guards skin, lye, fire or law), and nothing where it is asked with care.
        """
        return not (self.is_locked or careful)

    @property
    def kind_of_stop(self) -> KindOfStop | None:
        """What kind of stop it is; harm where nobody says that only a paper is missing, None for no stop."""
        return (self.record.kind_of_stop or "harm") if self.level == "stop" else None

    @property
    def measures(self) -> frozenset[str]:
        return self.when.measures | self.must.measures

    @property
    def of_size(self) -> bool:
        """Whether its verdict may change where the batch is scaled, every share staying as it is."""
        return any(map(of_size, self.measures))

    @property
    def place(self) -> Place:
        return self.record.place or IN_MEMORY


def compile_rule(record: RuleRecord, vocabulary: Vocabulary, order: int = 0) -> Rule:
    """Read a record's conditions; RecordError with every fault in them, each with what is allowed."""
    rule, errors = read_rule(record, vocabulary, order)
    if errors:
        raise RecordError(faults_of(record, errors))
    return rule


def read_rule(
    record: RuleRecord, vocabulary: Vocabulary, order: int = 0
) -> tuple[Rule, list[ConditionError]]:
    """The rule as far as it can be read, and what cannot be read (for the linter, which goes on)."""
    reader = Reader(vocabulary, record.looks_at, lambda path: record.at(*path).line)
    when = reader.condition(record.when, ("when",))
    must = reader.condition(record.must, ("must",))
    reader.errors += _demands_ignorance(must)
    return Rule(record.name, record.else_, record.looks_at, when, must, record, order), reader.errors


def _demands_ignorance(must: Condition) -> list[ConditionError]:
    """``must: {x: unknown}`` would let a missing fact mend a rule, so it is refused."""
    wrong = [atom.measure for atom in must if atom.relation == "unknown"]
    message = 'A rule cannot demand that "{}" be unknown.'
    return [ConditionError(message.format(m), "Ask it in `when`.", ("must", m)) for m in wrong]


def faults_of(entry: RuleEntry, errors: Sequence[ConditionError]) -> list[Fault]:
    """Errors in the conditions of an entry as faults, each at its own line and with the words typed there."""
    return [
        Fault(
            entry.at(*error.path),
            f'Rule "{entry.name}"{_typed(entry, error.path)}: {error.message}',
            error.remedy,
        )
        for error in errors
    ]


def _typed(entry: RuleEntry, path: Steps) -> str:
    """What is typed at a path, in one line: ``, `must: {contrast: atleast 8}` ``."""
    value: Any = entry.model_dump(by_alias=True)
    words = []
    for step in path:
        if isinstance(value, dict) and step not in value:
            break
        value = value[step]
        words += [step] if isinstance(step, str) else []
    return f", `{': {'.join(words)}: {short(_in_line(value))}{'}' * (len(words) - 1)}`" if words else ""


def _in_line(value: object) -> str:
    """A tree of texts as it would be typed on one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_in_line(below)}" for key, below in value.items()) + "}"
    return "[" + ", ".join(map(_in_line, value)) + "]" if isinstance(value, list) else str(value)

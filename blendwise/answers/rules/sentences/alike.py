"""Whether two rules demand the same, however they are written."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from blendwise.answers.rules.sentences.draft import Draft
from blendwise.facts.tables import vocabulary
from blendwise.judge.conditions.conditions import Atom, Condition
from blendwise.judge.rulebook.compile import Rule, read_rule
from blendwise.records.kinds.rule import RuleRecord

DIGITS = 9


def rule_of(draft: Draft, name: str = "drafted") -> Rule | None:
    """A draft as the judge would hold it; None where the judge cannot read it."""
    record = RuleRecord.model_validate({"rule": name, **draft.body()})
    rule, errors = read_rule(record, vocabulary())
    return None if errors else rule


def alike(one: Rule, other: Rule) -> bool:
    """Whether two rules look at the same, under the same conditions, demand the same, and weigh the same."""
    return demand(one) == demand(other) and one.level == other.level


def demand(rule: Rule) -> Hashable:
    """What a rule looks at, when, and what it demands, in one way of writing."""
    return rule.looks_at, _condition(rule.when), _condition(rule.must)


def _condition(condition: Condition) -> Hashable:
    atoms, branches = list(condition.atoms), condition.branches
    if len(branches) == 1:
        atoms, branches = [*atoms, *branches[0]], ()
    return _all(atoms), frozenset(_all(branch) for branch in branches)


def _all(atoms: Iterable[Atom]) -> frozenset[Hashable]:
    return frozenset(map(_atom, atoms))


def _atom(atom: Atom) -> Hashable:
    limits = tuple((_rounded(limit.value), limit.measure, limit.factor) for limit in atom.limits)
    scale = atom.word.scale
    if atom.relation in ("is", "is not") and scale and atom.limits and not atom.limits[0].measure:
        relation = "one of" if atom.relation == "is" else "none of"
        return atom.measure, relation, (), (scale[int(atom.limits[0].value)],)
    relation = {"is": "one of", "is not": "none of"}.get(atom.relation, atom.relation) if atom.words else ""
    return atom.measure, relation or atom.relation, limits, tuple(sorted(atom.words))


def _rounded(value: float) -> float:
    return float(f"{value:.{DIGITS}g}")

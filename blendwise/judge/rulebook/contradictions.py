"""Rules of which two can never both hold: bounds, words, and oils that want one another and may not meet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Final

import numpy as np

from blendwise.judge.conditions.conditions import Atom
from blendwise.judge.conditions.ranges import Range, covers, ranges
from blendwise.judge.rulebook.compile import Rule

NEVER: Final = "together: is no"


def contradictions(rules: Sequence[Rule]) -> Iterator[tuple[Rule, Rule, str]]:
    """(later, earlier, measure) of rules that can never both hold; each later one once, with the first.

    Two rules contradict each other where they leave no common value of one measure *and* one of them is
    asked wherever the other is.  Rules that merely happen to meet on some plans are no contradiction: such a
    plan is wrong, not the rulebook.
    """
    demands: dict[str, list[tuple[Rule, Range]]] = {}
    worded: dict[str, list[tuple[Rule, Atom]]] = {}
    for rule in rules:
        for measure, left in ranges(rule.must.atoms).items():
            if not left.is_empty:
                demands.setdefault(measure, []).append((rule, left))
        for atom in rule.must.atoms:
            if atom.relation in ("one of", "none of") or (atom.relation == "is" and atom.words):
                worded.setdefault(atom.measure, []).append((rule, atom))
    for measure, held in demands.items():
        yield from _apart(measure, held)
    for measure, said in worded.items():
        yield from _of_words(measure, said)
    yield from _lonely(rules)


def _apart(measure: str, held: Sequence[tuple[Rule, Range]]) -> Iterator[tuple[Rule, Rule, str]]:
    low, high = (np.array([getattr(left, end) for _, left in held]) for end in ("low", "high"))
    for j, (later, later_range) in enumerate(held):
        for i in np.flatnonzero((low[:j] >= high[j]) | (high[:j] <= low[j])):
            earlier, range_ = held[int(i)]
            if _no_common(range_, later_range) and _asked_together(earlier, later):
                yield later, earlier, measure
                break


def _no_common(one: Range, other: Range) -> bool:
    """Whether no value is in both, "below 80" and "at least 80" among them."""
    both = one & other
    return one.apart_from(other) or (both.is_empty and both.low == both.high)


def _of_words(measure: str, said: Sequence[tuple[Rule, Atom]]) -> Iterator[tuple[Rule, Rule, str]]:
    for j, (later, later_atom) in enumerate(said):
        for earlier, atom in said[:j]:
            if _no_word_left(atom, later_atom) and _asked_together(earlier, later):
                yield later, earlier, measure
                break


def _no_word_left(one: Atom, other: Atom) -> bool:
    """Whether no word, or no set of words, suits both lines."""
    wanted = [atom for atom in (one, other) if atom.relation != "none of"]
    barred = [atom for atom in (one, other) if atom.relation == "none of"]
    if len(wanted) == 1:
        return set(wanted[0].words) <= set(barred[0].words)
    if one.word.kind != "word":
        return False
    if len(wanted) == 2:
        return not set(one.words) & set(other.words)
    return bool(one.word.scale) and set(one.word.scale or ()) <= {*one.words, *other.words}


def _asked_together(one: Rule, other: Rule) -> bool:
    return covers(one.when, other.when) or covers(other.when, one.when)


def _lonely(rules: Sequence[Rule]) -> Iterator[tuple[Rule, Rule, str]]:
    """An oil that asks for others in its cup, each of which may never be together with it."""
    apart = {pair: rule for rule in rules for pair in _kept_apart(rule)}
    for rule in rules:
        wanted = next((atom for atom in rule.must.atoms if atom.measure == "with"), None)
        oils = _only_line(rule, "scent")
        if wanted is None or wanted.relation == "none of" or rule.looks_at != "dose":
            continue
        for oil in oils:
            barring = [apart.get(frozenset({oil, word})) for word in wanted.words]
            if barring and barring[0] is not None and all(barring):
                earlier, later = sorted((rule, barring[0]), key=rules.index)
                yield later, earlier, "with"
                break


def _kept_apart(rule: Rule) -> Iterator[frozenset[str]]:
    """The pairs of oils that a rule keeps out of one cup, whatever else."""
    never = [atom for atom in rule.must.atoms if atom.measure == "together"]
    if (
        rule.looks_at != "pair"
        or len(rule.when.atoms) != 2
        or not never
        or str(never[0]) != "together: is no"
    ):
        return
    sides = [
        next((atom.words for atom in rule.when.atoms if atom.measure == f"{side} scent"), ())
        for side in ("one", "other")
    ]
    yield from (frozenset(pair) for pair in product(*sides))


def _only_line(rule: Rule, measure: str) -> tuple[str, ...]:
    """The words of a premise that is one line on a measure; nothing for any other."""
    atoms = rule.when.atoms
    alone = len(atoms) == 1 and not rule.when.branches and atoms[0].measure == measure
    return atoms[0].words if alone and atoms[0].relation in ("is", "one of") else ()

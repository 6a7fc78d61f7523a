"""The rulebook looked over like code: the unreadable, unexplained, unproved, pointless and contradictory."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blendwise.facts.columns import Vocabulary, Word
from blendwise.judge.conditions.conditions import Atom, Condition
from blendwise.judge.conditions.limits import ConditionError, Steps
from blendwise.judge.conditions.ranges import INFINITY, implies, possible, range_of, ranges
from blendwise.judge.rulebook.compile import Rule, faults_of
from blendwise.judge.rulebook.contradictions import contradictions
from blendwise.judge.rulebook.layers import read_layers
from blendwise.judge.rulebook.sayings import unfilled
from blendwise.judge.rulebook.selftest import cases_of, run
from blendwise.records.kinds.rule import RuleEntry
from blendwise.records.place import Fault, Place


@dataclass(frozen=True, slots=True)
class Complaint:
    """One thing wrong with the rules: the fault with its place, and the entry's own lines."""

    fault: Fault
    lines: str


@dataclass(frozen=True, slots=True)
class Wrong:
    """Something wrong at a path inside a rule's entry; ``dead``: so that the rule can never be broken."""

    path: Steps
    message: str
    remedy: str = ""
    dead: bool = False


def lint(entries: Sequence[RuleEntry], vocabulary: Vocabulary) -> list[Complaint]:
    """Everything wrong with the entries of a rulebook, in the order of the files; empty if all is well."""
    rulebook, faults = read_layers(entries, vocabulary)
    for rule in rulebook.rules:
        faults += faults_of(rule.record, [as_error(wrong) for wrong in look_over(rule, vocabulary)])
    for later, earlier, measure in contradictions(rulebook.rules):
        faults += faults_of(later.record, [as_error(never_both(earlier, measure))])
    lines_at = _finder(entries)
    return [
        Complaint(fault, lines_at(fault.place)) for fault in sorted(faults, key=lambda fault: fault.place)
    ]


def never_both(earlier: Rule, measure: str) -> Wrong:
    """What is wrong with a rule that can never hold beside an earlier one."""
    both = f'"{earlier.name}" ({earlier.place})'
    return Wrong(("must", measure), f'It and {both} can never both hold: no "{measure}" suits both.')


def as_error(wrong: Wrong) -> ConditionError:
    return ConditionError(wrong.message, wrong.remedy, wrong.path)


def _finder(entries: Sequence[RuleEntry]) -> Callable[[Place], str]:
    """Place → the own lines of the entry in which it lies (the last that begins at or above it)."""
    ordered = sorted((entry.at(), index) for index, entry in enumerate(entries))
    starts = [place for place, _ in ordered]

    def find(place: Place) -> str:
        last = bisect_right(starts, place) - 1
        return entries[ordered[last][1]].text if last >= 0 and starts[last].file == place.file else ""

    return find


def look_over(rule: Rule, vocabulary: Vocabulary) -> Iterator[Wrong]:
    """Everything wrong with one rule by itself.

    A maker's own rule counts without reason, remedy, basis or cases; a stop has to give them (``kindly``).
    """
    if demands_proof(rule):
        yield from _unexplained(rule)
        yield from _without_cases(rule)
    yield from unfillable(rule)
    yield from _silenced(rule)
    yield from pointless(rule)
    yield from _unproved(rule, vocabulary)


def demands_proof(rule: Rule) -> bool:
    """Whether a rule must give reason, remedy, basis and cases: what ships, and every stop."""
    return rule.level == "stop" or not rule.record.is_mine


def kindly(rule: Rule) -> tuple[str, ...]:
    """What would help in a year, of a maker's own rule: reason, remedy, cases; asked for, never wrong."""
    record = rule.record
    there = {"because": record.because, "try": record.try_, "cases": record.hits and record.misses}
    return () if demands_proof(rule) else tuple(part for part, given in there.items() if not given)


def _unexplained(rule: Rule) -> Iterator[Wrong]:
    if not rule.record.because:
        yield Wrong((), "It has no reason.", "Add `because:`.")
    if not rule.record.try_:
        yield Wrong((), "It has no remedy.", "Add `try:`.")
    if not rule.record.basis:
        yield Wrong(
            (), "It has no basis.", "Add `basis:` with common practice, a publication or your own batches."
        )


def unfillable(rule: Rule) -> Iterator[Wrong]:
    """Places in ``says`` that nothing could fill."""
    for message, remedy in unfilled(rule):
        yield Wrong(("says",), message, remedy)


def _silenced(rule: Rule) -> Iterator[Wrong]:
    """``known`` in ``when`` on what ``must`` reads: an unknown would fall silent, not be undecided."""
    for path, atom in _lines_of("when", rule.when):
        if atom.relation == "known" and atom.measure in rule.must.measures:
            message = f'It would fall silent where "{atom.measure}" is not known.'
            yield Wrong(
                path, message, "Leave this line out: the rule is then undecided and says what is missing."
            )


def _lines_of(part: str, condition: Condition) -> Iterator[tuple[Steps, Atom]]:
    yield from (((part, atom.measure), atom) for atom in condition.atoms)
    for index, branch in enumerate(condition.branches):
        yield from (((part, "any of", index, atom.measure), atom) for atom in branch)


def _idle_lines(rule: Rule) -> Iterator[Wrong]:
    """Lines that are always or never so, whatever the facts."""
    for part, condition in (("when", rule.when), ("must", rule.must)):
        for path, atom in _lines_of(part, condition):
            allowed = range_of(atom)
            if allowed is None:
                continue
            if (allowed & possible(atom.word)).is_empty:
                message = f'"{atom.measure}" can never be {_tail(atom)}.'
                yield Wrong(path, message, _span(atom), dead=path[0] == "when" and len(path) == 2)
            elif possible(atom.word).within(allowed):
                message = f'"{atom.measure}" is always {_tail(atom)}: the line says nothing.'
                yield Wrong(path, message, _span(atom), dead=path[0] == "must")


def _tail(atom: Atom) -> str:
    return str(atom).removeprefix(f"{atom.measure}: ")


def _span(atom: Atom) -> str:
    if atom.word.scale:
        return f"Its words run from {atom.word.scale[0]} to {atom.word.scale[-1]}."
    span = possible(atom.word)
    ends = [_in_its_unit(end, atom.word) for end in (span.low, span.high)]
    if span.high == INFINITY:
        return f"It runs from {ends[0]} upwards." if span.low > -INFINITY else ""
    return f"It runs from {ends[0]} to {ends[1]}." if span.low > -INFINITY else f"It is at most {ends[1]}."


def _in_its_unit(value: float, word: Word) -> str:
    """A number in the unit that a maker writes: a fraction as per cent."""
    if word.dimension == "FRACTION":
        return f"{100 * value:g} %"
    return f"{value:g} {word.unit}".rstrip()


def _dead_branches(rule: Rule) -> Iterator[Wrong]:
    """Branches of ``any of`` that can never hold beside the lines above them."""
    for part, condition in (("when", rule.when), ("must", rule.must)):
        for index, branch in enumerate(condition.branches):
            empty = [m for m, left in ranges((*condition.atoms, *branch)).items() if left.is_empty]
            if empty and not any(left.is_empty for left in ranges(condition.atoms).values()):
                message = f'No "{empty[0]}" can be all that is asked of it: this branch never holds.'
                yield Wrong((part, "any of", index, empty[0]), message)


def _never_broken(rule: Rule) -> Iterator[Wrong]:
    """``must`` follows from ``when``: the rule can never be broken."""
    follows = [any(implies(known, atom) for known in rule.when.atoms) for atom in rule.must.atoms]
    if follows and all(follows) and not rule.must.branches:
        message = "What it must be follows from `when`: the rule never fires."
        yield Wrong(("must",), message, "Widen `when`, or take the rule out.", dead=True)


_POINTLESS: Final[tuple[Callable[[Rule], Iterator[Wrong]], ...]] = (
    _idle_lines,
    _dead_branches,
    _never_broken,
)


def pointless(rule: Rule) -> Iterator[Wrong]:
    """Lines that are always or never so, branches that never hold, a rule that can never be broken."""
    return (wrong for check in _POINTLESS for wrong in check(rule))


def _without_cases(rule: Rule) -> Iterator[Wrong]:
    for part in ("hits", "misses"):
        if not getattr(rule.record, part):
            remedy = f"Add `{part}:` with one row just {_BESIDE[part]} the limit; `rules prove` proposes it."
            yield Wrong((), f"It has no {part}.", remedy)


def _unproved(rule: Rule, vocabulary: Vocabulary) -> Iterator[Wrong]:
    """Rows that cannot be read or speak of something else, rows that come out wrong."""
    try:
        results = [run(case) for case in cases_of(rule, vocabulary)]
    except ConditionError as error:
        yield Wrong(error.path, error.message, error.remedy)
        return
    read = {measure for reading in rule.readings for condition in reading for measure in condition.measures}
    for result in results:
        part, index = _row_of(result.case.name)
        strange = sorted(result.case.row.keys() - read) if part else []
        if strange:
            message = f'The row gives "{strange[0]}", which the rule does not read.'
            yield Wrong((part, index, strange[0]), message)
        if not result.passed:
            yield Wrong((part, index) if part else (), result.why)


_BESIDE: Final = {"hits": "past", "misses": "within"}


def _row_of(name: str) -> tuple[str, int]:
    """``hit-2`` of a case's name → ("hits", 1); ("", 0) for the row made at the limit."""
    kind, _, number = name.rpartition("/")[2].rpartition("-")
    part = {"hit": "hits", "miss": "misses"}.get(kind, "")
    return part, int(number) - 1 if part else 0

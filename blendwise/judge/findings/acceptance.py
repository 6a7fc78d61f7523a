"""What a maker accepts: one finding, on one subject, so far and no further, with the reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from blendwise.facts.columns import Subject, Vocabulary, Word
from blendwise.judge.conditions.comparator import Relation, holds, signed_slack
from blendwise.judge.conditions.limits import ConditionError, read_value
from blendwise.judge.findings.finding import Finding
from blendwise.judge.rulebook.compile import Rule
from blendwise.records.kinds.plan import Accept
from blendwise.records.nearest import hint


@dataclass(frozen=True, slots=True)
class Unused:
    """An acceptance that accepts nothing, and why."""

    accept: Accept
    why: str


@dataclass(frozen=True, slots=True)
class Accepted:
    """All findings, some of them now ``accepted``, and the acceptances that count for nothing."""

    findings: list[Finding]
    unused: list[Unused]


class _RefusedError(Exception):
    """An acceptance does not reach its finding; the text says why."""


def apply_acceptances(
    findings: Sequence[Finding], accepts: Iterable[Accept], rules: Mapping[str, Rule], vocabulary: Vocabulary
) -> Accepted:
    """Mark what the plan accepts.

    ``rules``: by name, for what is locked; ``vocabulary``: to read "down to 6" in the measure's unit.  What
    is undecided can be accepted only where its worst is known.  Every acceptance without effect is
    returned with the reason: no such rule or finding, a locked rule, the wrong direction, gone beyond.
    """
    after = list(findings)
    unused = []
    for accept in accepts:
        try:
            index = _find(accept, after, rules)
            _demanded(after[index], rules[accept.rule])
            _reach(accept, after[index], vocabulary)
        except _RefusedError as refused:
            unused.append(Unused(accept, str(refused)))
        else:
            after[index] = replace(after[index], status="accepted", accepted_because=accept.because)
    return Accepted(after, unused)


def _find(accept: Accept, findings: Sequence[Finding], rules: Mapping[str, Rule]) -> int:
    rule = rules.get(accept.rule)
    if rule is None:
        raise _RefusedError(f'There is no rule "{accept.rule}". {hint(accept.rule, rules, "The rulebook")}')
    if rule.is_locked:
        raise _RefusedError(f'"{rule.name}" cannot be accepted away: it {_guards(rule)}.')
    wanted = _plain(accept.for_)
    for index, finding in enumerate(findings):
        if finding.rule == accept.rule and wanted in map(_plain, _names(finding)):
            return index
    raise _RefusedError(f'"{accept.rule}" finds nothing amiss with "{accept.for_}".')


def _guards(rule: Rule) -> str:
    return "is a stop" if rule.level == "stop" else f"protects {rule.record.protects}"


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def _names(finding: Finding) -> list[str]:
    """What the subject may be called: pairs and edges in either order, the batch by that word too."""
    one, other = (*finding.subject, "", "")[:2]
    match finding.looks_at:
        case "pair" | "edge":
            turned = Subject(finding.looks_at, (other, one, *finding.subject[2:]))
            return [finding.subject_text, str(turned)]
        case "batch":
            return [finding.subject_text, "batch", "the batch"]
        case _:
            return [finding.subject_text]


def _demanded(finding: Finding, rule: Rule) -> None:
    """_RefusedError where the finding waits on a premise: whether the rule applies cannot be accepted."""
    if not any((atom.measure, atom.relation) == (finding.measure, finding.relation) for atom in rule.must):
        raise _RefusedError(f'Whether the rule applies hangs on "{finding.measure}", which is not known.')


def _reach(accept: Accept, finding: Finding, vocabulary: Vocabulary) -> None:
    """Nothing, where the finding lies within what is accepted; _RefusedError where it does not."""
    if finding.also:
        raise _RefusedError(
            f'The rule asks for "{", ".join(finding.also)}" too; an acceptance covers one number.'
        )
    word = vocabulary[finding.measure]
    side = _side(finding, word)
    texts = {"down to": accept.down_to, "up to": accept.up_to}
    if any(text for name, text in texts.items() if name != side):
        raise _RefusedError(_wrong_way(finding, side))
    worst = _worst(finding, side)
    if worst is None:
        raise _RefusedError(
            f'"{finding.measure}" is not known there, and what is not known cannot be accepted.'
        )
    if side and not _within(worst, texts[side], side, word):
        raise _RefusedError(f'"{finding.measure}" has gone beyond the {texts[side]} that is accepted.')


def _wrong_way(finding: Finding, side: str) -> str:
    if not side:
        return f'"{finding.measure}" has no more or less here: leave the number out.'
    return f'"{finding.measure}" must be {finding.relation} its limit, so say `{side}:`.'


def _side(finding: Finding, word: Word) -> str:
    """Which way the limit is passed: "down to" below a least, "up to" above a most, "" where neither."""
    match finding.relation:
        case "at least" | "above":
            return "down to"
        case "at most" | "below":
            return "up to"
        case "between":
            least, low = _number(finding.limit, word), _number(finding.value, word)
            return "down to" if low is not None and least is not None and low < least else "up to"
        case _:
            return ""


def _worst(finding: Finding, side: str) -> float | str | None:
    if finding.value is not None:
        return finding.value
    return finding.low if side == "down to" else finding.high if side else None


def _number(value: float | str | None, word: Word) -> float | None:
    if isinstance(value, str):
        return float(word.scale.index(value)) if word.scale and value in word.scale else None
    return value


def _within(worst: float | str, text: str | None, side: str, word: Word) -> bool:
    if text is None:
        raise _RefusedError(f"It does not say how far: add `{side}:`.")
    try:
        limit = read_value(word, text)
    except ConditionError as error:
        raise _RefusedError(f"{error.message} {error.remedy}".strip()) from error
    relation: Relation = "at least" if side == "down to" else "at most"
    value = _number(worst, word)
    return value is not None and bool(holds(relation, signed_slack(relation, value, limit), limit))

"""A check in few lines: verdict, a line a rule in the maker's words, the grams, what is open, safety."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.check.result import CheckResult, PortionGrams
from blendwise.judge.findings.finding import UNREAD_RULE, Finding
from blendwise.quantity import Units
from blendwise.show import words
from blendwise.show.blocks import Block, Line, Raw, Rows, Title
from blendwise.show.check import levers
from blendwise.show.check.aside import aside_blocks
from blendwise.show.check.blocks import own_dose
from blendwise.show.check.drawing import drawing_blocks
from blendwise.show.check.label import names_none
from blendwise.show.check.questions import CUP, cup_line, open_line, what_is_it
from blendwise.show.check.says import says, shifts_first
from blendwise.show.numbers import counted, grams
from blendwise.show.poured import free_lye
from blendwise.show.text import command, joined, quoted, sentence

MOST_CAUTIONS: Final = 5
MOST_NAMES: Final = 4
SAFETY: Final = (
    "Lye and raw batter burn: goggles, gloves, lye into water. "
    "Local rules differ: this is not legal or safety advice."
)
MORE: Final = "`--more` tells the rest"
HEAVY: Final = ("stop", "conflict")

Group = Sequence[Finding]


def brief_blocks(result: CheckResult, wrote: str | None = None) -> list[Block]:
    """The answer on the first screen; stops stand first and none is ever left out."""
    title = f"{result.plan}, {words.PURPOSES.get(result.purpose, result.purpose)}; {MORE}"
    return [
        Title(title, brief_verdict(result)),
        *aside_blocks(result.aside),
        *finding_lines(result),
        *free_lye_lines(result),
        *_grams(() if result.not_to_be_made else result.grams, result.units),
        *drawing_blocks(result.drawn),
        *_label(result),
        *unknown_lines(result),
        *wrote_lines(wrote),
        Line("", SAFETY),
    ]


def wrote_lines(wrote: str | None) -> Iterator[Block]:
    """Where a plan was written, and the command that asks about it."""
    if wrote:
        yield Line("", words.WROTE.format(file=wrote))
        yield Raw((command("check", wrote),))


def groups(result: CheckResult, status: str, level: str) -> list[Group]:
    """Findings of one rule (and version of the plan) together, as the eye counts them."""
    together: dict[tuple[str, str], list[Finding]] = {}
    for each in result.findings:
        told = each.measure != UNREAD_RULE and not each.hidden
        if told and (each.status, each.level) == (status, level):
            together.setdefault((each.rule, each.version), []).append(each)
    return sorted(together.values(), key=lambda held: held[0].kind_of_stop == "paper")  # harm first


def brief_verdict(result: CheckResult) -> str:
    """The whole check in one sentence; it counts lines and not subjects."""
    if not result.sound:
        return words.verdict(result, by_line=True)
    cautions, tight = (len(groups(result, status, "caution")) for status in ("broken", "tight"))
    told = [counted(cautions, "caution")] if cautions else []
    told += [f"{counted(tight, 'thing')} too tight to call"] if tight else []
    known = words.as_far_as_known(result)
    if told:
        return f"Nothing worse than a caution: {joined(told)}{known and ','}{known}."
    return f"Nothing in the rulebook worse than a hint speaks against this plan{known}."


def finding_lines(result: CheckResult) -> Iterator[Line]:
    """A line for each rule broken: all stops and conflicts, then at most five cautions."""
    names = [row.portion for row in result.grams]
    first = shifts_first(result.findings)
    for level in HEAVY:
        if first and level == "conflict":
            yield Line(words.TAGS[first[0].level], says(first, result.units, names))
        for each in groups(result, "broken", level):
            yield Line(words.TAGS[level], with_lever(each, result, names))
        yield from _open(result, level)
    cautions = [(words.TAGS["caution"], each) for each in groups(result, "broken", "caution")]
    cautions = [(tag, each) for tag, each in cautions if not set(map(id, each)) <= set(map(id, first))]
    cautions += [(words.TIGHT_TAG, each) for each in groups(result, "tight", "caution")]
    cautions.sort(
        key=lambda tagged: tagged[1][0].protects is None
    )  # what protects is never folded away first
    most = MOST_CAUTIONS - bool(first)
    for tag, each in cautions[:most]:
        yield Line(tag, says(each, result.units, names))
    if cautions[most:]:
        yield Line("", f"And {counted(len(cautions) - most, 'more caution')}.")
    aside = [f"{counted(result.accepted, 'finding')} accepted"] if result.accepted else []
    aside += [f"{counted(result.rules_off, 'rule')} switched off"] if result.rules_off else []
    if aside:
        yield Line("", f"Set aside by you: {joined(aside)}")


def free_lye_lines(result: CheckResult) -> Iterator[Line]:
    """What of its lye a portion cannot use; the batch as a whole may well hide it."""
    for each in result.rework:
        yield Line("", free_lye(each, result.units))


def with_lever(group: Group, result: CheckResult, names: Sequence[str]) -> str:
    """What is found, and in place of the advice that a rule recites the lever that was worked out for it.

    A paper or a cup to ask for is what the rule's own words say already.
    """
    text = says(group, result.units, names)
    shown = [each for each in result.levers if each.plan or each.way in levers.WEIGHED]
    told = levers.lines(shown, group, result.units)
    if not told:
        return text
    found = text.rpartition(": ")[0]
    named = len(found) <= len(words.subjects(group))
    number = told[0][0].removeprefix(levers.TAG).strip()
    return f"{text if named else found}: {f'({number}) ' if number else ''}{told[0][1]}"


def _open(result: CheckResult, level: str) -> Iterator[Line]:
    """What is not known and counts as a stop or a conflict until it is: all of it, in one line a level."""
    waiting = [f for f in result.findings if f.stands and (f.status, f.level) == ("undecided", level)]
    facts: dict[str, dict[str, None]] = {}
    for missing in (fact for finding in waiting for fact in finding.missing):
        facts.setdefault(missing.fact, {})[missing.subject] = None
    if facts:
        each_fact = [f"{quoted(fact)} of {joined(list(names))}" for fact, names in facts.items()]
        yield Line(words.UNKNOWN_TAG, f"a {level} until it is written down: {'; '.join(each_fact)}")
    unread = [each for each in waiting if not each.missing and each.measure != UNREAD_RULE]
    for finding in unread:
        yield Line(words.UNKNOWN_TAG, f"a {level} that cannot be told yet: {says([finding], result.units)}")


def unknown_lines(result: CheckResult) -> Iterator[Line]:
    """All that is asked of the maker, and what else is not known, in one line."""
    told = [sentence(what_is_it(additive)) for additive in result.unknown_additives]
    cups = cup_line(result)
    asked_of_cups = any(each.fact in CUP for each in result.open_questions)
    if result.open_questions:
        told += [sentence(open_line(result.open_questions, cups if asked_of_cups else ""))]
    tag = words.UNKNOWN_TAG if told else ""
    asked = {(each.subject, each.fact) for each in result.open_questions}
    light = [f for f in result.findings if f.status == "undecided" and f.level not in HEAVY]
    rest = (m for f in light for m in f.missing if (m.subject, m.fact) not in asked)
    facts = dict.fromkeys(f"{quoted(m.fact)} of {m.subject}" for m in rest)
    if facts:
        more = [f"{len(facts) - 1} more"] if len(facts) > 1 else []
        told.append(sentence(f"Write down, when you learn it: {joined([next(iter(facts)), *more])}"))
    if cups and not asked_of_cups:
        told.append(sentence(cups))
    if told:
        yield Line(tag, " ".join(told))


def _label(result: CheckResult) -> Iterator[Line]:
    """The names due on the label, for what is sold."""
    label = result.label
    if label is None or result.purpose != "sale":
        return
    due = joined([line.name for line in label.due]) or "no name that is known"
    unknown = f"; not known of {joined(label.not_known[:MOST_NAMES])}" if label.not_known else ""
    bare = f"; {names_none(label.names_none)}" if label.names_none else ""
    yield Line("", f"On the label: {due}{unknown}{bare}")


def _grams(rows: Sequence[PortionGrams], units: Units) -> Iterator[Block]:
    """What to weigh for each portion, the dose on its own oils."""
    if not rows:
        return
    scents = list(dict.fromkeys(name for row in rows for name in row.scents))
    cells = tuple(_cells(row, scents, units) for row in rows)
    yield Rows(("portion", "batter", *scents, "of its oils"), cells, tuple(_line(r, units) for r in rows))


def _cells(row: PortionGrams, scents: Sequence[str], units: Units) -> tuple[str, ...]:
    weighed = [grams(row.scents[name], units) if row.scents.get(name) else "none" for name in scents]
    dose = own_dose(row.dose, units) if row.scent_total else "none"
    return (row.portion, grams(row.batter, units), *weighed, dose)


def _line(row: PortionGrams, units: Units) -> str:
    weighed = [f"{name} {grams(mass, units)}" for name, mass in row.scents.items() if mass]
    dose = f" ({own_dose(row.dose, units)})" if weighed else ""
    return sentence(f"{row.portion} {grams(row.batter, units)}: {', '.join(weighed) or 'unscented'}{dose}")

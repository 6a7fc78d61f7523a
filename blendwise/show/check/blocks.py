"""A check in blocks: verdict, findings by level, what is not known, what was accepted, grams, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.check.after_cure import AfterCure
from blendwise.answers.check.in_time import WHEN, InTime
from blendwise.answers.check.result import CheckResult, PortionGrams, Question, UnusedAcceptance
from blendwise.answers.levers.result import Lever
from blendwise.facts.columns import Missing
from blendwise.judge.findings.finding import LEVELS, UNREAD_RULE, Finding
from blendwise.quantity import Units, format_number
from blendwise.quantity.prose import theirs
from blendwise.show import words
from blendwise.show.assumed import all_said
from blendwise.show.blocks import Block, Entry, Note, Raw, Rows, Section, Title
from blendwise.show.check.aside import aside_blocks
from blendwise.show.check.label import label_blocks
from blendwise.show.check.levers import lines
from blendwise.show.check.questions import ANSWER, LINE, asked_of, lines_to_write, what_is_it
from blendwise.show.check.says import shifts_first
from blendwise.show.numbers import amount, grams
from blendwise.show.text import command, joined, sentence


def check_blocks(result: CheckResult, working: bool = False, wrote: str | None = None) -> list[Block]:
    """The whole answer, heaviest first; ``working`` adds every fact with unit and source."""
    title = f"{result.plan}, {words.PURPOSES.get(result.purpose, result.purpose)} ({result.file})"
    return [
        Title(title, words.verdict(result)),
        *advice_blocks(result, every=working, levers=result.levers),
        *grams_blocks(() if result.not_to_be_made else result.grams, result.units),
        *in_time_blocks(result.in_time),
        *after_cure_blocks(result.after_cure),
        *(label_blocks(result.label, result.units) if result.purpose == "sale" else ()),
        *assumed_blocks(all_said(result.assumptions, result.units)),
        *(_working(result) if working else ()),
        *([Note(words.WROTE.format(file=wrote)), Raw((command("check", wrote),))] if wrote else []),
        Note(words.footing(result)),
        Note(words.CAUTIONS),
    ]


def in_time_blocks(each: Sequence[InTime]) -> Iterator[Block]:
    """How each portion that turns goes on after the pour, on an uncoloured base."""
    if each:
        yield Section(words.IN_TIME)
        yield Rows((), (), tuple(f"{one.portion}: {_turns(one)}." for one in each))


def _turns(one: InTime) -> str:
    told = [
        f"{low if low == high else f'{low} to {high}'} {when}"
        for (low, high), when in zip(one.bands, WHEN, strict=True)
    ]
    casts = [cast for cast in (one.yellow, one.pink) if cast != "none"]
    light = ", which light bleaches in part by month 6" if one.yellow != "none" else ""
    return joined(told) + (f"; over it {joined(casts)} from the first days{light}" if casts else "")


def after_cure_blocks(oils: Sequence[AfterCure]) -> Iterator[Block]:
    """What part each oil has of the scent as poured, and of what is left at six weeks, with two ends."""
    if oils:
        yield Section(words.AFTER_CURE)
        yield Rows((), (), tuple(_after(oil) for oil in oils))


def _after(oil: AfterCure) -> str:
    poured, least, most = (format_number(round(100 * part)) for part in (oil.poured, oil.least, oil.most))
    ends = f"{least} %" if least == most else f"{least} to {most} %"
    return f"{words.joined_with(f'{oil.oil}: {poured} % as poured, {ends} of what is left', oil.evidence)}."


def _working(result: CheckResult) -> Iterator[Block]:
    from blendwise.show.check.working import working_blocks

    yield from working_blocks(result.working, result.units)


def advice_blocks(
    result: CheckResult, *, every: bool = False, levers: Sequence[Lever] = ()
) -> Iterator[Block]:
    """What of the book's rules does not count; findings by level, missing facts, acceptances.

    ``every``: also what holds at the middle of judgement's figures, but not at their ends.  ``levers``: what
    would mend them, told before a rule's own advice.
    """
    yield from aside_blocks(result.aside)
    findings, units = [f for f in result.findings if f.measure != UNREAD_RULE], result.units
    first = shifts_first(findings)
    for level in reversed(LEVELS):
        if level == "conflict":
            yield from (_broken(each, units, levers) for each in words.by_rule(first))
        at_level = [each for each in _of(findings, "broken") if each.level == level and each not in first]
        yield from (_broken(each, units, levers) for each in words.by_rule(at_level))
    tight = [each for each in _of(findings, "tight") if every or not each.hidden]
    yield from (_tight(each, units) for each in words.by_rule(tight))
    undecided = _of(findings, "undecided")
    yield from (_undecided(each, units) for each in undecided if not each.missing)
    asked = [each for each in undecided if each.open and each.level != "hint"]
    yield from _by_fact([each for each in undecided if each not in asked], result.open_questions)
    yield from _questions(result.open_questions, asked)
    yield from (Entry(words.UNKNOWN_TAG, what_is_it(each), ()) for each in result.unknown_additives)
    yield from (_accepted(each, units) for each in _of(findings, "accepted"))
    for unused in result.unused_acceptances:
        yield _without_effect(unused)


def _of(findings: Sequence[Finding], status: str) -> list[Finding]:
    return [finding for finding in findings if finding.status == status]


def _broken(findings: Sequence[Finding], units: Units, levers: Sequence[Lever]) -> Entry:
    first = findings[0]
    told = tuple((tag, sentence(text)) for tag, text in lines(levers, findings, units))
    reasons = _reasons(first, units, findings)
    return Entry(words.TAGS[first.level], words.headline_of(findings, units), (*told, *reasons))


def _undecided(finding: Finding, units: Units) -> Entry:
    headline = words.cannot_say(finding, units)
    return Entry(words.TAGS[finding.level], headline, _reasons(finding, units))


def _tight(findings: Sequence[Finding], units: Units) -> Entry:
    """One rule that is within judgement's doubt: how near, why it matters, what would settle it."""
    facts = dict.fromkeys(fact for finding in findings for fact in finding.settled_by)
    settle = ((words.SETTLES, words.settling(list(facts))),) if facts else ()
    headline = words.tight_headline(findings, units)
    return Entry(words.TIGHT_TAG, headline, (*_reasons(findings[0], units, findings), *settle))


def _reasons(finding: Finding, units: Units, together: Sequence[Finding] = ()) -> tuple[tuple[str, str], ...]:
    told = ((words.ALSO, joined(finding.also)), (words.WHY, finding.because), (words.TRY, finding.try_))
    return (
        *((tag, sentence(theirs(text, units))) for tag, text in told if text),
        (words.SOURCE, words.source(finding, together)),
    )


def _accepted(finding: Finding, units: Units) -> Entry:
    because = (words.BECAUSE, sentence(finding.accepted_because))
    headline = words.headline(finding, units)
    return Entry(words.ACCEPTED_TAG, headline, (because, (words.SOURCE, words.source(finding))))


def _without_effect(unused: UnusedAcceptance) -> Entry:
    where = ((words.SOURCE, sentence(f"plan {words.place(unused.where)}")),) if unused.where else ()
    headline = words.unused(unused.rule, unused.subject)
    return Entry(words.TAGS["hint"], headline, ((words.WHY, sentence(unused.why)), *where))


def _by_fact(findings: Sequence[Finding], asked: Sequence[Question]) -> Iterator[Entry]:
    """What else is not known: that on which a guard hangs, and the rest together."""
    told = {(each.subject, each.fact) for each in asked}
    waits: dict[Missing, list[Finding]] = {}
    for finding in findings:
        for missing in finding.missing:
            waits.setdefault(missing, []).append(finding)
    heaviest = {missing: max(LEVELS.index(each.level) for each in held) for missing, held in waits.items()}
    heavy = [missing for missing in waits if LEVELS[heaviest[missing]] in ("stop", "conflict")]
    for missing in sorted(heavy, key=lambda fact: -heaviest[fact]):
        held = waits[missing]
        details = (
            (words.WAITING, words.waiting(held)),
            (words.TRY, words.how_to_know(missing, LEVELS[heaviest[missing]])),
        )
        rules = len({finding.rule for finding in held})
        yield Entry(words.UNKNOWN_TAG, words.not_known(missing, rules), details)
    light = [each for each in waits if each not in heavy and (each.subject, each.fact) not in told]
    if light:
        yield Entry(words.UNKNOWN_TAG, words.also_not_known(len(light)), _lightly(light))


def _questions(questions: Sequence[Question], findings: Sequence[Finding]) -> Iterator[Entry]:
    """What ignorance alone leaves open: one entry, with the lines that would answer it."""
    if questions:
        lines = ((words.TRY, ANSWER), *((LINE, line) for line in lines_to_write(questions)))
        waits = ((words.WAITING, words.waiting([each for each in findings if each.missing])),)
        yield Entry(words.UNKNOWN_TAG, asked_of(questions), (*waits, *lines))


def _lightly(missing: Sequence[Missing]) -> tuple[tuple[str, str], ...]:
    """Facts on which nothing worse than a caution hangs: by fact, the subjects in a row."""
    subjects: dict[str, list[str]] = {}
    for each in missing:
        subjects.setdefault(each.fact, []).append(each.subject)
    rows = tuple(
        (sentence(fact).removesuffix("."), sentence(joined(names))) for fact, names in subjects.items()
    )
    return (*rows, (words.TRY, words.WRITE_THEM_DOWN))


def grams_blocks(rows: Sequence[PortionGrams], units: Units) -> Iterator[Block]:
    """Grams of every scent in every portion, the dose on its oils, the sums."""
    if not rows:
        return
    scents = list(dict.fromkeys(name for row in rows for name in row.scents))
    yield Section(words.GRAMS)
    yield Rows(
        header=("portion", "batter", *scents, "scent", "of its oils"),
        rows=tuple(_cells(row, scents, units) for row in rows),
        lines=tuple(_line(row, units) for row in rows),
    )


def _cells(row: PortionGrams, scents: Sequence[str], units: Units) -> tuple[str, ...]:
    weighed = [grams(row.scents[name], units) if row.scents.get(name) else "none" for name in scents]
    total, dose = "none", "none"
    if row.scent_total:
        total, dose = grams(row.scent_total, units), own_dose(row.dose, units)
    return (row.portion, grams(row.batter, units), *weighed, total, dose)


def own_dose(dose: float, units: Units) -> str:
    """A dose under a heading that names its basis, so without it."""
    return amount(dose, "% of portion oils", units).removesuffix(" of portion oils")


def _line(row: PortionGrams, units: Units) -> str:
    weighed = [f"{name} {grams(mass, units)}" for name, mass in row.scents.items() if mass]
    batter = f"{row.portion}: {grams(row.batter, units)} of batter"
    if not weighed:
        return f"{batter}, unscented"
    dose = amount(row.dose, "% of portion oils", units)
    return f"{batter}; {joined(weighed)}; together {grams(row.scent_total, units)}, {dose}"


def assumed_blocks(assumptions: Sequence[str]) -> Iterator[Block]:
    """What was assumed where the plan left something open."""
    if assumptions:
        yield Section(words.ASSUMED)
        yield Rows((), (), tuple(assumptions))

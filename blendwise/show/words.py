"""The English of findings and verdicts, in one place: every sentence is made from data."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from math import isclose

from blendwise.answers.check.result import CheckResult
from blendwise.facts.columns import Missing
from blendwise.judge.findings.finding import UNREAD_RULE, Finding, Level
from blendwise.quantity import METRIC, Units, format_number
from blendwise.quantity.show import ENDLESS, told_apart
from blendwise.records.place import Spot
from blendwise.show.flag_words import called, plainly
from blendwise.show.numbers import amount, counted, in_units, short_unit, with_unit
from blendwise.show.text import joined, quoted, sentence

TAGS = {"stop": "stop", "conflict": "conflict", "caution": "caution", "hint": "hint"}
UNKNOWN_TAG, ACCEPTED_TAG, TIGHT_TAG = "open", "accepted", "tight"
WROTE = "Written as a new plan: {file}. Check it before you pour."
THE_PLAN = "plan"
"""Whose fact it is that a plan does not say, such as its pour."""
NOISE = 1e-12
"""A value so close to its limit differs by the rounding of sums alone, and is told as the limit."""
CHANGED_SINCE = """\
This book was begun with 0.1.0; this is told once.  The starter's rules are read from the program now: of the
copies in rules/ only figures and levels that you changed still count, and you may delete the rest; your own
rules in rules/mine/ count as before.  Some verdicts are stricter: `blendwise doctor` lists which plans no
longer pass.  Answers are shorter: `--more` tells the rest.  Schemas of your editor: `blendwise schema --all
.schemas`.
"""
"""What a book of an older version is told."""
WHY, TRY, SOURCE, WAITING, BECAUSE, ALSO = "Why", "Try", "Source", "Waiting", "Because", "Also"
SETTLES = "To settle it"
GRAMS, ASSUMED, WORKING = "What goes where", "Assumed", "Every fact, with unit and source"
PURPOSES = {"sale": "for sale", "home": "for home"}
EVIDENCE = {
    "own batch": "your own batch",
    "own cup": "your own test cup",
    "own batch of another lot": "your own batch of another lot",
    "own cup of another lot": "your own test cup of another lot",
    "supplier": "the supplier",
    "hearsay": "hearsay",
    "its sheet": "reckoned from its sheet",
}
IN_TIME = "The colour in time, on an uncoloured base (light, heat and gel hasten it)"
AFTER_CURE = "The blend at six weeks (a tendency; own looks narrow it)"
MOST_TIGHT = 3
"""Subjects of one rule of which the doubt is told; the others are counted."""
CAUTIONS = (
    "Lye and raw batter burn: goggles, gloves, lye into water. Limits follow the certificates written in "
    "your book, and those change. Local rules differ: ask the authority or a qualified assessor. "
    "This is not legal or safety advice."
)
MUST = {
    "above": "must be above",
    "below": "must be below",
    "between": "must be between",
    "is": "must be",
    "is not": "must not be",
    "one of": "must be one of",
    "none of": "must be none of",
    "known": "must be known",
    "unknown": "must be unknown",
}

HEAVY: tuple[Level, ...] = ("stop", "conflict")
Value = float | str | None


def batches_or_cups(batches: float, cups: float) -> tuple[str, str]:
    """What looks were at, in the singular and the plural: batches, test cups, or both."""
    if not cups:
        return "batch", "batches"
    return ("test cup", "test cups") if cups == batches else ("batch or cup", "batches and cups")


def place(spot: Spot | None) -> str:
    """File and line ("plans/column.yaml:12"), empty where there is none."""
    return str(spot) if spot else ""


def span(low: Value, high: Value, unit: str, units: Units = METRIC) -> str:
    """What is known of a value: itself, a range, a bound on one side, or "not known"."""
    if low is None and high is None:
        return "not known"
    if low == high and low is not None:
        return one(low, unit, units)
    if high is None or high == float("inf"):
        return "not known" if low is None or low == float("-inf") else f"{one(low, unit, units)} or more"
    if low is None or low == float("-inf"):
        return f"{one(high, unit, units)} or less"
    if isinstance(low, str) or isinstance(high, str):
        return f"{low} to {high}"
    (low, _), (high, shown) = in_units(low, unit, units), in_units(high, unit, units)
    return with_unit(" to ".join(told_apart(low, high)), shown)


def one(value: float | str, unit: str, units: Units = METRIC) -> str:
    """A single value: a word as it stands, a number with its unit."""
    return value if isinstance(value, str) else amount(value, unit, units)


def measured(finding: Finding, units: Units = METRIC) -> tuple[str, str]:
    """The value found and the limit it was held against, with enough digits to differ."""
    value, limit = finding.value, finding.limit
    if isinstance(value, (int, float)) and isinstance(limit, (int, float)):
        (seen, unit), (bound, _) = in_units(value, finding.unit, units), in_units(limit, finding.unit, units)
        seen_text, bound_text = told_apart(bound if isclose(seen, bound, rel_tol=NOISE) else seen, bound)
        if unit.startswith("%") and seen > 100 * ENDLESS:
            seen_text = f"more than {100 * ENDLESS}"
        limit_text = with_unit(bound_text, short_unit(unit))
        return with_unit(seen_text, unit), _upper_limit(finding, limit_text, units)
    seen_text = one(value, finding.unit, units) if value is not None else _known_part(finding, units)
    if finding.words:
        return seen_text, joined(finding.words, "or")
    limit_text = "" if limit is None else _limit_alone(limit, finding.unit, units)
    return seen_text, _upper_limit(finding, limit_text, units)


def _known_part(finding: Finding, units: Units) -> str:
    return span(finding.low, finding.high, finding.unit, units)


def _limit_alone(limit: float | str, unit: str, units: Units) -> str:
    if isinstance(limit, str):
        return limit
    number, shown = in_units(limit, unit, units)
    return with_unit(format_number(number), short_unit(shown))


def _upper_limit(finding: Finding, text: str, units: Units) -> str:
    if finding.limit_high is None:
        return text
    return f"{text} and {_limit_alone(finding.limit_high, finding.unit, units)}"


def limit_name(finding: Finding) -> str:
    """The measure that sets the limit, in brackets (" (planned band)", " (1.5 × load)"), or nothing."""
    if not finding.limit_measure:
        return ""
    factor = "" if finding.limit_factor == 1 else f"{format_number(finding.limit_factor)} × "
    return f" ({factor}{finding.limit_measure})"


def headline(finding: Finding, units: Units = METRIC) -> str:
    """What was found, standing alone: "milk: browning band tan, at most ivory"."""
    if finding.measure == UNREAD_RULE:
        return f"your own rule {quoted(finding.rule)} cannot be read, and so not asked"
    seen, limit = measured(finding, units)
    said = plainly(finding.measure, seen)
    if said is not None:
        return f"{finding.subject_text}: {said}"
    relation = MUST.get(finding.relation, finding.relation)
    wanted = f", {relation} {limit}".rstrip(" ,") if limit or relation else ""
    return f"{finding.subject_text}: {called(finding.measure)} {seen}{wanted}{limit_name(finding)}"


def by_rule(findings: Sequence[Finding]) -> list[list[Finding]]:
    """One rule that speaks of several subjects is told once: findings of a rule and measure together."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.rule, finding.measure), []).append(finding)
    return list(groups.values())


def headline_of(findings: Sequence[Finding], units: Units = METRIC) -> str:
    """One rule on several subjects: "portion mass, at least 500 g: rose in sky 223 g; rose in bark 112 g"."""
    if len(findings) == 1:
        return headline(findings[0], units)
    first = findings[0]
    parts = [measured(each, units) for each in findings]
    said = plainly(first.measure, parts[0][0])
    if said is not None:
        return f"{subjects(findings)}: {said}"
    relation = MUST.get(first.relation, first.relation)
    limits = {limit for _, limit in parts}
    if len(limits) == 1:
        wanted = f", {relation} {parts[0][1]}".rstrip(" ,")
        each = [f"{f.subject_text} {seen}" for f, (seen, _) in zip(findings, parts, strict=True)]
        return f"{called(first.measure)}{wanted}{limit_name(first)}: {'; '.join(each)}"
    both = zip(findings, parts, strict=True)
    each = [f"{f.subject_text} {seen}, {relation} {limit}" for f, (seen, limit) in both]
    return f"{called(first.measure)}{limit_name(first)}: {'; '.join(each)}"


def tight_headline(findings: Sequence[Finding], units: Units = METRIC) -> str:
    """What judgement cannot settle: "sky: minutes fluid 24 min (17 to 34 min), at least 26 min (…)"."""
    told = "; ".join(f"{headline(each, units)}{_within(each, units)}" for each in findings[:MOST_TIGHT])
    more = len(findings) - MOST_TIGHT
    return told + (f"; and {more} more" if more > 0 else "")


def _within(finding: Finding, units: Units) -> str:
    ends = ((finding.least, finding.most, ""), (finding.limit_least, finding.limit_most, "limit "))
    spans = [
        f"{what}{span(low, high, finding.unit, units)}"
        for low, high, what in ends
        if (low, high) != (None, None)
    ]
    return f"; likely {joined(spans, 'and')}" if spans else ""


def settling(facts: Sequence[Missing]) -> str:
    """What would narrow the doubt: "write down stays fluid (plan); acceleration (rose, tonka)"."""
    subjects_of: dict[str, list[str]] = {}
    for each in facts:
        subjects_of.setdefault(each.fact, []).append(each.subject)
    each_fact = [f"{fact} ({joined(names, 'and')})" for fact, names in subjects_of.items()]
    return sentence(f"write down what you see: {'; '.join(each_fact)}")


def subjects(findings: Sequence[Finding]) -> str:
    """The subjects together; one scent in several portions is named once."""
    where: dict[str, list[str]] = {}
    for each in findings:
        head, _, portion = each.subject_text.rpartition(" in ")
        where.setdefault(head, []).append(portion)
    named = [f"{head} in {joined(places)}" if head else joined(places) for head, places in where.items()]
    return joined(named)


def cannot_say(finding: Finding, units: Units = METRIC) -> str:
    """An undecided finding which no single fact would settle: what is known, and what was wanted."""
    unread = finding.measure == UNREAD_RULE
    return headline(finding, units) + ("" if unread else "; what is known does not settle it")


def source(finding: Finding, together: Sequence[Finding] = ()) -> str:
    """Which rule says so, on what basis and whose evidence, and where it stands in the files."""
    parts = [f"rule {finding.rule}, {finding.basis}" if finding.basis else f"rule {finding.rule}"]
    if finding.evidence:
        parts.append(told_by(finding.evidence))
    if finding.where.plan:
        lines = {each.where.plan.line for each in together if each.where.plan} - {finding.where.plan.line}
        more = "".join(f", {line}" for line in sorted(lines))
        parts.append(f"plan {finding.where.plan}{more}")
    if finding.where.rule:
        parts.append(f"rulebook {finding.where.rule}")
    return sentence("; ".join(parts))


def not_known(missing: Missing, rules: int) -> str:
    """Headline of a missing fact: "vetiver: vanillin not known; four rules wait on it"."""
    wait = "waits" if rules == 1 else "wait"
    return f"{missing.subject}: {missing.fact} not known; {counted(rules, 'rule')} {wait} on it"


WRITE_THEM_DOWN = "Write them down as you learn them, from the supplier's paper or a look of your own."


def also_not_known(facts: int) -> str:
    """Headline of the facts on which only cautions and hints wait."""
    verb = "is" if facts == 1 else "are"
    return f"{counted(facts, 'fact')} {verb} not known on which nothing worse than a caution waits"


def waiting(findings: Sequence[Finding]) -> str:
    """The rules that wait, each with its level and the subjects it waits for."""
    subjects: dict[tuple[str, str], list[str]] = {}
    for finding in findings:
        subjects.setdefault((finding.rule, finding.level), []).append(finding.subject_text)
    each = (f"{rule} ({level}): {', '.join(names)}" for (rule, level), names in subjects.items())
    return sentence("; ".join(each))


def how_to_know(missing: Missing, heaviest: str) -> str:
    """What to do about a missing fact, and what it counts as until then."""
    until = f" Until it is known, this counts as a {heaviest}." if heaviest in ("stop", "conflict") else ""
    return (
        f"Write {quoted(missing.fact)} down for {quoted(missing.subject)}, "
        f"from the supplier's paper or from a look of your own.{until}"
    )


def verdict(result: CheckResult, *, by_line: bool = False) -> str:
    """The whole check in one sentence; ``by_line``: counted as the eye counts lines, one a rule."""
    if result.harm:
        return f"Do not pour: {joined(against(result, by_line=by_line))}."
    if result.papers:
        besides = joined(against(result, papers=False, by_line=by_line))
        rest = f"; besides, {besides}" if besides else ""
        return f"Not for sale until {until(result)}{rest}."
    undecided, broken = result.count("undecided"), result.count("broken")
    light = [counted(broken[level], level) for level in ("caution", "hint") if broken[level]]
    if not result.sound:
        return f"Not as it stands: {joined(against(result, by_line=by_line))}."
    besides = as_far_as_known(result) or ("; some facts are not known" if any(undecided.values()) else "")
    tight = len({f.rule for f in result.findings if f.status == "tight" and not f.hidden})
    light += [f"{counted(tight, 'thing')} too tight to call"] if tight else []
    if light:
        return f"Nothing worse than a caution: {joined(light)}{besides}."
    return f"Nothing in the rulebook speaks against this plan{besides}."


def as_far_as_known(result: CheckResult) -> str:
    """What a good verdict leaves: " as far as is known; open: what rose does, and the pour"; or empty."""
    asked = result.open_questions
    whose = list(dict.fromkeys(each.subject for each in asked if each.subject != THE_PLAN))
    own = joined([f"the {fact}" for fact in dict.fromkeys(q.fact for q in asked if q.subject == THE_PLAN)])
    if not whose:
        return f" as far as is known; open: {own}" if own else ""
    more = [f"{len(whose) - MOST_TIGHT} more"] if len(whose) > MOST_TIGHT else []
    does = "does" if len(whose) == 1 else "do"
    what = f"what {joined([*whose[:MOST_TIGHT], *more])} {does}"
    return f" as far as is known; open: {what}{own and f', and {own}'}"


def against(result: CheckResult, *, papers: bool = True, by_line: bool = False) -> list[str]:
    """What stands against a plan, counted: stops and conflicts, and whether some hang on the unknown.

    ``by_line``: what one rule finds of several portions counts once, as it is told in one line.
    """
    heavy = [f for f in result.findings if f.stands and f.level in HEAVY]
    counted_in = [f for f in heavy if papers or f.kind_of_stop != "paper"]
    there = [f for f in counted_in if f.status == "broken"]
    lines = {(f.rule, f.version, f.level): f for f in there}.values() if by_line else there
    broken = Counter(f.level for f in lines)
    open_at = {f.level for f in counted_in if f.status != "broken"}
    waits = [level for level in HEAVY if level in open_at]
    told = [counted(broken[level], level) for level in HEAVY if broken[level]]
    hang = "hangs" if len(waits) == 1 else "hang"
    return [*told, *([f"something not known that a {joined(waits, 'and a')} {hang} on"] if waits else [])]


PAPERS = {
    "certificate": "the certificate of {} is there",
    "embed scents certified": "the certificates of all oils in the embeds are there",
}
"""Measure of a stop that a paper is missing for → what must be there; {} stands for whose it is."""


def conflicts(result: CheckResult) -> bool:
    """Whether a conflict stands."""
    return any(each.stands and each.level == "conflict" for each in result.findings)


def until(result: CheckResult) -> str:
    """Which papers must be there before it is sold: "the certificate of linen is there"."""
    wanted: dict[str, dict[str, None]] = {}
    for finding in result.stops("paper"):
        text = PAPERS.get(finding.measure, f"the paper on {finding.measure} of {{}} is there")
        wanted.setdefault(text, {})[finding.subject_text] = None
    return joined([text.format(joined(list(whose))) for text, whose in wanted.items()])


def footing(result: CheckResult) -> str:
    """What was judged and what was set aside, so that nothing is silent."""
    parts = [f"{counted(result.rules, 'rule')} asked".capitalize()]
    parts.append(f"{counted(result.accepted, 'finding')} accepted by you")
    parts.append(f"{counted(result.rules_off, 'rule')} switched off")
    return sentence(", ".join(parts))


def unused(rule: str, subject: str) -> str:
    """Headline of an acceptance that accepts nothing."""
    return f"accepting {quoted(rule)} for {quoted(subject)} has no effect"


def joined_with(text: str, evidence: str) -> str:
    """A value and whose word it is."""
    return f"{text}, {told_by(evidence)}" if evidence else text


def told_by(evidence: str) -> str:
    """Whose word something is: "told by the supplier", "told by your own batch and hearsay".

    What is no rank of evidence (a constituent with its maximum and source) stands as it is.
    """
    if EVIDENCE.keys().isdisjoint(evidence.split(", ")):
        return evidence
    return f"told by {joined([EVIDENCE.get(word, word) for word in evidence.split(', ')])}"


def odd_figure(field: str, figure: str, why: str, usual: str) -> str:
    """A figure that is hardly ever meant, in the words of its field."""
    is_odd = "is a day to come" if why == "day to come" else f"is odd: {usual[0].lower()}{usual[1:]}"
    return f"{field} {quoted(figure)} {is_odd}"

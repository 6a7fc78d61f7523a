"""Do these get on?  Two or more oils and no plan yet.

No rule is written here: the question becomes a plan in memory (one portion, uncoloured unless a colour is
named, the maker's usual recipe), and the same measures and the same judge answer as for any plan.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from blendwise.answers.check.compute import asides, at_home, grams_of, unasked
from blendwise.answers.check.result import CheckResult
from blendwise.answers.levers.result import Lever
from blendwise.answers.pair.colours import colours
from blendwise.answers.pair.findings import Hearing
from blendwise.answers.pair.help import Looked, helps
from blendwise.answers.pair.levers import levers_of
from blendwise.answers.pair.plan import load_on_oils, situation
from blendwise.answers.pair.pours import findings_in, pour_rules, poured, pours, without_pours
from blendwise.answers.pair.question import Question
from blendwise.answers.pair.region import grid, region
from blendwise.answers.pair.result import Cap, PairResult
from blendwise.answers.pair.sides import sides, together
from blendwise.facts.situation.worked_out import Situation
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.judge.rulebook.layers import Rulebook


def pair(question: Question, rulebook: Rulebook) -> PairResult:
    """Answer a question; RecordError where the usual recipe cannot be worked out."""
    rules = rulebook.rules
    s = situation(question)
    hearing = Hearing(question, rules)
    own = hearing.of(s)
    findings = [*own, *_of_the_pour(question, own, rulebook)]
    side, both = sides(question, s), together(question, s, own)
    caps = _region(question, s, rulebook)
    fits = tuple(pours(question, rules))
    tints = colours(question, rules)
    looked = Looked(s, rules, hearing, findings, side, both, fits, tints)
    return PairResult(
        oils=question.oils,
        shares=dict(zip(question.oils, question.shares, strict=True)),
        load=load_on_oils(s),
        batch_oils=s.pot.oils_total,
        colour=question.colour,
        pour=question.pour,
        sides=side,
        together=both,
        region=caps,
        pours=fits,
        colours=tints,
        helps=tuple(helps(looked)),
        check=_check(s, findings, rulebook, levers_of(question, own, rulebook)),
        said=question.said,
        units=question.book.usual.units,
    )


def _region(question: Question, s: Situation, rulebook: Rulebook) -> tuple[Cap, ...]:
    """The region in the asked pour, its clock among the rules; else in one portion."""
    ratios = grid(question.shares)
    if question.pour is None:
        return tuple(region(s, without_pours(rulebook.rules), ratios))
    return tuple(region(poured(question, question.book.pours[question.pour]), rulebook.rules, ratios))


def _of_the_pour(question: Question, own: Iterable[Finding], rulebook: Rulebook) -> list[Finding]:
    """What the asked pour adds: one finding a rule, of its worst portion."""
    if question.pour is None:
        return []
    spoken = {finding.rule for finding in own}
    found = findings_in(poured(question, question.book.pours[question.pour]), pour_rules(rulebook.rules))
    return [finding for finding in found if finding.rule not in spoken]


def _check(
    s: Situation, findings: Sequence[Finding], rulebook: Rulebook, levers: tuple[Lever, ...]
) -> CheckResult:
    """The findings as a check of the bar in memory, heaviest first."""
    ranked = sorted((*unasked(s, rulebook), *findings), key=lambda finding: -LEVELS.index(finding.level))
    return CheckResult(
        plan=s.plan.plan,
        file="",
        purpose=s.purpose,
        today=s.today,
        findings=tuple(at_home(finding, s.book.folder) for finding in ranked),
        grams=grams_of(s),
        rules=len(rulebook.rules),
        rules_off=len(rulebook.off),
        aside=tuple(asides(rulebook, s.book.folder)),
        levers=levers,
        units=s.book.usual.units,
    )

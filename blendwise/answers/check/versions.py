"""The versions of a plan are poured too: what the rulebook says of each, beside the plan as written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from blendwise.answers.check.compute import at_home, judge_situation, moved_from, without_masses
from blendwise.answers.check.result import CheckResult
from blendwise.facts.situation.worked_out import Situation, versions_of
from blendwise.judge.findings.finding import LEVELS, Finding
from blendwise.judge.rulebook.layers import Rulebook

Same = tuple[str, tuple[str, ...], str, str]


def with_versions(result: CheckResult, s: Situation, rulebook: Rulebook) -> CheckResult:
    """The check of a plan with what is found in its versions; RecordError where one cannot be worked out.

    A version adds what the plan as written does not show already: the same rule on the same subject is told
    again only where it is a conflict or a stop and its figure differs.
    """
    if not s.plan.variations:
        return result
    added: list[Finding] = []
    unused = list(result.unused_acceptances)
    for version in versions_of(s):
        accepted = judge_situation(version, rulebook, moved=moved_from(s, version, rulebook.rules))
        idle = {(each.accept.rule, each.accept.for_) for each in accepted.unused}
        unused = [each for each in unused if (each.rule, each.subject) in idle]
        added += (
            replace(at_home(finding, s.book.folder), version=version.variation or "")
            for finding in _news(accepted.findings, result.findings)
        )
    ranked = sorted((*result.findings, *added), key=lambda finding: -LEVELS.index(finding.level))
    found = replace(result, findings=tuple(ranked), unused_acceptances=tuple(unused))
    return without_masses(found) if found.lye_stop else found


def with_levers(result: CheckResult, s: Situation, rulebook: Rulebook, every: bool) -> CheckResult:
    """The check with what would mend it: for stops and conflicts, with ``every`` for cautions too."""
    heavy = ("stop", "conflict", "caution") if every else ("stop", "conflict")
    if not any(each.status == "broken" and each.level in heavy for each in result.findings):
        return result
    from blendwise.answers.levers.search import levers

    return replace(result, levers=levers(s, rulebook, result, every=every))


def _news(found: Sequence[Finding], known: Sequence[Finding]) -> Iterator[Finding]:
    before = {_same(finding): finding for finding in known}
    for finding in found:
        seen = before.get(_same(finding))
        if seen is None or (finding.level in ("conflict", "stop") and finding.value != seen.value):
            yield finding


def _same(finding: Finding) -> Same:
    return finding.rule, finding.subject, finding.status, finding.level

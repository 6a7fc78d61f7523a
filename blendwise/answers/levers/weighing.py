"""How bad a plan is, rule by rule and subject by subject; and what a search may still spend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from typing import Final

from blendwise.judge.findings.finding import LEVELS, Finding

Key = tuple[str, tuple[str, ...]]
Severities = Mapping[Key, int]
STATUS: Final = ("accepted", "tight", "undecided", "broken")
CAUTION: Final = LEVELS.index("caution")


@dataclass
class Purse:
    """How many plans may still be screened, and how many judged whole."""

    screened: int
    judged: int

    def pay(self, what: str) -> bool:
        """Whether there is one left; it is spent."""
        left = int(getattr(self, what))
        setattr(self, what, left - 1)
        return left > 0

    def part(self, most: tuple[int, int]) -> Purse:
        """A purse of its own, out of this one."""
        taken = Purse(min(self.screened, most[0]), min(self.judged, most[1]))
        self.screened -= taken.screened
        self.judged -= taken.judged
        return taken

    def back(self, taken: Purse) -> None:
        """What was not spent comes back."""
        self.screened += max(taken.screened, 0)
        self.judged += max(taken.judged, 0)


def counts(finding: Finding) -> bool:
    return finding.stands and not finding.hidden and LEVELS.index(finding.level) >= CAUTION


def severities(findings: Sequence[Finding]) -> dict[Key, int]:
    """Rule and subject → how bad, by level and then by status; hints and what is hidden left out."""
    found: dict[Key, int] = {}
    for each in findings:
        if counts(each):
            key = each.rule, each.subject
            bad = LEVELS.index(each.level) * len(STATUS) + STATUS.index(each.status)
            found[key] = max(found.get(key, 0), bad)
    return found


def before(findings: Sequence[Finding], version: str, mended: Set[Key]) -> Severities:
    """How bad a plan was as written ("") or a version of it: what only another version says is no excuse."""
    there = severities([each for each in findings if each.version in ("", version)])
    return {key: bad for key, bad in there.items() if key not in mended}


def worse_than(before: Severities, after: Severities) -> frozenset[str]:
    """The rules that speak of something new, or louder than before."""
    return frozenset(rule for (rule, subject), bad in after.items() if bad > before.get((rule, subject), -1))


def is_there(finding: Finding) -> bool:
    """Whether it is told at all, be it as a question: what is only not known any more is not mended."""
    return finding.status != "accepted" and not finding.hidden


def is_news(finding: Finding, before: Severities) -> bool:
    return bool(worse_than(before, severities([finding])))

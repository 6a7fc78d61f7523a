"""How bad a plan is, rule by rule and subject by subject; and what a search may still spend."""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from typing import Final, NamedTuple

from blendwise.judge.findings.finding import LEVELS, Finding

Key = tuple[str, tuple[str, ...]]
STATUS: Final = ("accepted", "tight", "undecided", "broken")
CAUTION: Final = LEVELS.index("caution")
NEARLY: Final = 0.01
"""What a figure of a stop may move beside what mends another, as a share of it (judgement)."""


class Severity(NamedTuple):
    """By level and then by status; of a stop also how far it is beyond its limit, in the measure's unit."""

    rank: int
    beyond: float = 0.0

    def is_worse_than(self, other: Severity | None) -> bool:
        """Whether it is heavier, or as heavy and further beyond."""
        if other is None or self.rank != other.rank:
            return other is None or self.rank > other.rank
        return self.beyond - other.beyond > NEARLY * abs(other.beyond) + 1e-9


Severities = Mapping[Key, Severity]


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
    """Whether it stands, at caution or above, and is told without being asked for."""
    return finding.stands and not finding.hidden and LEVELS.index(finding.level) >= CAUTION


def severities(findings: Sequence[Finding]) -> dict[Key, Severity]:
    """Rule and subject → how bad, the worst of its versions; hints and what is hidden left out."""
    found: dict[Key, Severity] = {}
    for each in filter(counts, findings):
        key = each.rule, each.subject
        rank = LEVELS.index(each.level) * len(STATUS) + STATUS.index(each.status)
        found[key] = max(found.get(key, Severity(0)), Severity(rank, _beyond(each)))
    return found


def _beyond(finding: Finding) -> float:
    """How far a stop is beyond its limit; 0 for any other, and where it is no bound in figures."""
    value, limit = finding.value, finding.limit
    side = {"at most": 1.0, "below": 1.0, "at least": -1.0, "above": -1.0}.get(finding.relation, 0.0)
    if finding.level != "stop" or not isinstance(value, int | float) or not isinstance(limit, int | float):
        return 0.0
    return side * (value - limit)


def before(
    findings: Sequence[Finding], version: str, mended: Set[Key], rungs: Mapping[str, Set[str]]
) -> Severities:
    """How bad a plan was as written ("") or a version of it: what only another version says is no excuse.

    ``rungs``: rule → the milder rules that it comes down to when it is mended: they were as bad before.
    """
    there = severities([each for each in findings if each.version in ("", version)])
    for (rule, subject), bad in tuple(there.items()):
        for milder in rungs.get(rule, ()):
            there[milder, subject] = max(bad, there.get((milder, subject), bad))
    return {key: bad for key, bad in there.items() if key not in mended}


def worse_than(was: Severities, now: Severities) -> frozenset[str]:
    """The rules that speak of something new, or louder than before."""
    return frozenset(key[0] for key, how in now.items() if how.is_worse_than(was.get(key)))


def is_there(finding: Finding) -> bool:
    """Whether it is told at all, be it as a question: what is only not known any more is not mended."""
    return finding.status != "accepted" and not finding.hidden


def is_news(finding: Finding, was: Severities) -> bool:
    """Whether it speaks of something new, or louder than before."""
    return bool(worse_than(was, severities([finding])))

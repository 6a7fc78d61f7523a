"""The English of a sheet that is none: what to mend, and what holds if it is poured already."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from blendwise.answers.check.result import CheckResult
from blendwise.judge.findings.finding import Finding
from blendwise.quantity import Units
from blendwise.quantity.prose import theirs
from blendwise.show import words
from blendwise.show.check import levers
from blendwise.show.check.says import says
from blendwise.show.poured import POURED, POURED_ALREADY
from blendwise.show.sheet.words import LAW
from blendwise.show.text import sentence

DO_NOT_POUR = "Do not pour"
NOT_YET = "Do not pour yet"  # where nothing harms, but it would not come out as planned
NOTHING_HERE = "There is nothing to weigh on this page until what stands below is mended."
MEND = "Mend this first"
STATUS = ("broken", "undecided")
verdict = words.verdict


@dataclass(frozen=True, slots=True)
class Mend:
    """One thing to mend: its tag, what was found, why it matters, what to try."""

    tag: str
    what: str
    because: str
    remedy: str


def to_mend(check: CheckResult, units: Units) -> Iterator[Mend]:
    """The harms first, then the papers, then the conflicts; a rule once for the plan and once a version."""
    conflicts = [each for each in check.findings if each.stands and each.level == "conflict"]
    for group in (check.stops("harm"), check.stops("paper"), conflicts):
        kinds = dict.fromkeys((status, each.version) for status in STATUS for each in group)
        for kind in kinds:
            alike = [each for each in group if (each.status, each.version) == kind]
            yield from (_mend(together, check, units) for together in words.by_rule(alike))


def _mend(together: list[Finding], check: CheckResult, units: Units) -> Mend:
    first = together[0]
    if first.status == "broken":
        what = says(together, units)
    else:
        what = f"{words.headline_of(together, units)}; not settled"
    told = levers.lines([each for each in check.levers if each.plan], together, units)
    remedy = told[0][1] if told else theirs(first.try_, units)
    return Mend(
        words.TAGS[first.level], sentence(what), sentence(theirs(first.because, units)), sentence(remedy)
    )


__all__ = ["DO_NOT_POUR", "LAW", "MEND", "NOTHING_HERE", "POURED", "POURED_ALREADY", "to_mend", "verdict"]

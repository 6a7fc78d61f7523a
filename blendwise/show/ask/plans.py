"""What is told of a plan: harm first, then the answer to the question, then what rules find on its matter."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from itertools import chain, islice
from typing import Final

from blendwise.answers.ask.doses.asked import AS_PLANNED
from blendwise.answers.ask.result import AskResult
from blendwise.answers.check.result import CheckResult
from blendwise.show.ask import batter, cups
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about, plain_verdict
from blendwise.show.ask.facts import facts_of
from blendwise.show.ask.oils.dose import as_planned, of_dose, together, with_dose
from blendwise.show.ask.reasons import warmth, white
from blendwise.show.ask.reasons.lasting import lasts_in
from blendwise.show.blocks import Line
from blendwise.show.check.brief import finding_lines
from blendwise.show.words import TAGS, UNKNOWN_TAG

Lines = Iterator[Line]
OF_A_SALE: Final = ("one name",)
"""Questions of selling: what a paper is missing for belongs to them."""


def of_check(result: AskResult, found: CheckResult) -> Lines:
    """A plan that must not be poured is said to be one, whatever was asked; then the answer."""
    if result.question == "plan as a whole" and result.dosed is None:
        yield Line("", plain_verdict(found))
        yield from finding_lines(found)
        return
    if result.dosed is not None and result.dosed.told == (AS_PLANNED,):
        yield from as_planned(result, result.dosed, found)
        return
    if result.dosed is not None:
        yield with_dose(result, result.dosed, found)
        told = list(ANSWERS.get(result.question, of_dose)(result, found))
        yield from told
        heavy = [line for line in finding_lines(found) if line.tag in HEAVY and line not in told]
        yield from (
            heavy[:1] if not any(line.tag in HEAVY for line in told) else ()
        )  # counted above, so named
        return
    lines = ANSWERS.get(result.question, _facts)(result, found)
    if result.question in OF_A_SALE and found.papers:
        lines = chain(islice(lines, 1), _stops(found, "paper"), lines)
    if not found.harm:
        yield from lines
        return
    stop = _first_stop(found)
    if stop.tag == UNKNOWN_TAG:  # nothing is wrong that is known: the answer first, then what it waits for
        yield from islice(lines, 1)
        waits = stop.text.removeprefix("a stop until it is written down: ")
        yield Line(TAGS["stop"], f"do not pour before it is written down: {waits}")
        lines = (line for line in lines if line != stop)
    else:
        yield Line(TAGS["stop"], f"Do not pour: {stop.text}")
    yield from lines


def _first_stop(found: CheckResult) -> Line:
    """What the first of the harms is, in the words of its rule; one that is known before one that is not."""
    lines = _stops(found, "harm")
    lines.sort(key=lambda line: line.tag == UNKNOWN_TAG)
    return next(iter(lines), Line(TAGS["stop"], "the command below says which"))


def _stops(found: CheckResult, kind: str) -> list[Line]:
    """The stops of a kind: of harm, or of a paper that a sale lacks."""
    kept = replace(found, findings=tuple(each for each in found.findings if each.kind_of_stop == kind))
    return [line for line in finding_lines(kept) if line.tag in (TAGS["stop"], UNKNOWN_TAG)]


def _facts(result: AskResult, found: CheckResult) -> Lines:
    """The facts of a question, then what the rules find on its matter, or that none speaks of it."""
    if result.question in say.SAID:
        yield Line("", say.SAID[result.question])
    yield from facts_of(result, found)
    told = list(about(result.question, found))
    yield from told
    if not told:
        clear = found.sound and not any(each.level == "caution" for each in found.findings if each.stands)
        yield Line("", say.NOTHING_HERE if clear else say.ELSEWHERE.format(verdict=plain_verdict(found)))


def _before_the_pour(result: AskResult, found: CheckResult) -> Lines:
    """What to change where nothing is poured yet: what the check has against the plan."""
    verdict = say.SEE_BELOW if found.harm or not found.sound else plain_verdict(found)
    yield Line("", f"{say.NOTHING_POURED}{verdict}")
    yield from finding_lines(found)


ANSWERS: Final[Mapping[str, Callable[[AskResult, CheckResult], Lines]]] = {
    "browns": cups.browns,
    "no vanillin": cups.browns,
    "part white": white.part_white,
    "half scented": cups.half_scented,
    "mould volume": cups.mould,
    "colour rate": cups.colour_rate,
    "carrier superfat": cups.superfat,
    "one name": cups.one_name,
    "stabiliser": cups.stabiliser,
    "change next": _before_the_pour,
    "how strong": together,
    "citrus lasts": lasts_in,
    "water": batter.water,
    "temperature": warmth.warmth,
    "gel": warmth.gel,
    "keep from seizing": batter.kept_from_seizing,
    "order": batter.order,
    "time": batter.time,
    "quick in swirl": batter.time,
}
"""Question → what is told of a plan."""

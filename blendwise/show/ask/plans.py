"""What is told of a plan: harm first, then the answer to the question, then what rules find on its matter."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Final

from blendwise.answers.ask.result import AskResult
from blendwise.answers.check.result import CheckResult
from blendwise.show.ask import batter, cups
from blendwise.show.ask import words as say
from blendwise.show.ask.about import about
from blendwise.show.ask.facts import facts_of
from blendwise.show.ask.oils.dose import of_dose, with_dose
from blendwise.show.blocks import Line
from blendwise.show.check.brief import brief_verdict, finding_lines
from blendwise.show.words import TAGS, UNKNOWN_TAG

Lines = Iterator[Line]


def of_check(result: AskResult, found: CheckResult) -> Lines:
    """A plan that must not be poured is said to be one, whatever was asked; then the answer."""
    if result.question == "plan as a whole" and result.dosed is None:
        yield Line("", brief_verdict(found))
        yield from finding_lines(found)
        return
    if result.dosed is not None:
        yield with_dose(result, result.dosed, found)
        yield from ANSWERS.get(result.question, of_dose)(result, found)
        return
    if found.harm:
        yield Line(TAGS["stop"], f"{brief_verdict(found).rstrip('.')}: {_first_stop(found)}")
    yield from ANSWERS.get(result.question, _facts)(result, found)


def _first_stop(found: CheckResult) -> str:
    """What the first of the stops is, in the words of its rule."""
    return next(
        (line.text for line in finding_lines(found) if line.tag in (TAGS["stop"], UNKNOWN_TAG)),
        "the command below says which",
    )


def _facts(result: AskResult, found: CheckResult) -> Lines:
    """The facts of a question, then what the rules find on its matter, or that none speaks of it."""
    if result.question in say.SAID:
        yield Line("", say.SAID[result.question])
    yield from facts_of(result, found)
    told = list(about(result.question, found))
    yield from told
    if not told:
        clear = found.sound and not any(each.level == "caution" for each in found.findings if each.stands)
        yield Line("", say.NOTHING_HERE if clear else say.ELSEWHERE.format(verdict=brief_verdict(found)))


ANSWERS: Final[Mapping[str, Callable[[AskResult, CheckResult], Lines]]] = {
    "browns": cups.browns,
    "no vanillin": cups.browns,
    "part white": cups.part_white,
    "half scented": cups.half_scented,
    "mould volume": cups.mould,
    "colour rate": cups.colour_rate,
    "carrier superfat": cups.superfat,
    "one name": cups.one_name,
    "stabiliser": cups.stabiliser,
    "citrus lasts": cups.lasts,
    "water": batter.water,
    "temperature": batter.warmth,
    "gel": batter.gel,
    "keep from seizing": batter.kept_from_seizing,
    "order": batter.order,
    "time": batter.time,
    "quick in swirl": batter.time,
}
"""Question → what is told of a plan."""

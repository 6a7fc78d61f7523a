"""A dose that a question names: what it comes to, whether it may be, and the most that breaks no limit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from blendwise.answers.ask.doses.named import is_load
from blendwise.answers.ask.doses.planned import breaks
from blendwise.answers.ask.result import AskResult, Dosed
from blendwise.answers.check.result import CheckResult
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.quantity import Units, format_number
from blendwise.show.ask.about import about, plain_verdict
from blendwise.show.ask.facts import facts_of, number
from blendwise.show.blocks import Line
from blendwise.show.check.brief import finding_lines
from blendwise.show.numbers import amount, grams, in_units, with_unit
from blendwise.show.text import joined
from blendwise.show.words import TAGS

Lines = Iterator[Line]
BEYOND = "no soap takes that"

_ONE_FIGURE: Final = re.compile(r"\d[\d.,]*[^\d–—-]*")
"""No range, which counts by its top."""


def with_dose(result: AskResult, dose: Dosed, found: CheckResult, told_of: CheckResult | None = None) -> Line:
    """The dose as it was taken, and what the check says of the plan with it: before all else.

    ``told_of``: the check with what was asked of alone, whose findings are told below.
    """
    told = _told(dose, result.units)
    if dose.beyond:
        return Line(TAGS["stop"], f"No, {told}: {BEYOND}")
    if breaks(found):
        return Line(TAGS["stop"], f"No, {told}: {_verdict(found)}")
    return Line(TAGS["stop"] if found.harm else "", f"With {told}: {_verdict(told_of or found)}")


def _verdict(found: CheckResult) -> str:
    verdict = plain_verdict(found).rstrip(".")
    return (verdict[:1].lower() + verdict[1:]).replace("against this plan", "against it")


def _told(dose: Dosed, units: Units) -> str:
    """ "8 oz of Clove Leaf (3.2 oz ppo of batch oils; as planned 0.048 oz)"."""
    if len(dose.told) == 1 and len(dose.wanted) > 1:
        whole, was = sum(dose.wanted.values()), sum(dose.was.values())
        return _one(dose, "scent in all", whole, was, units)
    return joined([_one(dose, oil, mass, dose.was.get(oil), units) for oil, mass in dose.wanted.items()])


def _one(dose: Dosed, oil: str, mass: float, was: float | None, units: Units) -> str:
    rate = _rate(mass / dose.oils, units)
    planned = "" if was is None else f"; as planned {grams(was, units)}"
    typed = dose.told[0] if len(dose.told) == 1 else ""
    if is_load(typed) and _ONE_FIGURE.fullmatch(typed) and " of " not in typed:
        rate = f"{typed} of batch oils"  # the maker's own figure, not one gone through two units
    return f"{grams(mass, units)} of {oil} ({rate}{planned})"


def _rate(value: float, units: Units) -> str:
    """A dose on all oils in three figures of the unit that is shown."""
    number, shown = in_units(value, "% of batch oils", units)
    return with_unit(format_number(_short(number)), shown)


def _short(value: float) -> float:
    return float(f"{value:.3g}")


def of_dose(result: AskResult, found: CheckResult) -> Lines:
    """What a rule has against the plan with the dose, what is most, then the rest of what it finds."""
    dose = result.dosed
    assert dose is not None
    lines = [] if dose.beyond else list(finding_lines(found))
    heavy = [line for line in lines if line.tag in (TAGS["stop"], TAGS["conflict"])]
    yield from heavy[:1]
    yield from most(dose, found)
    yield from heavy[1:]
    yield from (line for line in lines if line not in heavy)


def as_planned(result: AskResult, dose: Dosed, found: CheckResult) -> Lines:
    """The most of one oil of a plan beside what is planned of it, then what stands against the plan."""
    yield from most(dose, found)
    yield Line("", f"Planned is {_one(dose, *next(iter(dose.wanted.items())), None, result.units)}")
    yield from finding_lines(found)


def together(result: AskResult, found: CheckResult) -> Lines:
    """How much all scent of a plan comes to, and up to how much the papers on file and use would bear."""
    load, used = number(found, "scent of batch oils"), number(found, "limit used")
    if load:
        bound = min(MOST_USUAL_DOSE, load / used) if used else MOST_USUAL_DOSE
        oils = number(found, "oils mass") or 0.0
        held = f" ({grams(bound * oils, result.units)})" if oils else ""
        most_of_all = amount(_down(bound), "% of batch oils", result.units)
        now = _rate(load, result.units)
        why = "what is usual" if bound >= MOST_USUAL_DOSE else "the certificates on file"
        yield Line("", f"At most {most_of_all}{held} of all scent together, by {why}; planned is {now}")
    yield from facts_of(result, found)
    yield from about(result.question, found)


def most(dose: Dosed, found: CheckResult) -> Lines:
    """The most of the one oil that breaks no limit for skin; nothing is promised of speed or colour."""
    if len(dose.wanted) != 1 or dose.beyond:
        return
    oil, units = next(iter(dose.wanted)), found.units
    if dose.most is None:
        yield Line("", f"No dose of {oil} is known here that breaks no limit")
        return
    rate = amount(_down(dose.most / dose.oils), "% of batch oils", units)
    yield Line(
        "",
        f"By limits and what is usual at most {grams(dose.most, units)} of {oil} ({rate}) beside the others",
    )


def _down(value: float) -> float:
    """Three figures, never more than there is."""
    short = _short(value)
    return short if short <= value else _short(value * 0.995)


def not_taken(result: AskResult) -> Lines:
    """What is named in the question and the answer does not take up: never in silence."""
    held = result.not_taken
    if held:
        verb = "is" if len(held) == 1 else "are"
        told = joined([_as_said(each) for each in held])
        whole = "; the figures are those of the plan" if result.plan and result.call == "check" else ""
        yield Line("", f"{told} in your question {verb} not taken up here{whole}")


def _as_said(text: str) -> str:
    return f"{text.removeprefix('x ')} times as much" if text.startswith("x ") else text

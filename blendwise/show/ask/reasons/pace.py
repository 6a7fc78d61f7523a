"""How quick each oil of a plan is, on whose word; which cup that makes the thickest."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import floor

from blendwise.answers.ask.result import AskResult
from blendwise.answers.check.result import CheckResult, Fact
from blendwise.quantity import format_number
from blendwise.show.ask.facts import numbers, of_measure
from blendwise.show.ask.reasons.own_pace import noted_pace, rate
from blendwise.show.blocks import Line
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

QUICKER = 1.3
"""How much quicker than the slowest cup a cup is told to be so by its scent: the cause in the rulebook."""


def seizing(found: CheckResult) -> list[str]:
    """The oils of the plan that are known to turn batter solid within a minute."""
    used = {name for row in found.grams for name, mass in row.scents.items() if mass}
    return [
        name
        for name, fact in of_measure(found, "seizes").items()
        if fact.low in (True, "yes") and name in used
    ]


def pace_of(result: AskResult, found: CheckResult, oils: Sequence[str]) -> Iterator[Line]:
    """How quick the oils are, and which of the others is quicker."""
    facts = of_measure(found, "quickening")
    stiff = {name for name, fact in of_measure(found, "seizes").items() if fact.low in (True, "yes")}
    asked = [name for name in oils if name in facts]
    if not asked:
        return
    told = [_one(result, found, name, name in stiff) for name in asked]
    most = max((name for name in facts if name not in asked), key=lambda name: _high(facts[name]), default="")
    own = max(_high(facts[name]) for name in asked)
    other = (
        f"; the quick one here is {most}, it {_times(facts[most], most in stiff)}"
        if most and _high(facts[most]) > own
        else ""
    )
    yield Line("", f"{joined(told)}{other}")


def _one(result: AskResult, found: CheckResult, name: str, stiff: bool) -> str:
    """How quick an oil is at the dose that is believed in, and what the own note showed at its own."""
    fact, at = of_measure(found, "quickening")[name], numbers(found, "quickening seen at").get(name)
    seen = noted_pace(result.looks_of_oils, name, found.units)
    if stiff or at is None or fact.evidence not in OWN or fact.high in (None, 1.0) or not seen:
        return f"{name} {_times(fact, stiff)}"
    return f"{name} {_times(replace(fact, evidence=''), stiff)} at {rate(at, found.units)}, reckoned: {seen}"


OWN = ("own batch", "own cup")


def quickest(found: CheckResult, cup: str) -> Iterator[str]:
    """How much quicker than unscented a cup thickens, by its own dose, and the oil of it that does the most.

    The figure is that of the cup, as ``check`` judges it: an oil's own is of the dose of its note.
    """
    facts, paces = of_measure(found, "quickening"), numbers(found, "thickening")
    doses = next((row.scents for row in found.grams if row.portion == cup), {})
    held = {name: (_high(facts[name]) - 1) * mass for name, mass in doses.items() if name in facts}
    name = max(held, key=lambda each: held[each], default="")
    if name and held[name] > 0 and paces.get(cup, 1.0) >= QUICKER:
        word = facts[name].evidence
        reckoned = "reckoned from " if word in OWN else "by "
        by = f" ({reckoned}{EVIDENCE.get(word, word)})" if word else ""
        yield f"{cup} thickens {paces[cup]:.3g} times as fast as unscented, through {name}{by}"


def _high(fact: Fact) -> float:
    return fact.high if isinstance(fact.high, float) else 0.0


def _times(fact: Fact, stiff: bool) -> str:
    if not isinstance(fact.high, float):
        return "thickens at a speed that nobody has written down"
    by = f" (by {EVIDENCE.get(fact.evidence, fact.evidence)})" if fact.evidence else ""
    if stiff:
        return f"seizes it{by}"
    if fact.high <= 1.0:
        return f"does not quicken it{by}"
    return f"thickens it {times(fact.high)} times as fast{by}"


def times(value: float) -> str:
    """So many times as fast, to two figures."""
    return format_number(float(f"{value:.2g}"))


def not_known(found: CheckResult) -> list[str]:
    """The oils of the plan whose speed nobody has written down."""
    return [name for name, fact in of_measure(found, "quickening").items() if fact.high is None]


def likeliest(found: CheckResult) -> str:
    """The cup that the plan would make the thickest: by its scent, then its colour, then its wait."""
    quick, powder = numbers(found, "thickening"), of_measure(found, "colour thickens")
    at = numbers(found, "scented at")

    def rank(cup: str) -> tuple[float, bool, float]:
        return -quick[cup], cup not in powder or powder[cup].low not in ("yes", True), at.get(cup, 0.0)

    return min(quick, key=rank, default="")


def thickest(found: CheckResult, cup: str) -> Iterator[Line]:
    """Why a cup would be thicker than the others, by the plan: its scent, colour or wait; or none."""
    quick, powder = of_measure(found, "thickening"), of_measure(found, "colour thickens")
    at = numbers(found, "scented at")
    slow = min((f.low for f in quick.values() if isinstance(f.low, float)), default=1.0)
    fact = quick.get(cup)
    if fact is None:
        return
    reasons = []
    if isinstance(fact.low, float) and fact.low >= QUICKER * slow:
        reasons.append(f"its scent is {times(fact.low / slow)} times as quick as the slowest cup's")
    if cup in powder and powder[cup].low in ("yes", True):
        reasons.append("its colour drinks water from the batter")
    if cup in at and at[cup] <= min(at.values()) and len(set(at.values())) > 1:
        reasons.append(f"it is scented first, in minute {floor(at[cup])}, and waits the longest")
    if reasons:
        yield Line("", f"Why {cup}, by your plan: {'; '.join(reasons)}")
        return
    alike = "the scents are alike in every cup" if slow > 1 else "no scent of it is quicker than the others'"
    late = f", and it is scented in minute {floor(at[cup])}, not first" if cup in at else ""
    yield Line(
        "",
        f"Nothing in your plan makes {cup} the thickest: {alike}{late}. So it waited, was blended longer, "
        "or its powder went in dry",
    )

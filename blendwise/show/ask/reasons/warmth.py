"""How warm the batter may be, whether to gel: fats, time, milk and sugar, pieces set in, white veins."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import Final

from blendwise.answers.ask.result import AskResult, Gelled, Warmed
from blendwise.answers.check.result import CheckResult
from blendwise.answers.why.result import WhyResult
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about
from blendwise.show.ask.facts import number, numbers, of_measure
from blendwise.show.ask.own_notes import told_of
from blendwise.show.ask.reasons.pace import not_known, seizing
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount
from blendwise.show.text import joined
from blendwise.show.words import TIGHT_TAG

Lines = Iterator[Line]


MILK_MOST: Final = {"C": 27.0, "F": 80 / 1.8 - 32 / 1.8}
"""°C up to which makers keep a batter with milk, by a book's unit (27 °C, 80 °F): common practice."""
SWEET: Final = re.compile(r"milk|cream|yogh?urt|honey|syrup|sugar|beer|ale\b", re.IGNORECASE)


def sweets(found: CheckResult) -> list[str]:
    """The additives of the plan that bring sugar which browns and heats in lye."""
    if not number(found, "reducing sugars"):
        return []
    return [name for name in of_measure(found, "additive share") if SWEET.search(name)]


def warmth(result: AskResult, found: CheckResult) -> Lines:
    """Up to which one figure: the fats are clear, no rule is past it, the tightest cup has its time."""
    clear = max(numbers(found, "clear temperature").values(), default=0.0)
    own, stiff = number(found, "batter temperature"), seizing(found)
    clearly = [each for each in result.warmed if each.at >= clear]
    ways = clearly if len({each.fluid for each in clearly}) > 1 else ()
    asked = [each for each in result.warmed if each.asked]
    top = _top(clearly, found)
    if asked and not stiff:
        yield Line("", _too_warm(asked[0], clear, found))
    if stiff:
        coolest = amount(min((each.at for each in clearly), default=own or clear), "°C", found.units)
        why = f"No temperature saves {joined(stiff)}, it seizes within a minute; cool is still best"
        yield Line("", f"{why}: about {coolest}")
    elif number(found, "milk"):
        yield Line("", _of_milk(clear, top, found))
    elif ways:
        warm = [each.at for each in ways if each.leaves_time]
        yield Line("", _warm(warm, clear, top, found))
    if ways and not stiff:
        yield Line("", f"Minutes to spare in the tightest cup: {'; '.join(_spare(e, found) for e in ways)}")
    if own is not None:
        yield Line("", _yours(own, clear, None if stiff else top, found))
    if sweets(found) and not number(found, "milk"):
        yield Line("", f"{joined(sweets(found))} heats and darkens it: keep to the cool end")
    yield Line("", say.WITHIN.format(apart="10 °F" if found.units.temperature == "F" else "5 °C"))
    yield from about(result.question, found)


def _top(ways: Sequence[Warmed], found: CheckResult) -> float | None:
    """The warmest that leaves the time, within what rules bear and, with milk, what makers keep to."""
    timely = [each for each in ways if each.has_time]
    tops = [each.bound for each in timely if each.bound is not None]
    tops = tops or [each.at for each in timely][-1:]
    if number(found, "milk"):
        tops.append(MILK_MOST[found.units.temperature])
    return min(tops, default=None)


def _of_milk(clear: float, top: float | None, found: CheckResult) -> str:
    """With milk the cool end, where the fats are clear there."""
    units, names = found.units, joined(sweets(found) or ["milk"])
    bound = top if top is not None else MILK_MOST[units.temperature]
    most = amount(bound, "°C", units)
    if clear > bound:
        at = amount(tenth(clear), "°C", units)
        return f"Just above {at}, where your fats are clear: {names} would want {most} or less"
    return f"At most {most}: {names} brown and heat in warm lye (common practice)"


def _yours(own: float, clear: float, top: float | None, found: CheckResult) -> str:
    units = found.units
    cloud = f"your fats cloud below {amount(tenth(clear), '°C', units)}"
    side = "clear of that" if own >= clear else "too cool: warm it"
    if top is not None and own > top + 0.05:
        side = "clear of that, but warmer than the most above"
    open_ = [] if seizing(found) else not_known(found)
    stay = f"; how quick {joined(open_)} is nobody has written down, so stay cool" if open_ else ""
    return f"You plan {amount(own, '°C', units)}; {cloud}, so that is {side}{stay}"


def _too_warm(way: Warmed, clear: float, found: CheckResult) -> str:
    """Whether a temperature that is named is too warm or too cool."""
    at = amount(way.at, "°C", found.units)
    if way.at < clear - 1e-6:
        from_ = amount(tenth(clear), "°C", found.units)
        return f"Too cool: at {at} your fats cloud, they are clear from {from_}"
    if way.fluid is None:
        return f"Not to be said of {at}: how quick it is nobody has written down"
    spare = way.fluid - (way.needed or 0.0)
    if spare < 0:
        return f"Too warm for the time it needs: at {at} the tightest cup is {ceil(-spare)} min short"
    return f"{at} is all right: {floor(spare)} min to spare in the tightest cup"


def tenth(value: float) -> float:
    return round(value * 10) / 10


def _warm(warm: Sequence[float], clear: float, top: float | None, found: CheckResult) -> str:
    units = found.units
    if not warm or top is None:
        coolest = amount(tenth(clear), "°C", units)
        return f"None leaves the time; coolest is best, just above {coolest}, where your fats are clear"
    return say.warmth(warm[0], max(warm[0], top), units)


def _spare(way: Warmed, found: CheckResult) -> str:
    at = amount(way.at, "°C", found.units)
    if way.fluid is None:
        return f"{at} not known"
    spare = way.fluid - (way.needed or 0.0)
    return f"{at} {floor(spare)}" if spare >= 0 else f"{at} {ceil(-spare)} too few"


def gel(result: AskResult, found: CheckResult) -> Lines:
    """One verdict for these colours, pieces set in, this lye and heat, with its reasons."""
    suits = numbers(found, "gel suits the colour")
    deeper = [name for name, value in suits.items() if value > 0]
    duller = [name for name, value in suits.items() if value < 0]
    reasons = list(_against(result.gelled, found))
    plan = next((str(f.low) for f in of_measure(found, "gel").values()), "")
    if reasons:
        yield Line("", f"No, keep it cool: {'; '.join(reasons)}")
    elif len(duller) > len(deeper):
        yield Line("", f"No: it would spoil {joined(duller)}{_and(' and deepen ', deeper)}")
    elif deeper:
        yield Line("", f"Yes, all through: it deepens {joined(deeper)}{_and(', at the cost of ', duller)}")
    else:
        yield Line("", "Either way suits these colours; decide on one, so that it does not gel in part")
    yes = not reasons and bool(deeper) and len(duller) <= len(deeper)
    yield Line("", say.GEL_HOW if yes else say.COOL_HOW)
    if (
        len(reasons) == 1 and result.gelled is not None and result.gelled.veins
    ):  # stronger lye mends veins alone
        yield Line("", "To gel it all the same: 33 % lye or stronger, less white, and start cooler")
    yield from told_of(result.looks, "gel")
    yield from _as_planned(plan, yes, result.gelled)
    yield from (line for line in about(result.question, found) if line.tag in (*HEAVY, TIGHT_TAG))


def _against(gelled: Gelled | None, found: CheckResult) -> Iterator[str]:
    """What speaks against gel, whatever the colours: pieces that melt, milk, heat, veins in white."""
    if any(f.measure in say.MELTS and f.status in ("broken", "tight") for f in found.findings):
        yield _melts(gelled, found)
    if (number(found, "reducing sugars") or 0.0) > SCORCHES:
        yield f"{joined(sweets(found) or ['its sugars'])} would scorch and darken"
    if gelled is None:
        return
    if gelled.heat == "high":
        yield "it would overheat, crack or rise"
    if gelled.veins:
        lye = amount(gelled.lye, "%") if gelled.lye is not None else "weak"
        yield f"at {lye} lye gel draws glassy white veins (rivers) in {joined(gelled.veins)}"


SCORCHES: Final = 0.005
"""Sugars of milk, honey and syrup per oils from which the rulebook keeps a batch out of the oven."""


def _melts(gelled: Gelled | None, found: CheckResult) -> str:
    """Which pieces soften, from when, and how hot gel gets."""
    pieces = joined(list(of_measure(found, "embed mass"))) or "pieces set in"
    soft, units = number(found, "embeds soften"), found.units
    at = f" from {amount(tenth(soft), '°C', units)}" if soft is not None else ""
    hot = (
        f", and gel reaches {amount(float(round(gelled.peak)), '°C', units)}"
        if gelled and gelled.peak
        else ""
    )
    return f"the {pieces} soften{at}{hot}"


def _as_planned(plan: str, yes: bool, gelled: Gelled | None) -> Lines:
    if plan == "force" and not yes:
        yield Line("", "Your plan forces gel: write `gel: avoid`")
    elif plan == "avoid" and yes:
        yield Line("", "Your plan avoids gel: write `gel: force at 70 °C` if you change it")
    if plan == "leave" or (gelled is not None and gelled.partial in ("some", "high")):
        yield Line("", "As planned it may gel in the middle only: a dark ring")


def _and(words: str, names: Sequence[str]) -> str:
    return f"{words}{joined(names)}" if names else ""


def veins(result: AskResult, found: WhyResult) -> Iterator[Line]:
    """How likely the plan makes glassy veins, by its water and its heat: as the question of water has it."""
    if result.beside is None:
        return
    risks = of_measure(result.beside, "river risk").items()
    cups = [name for name, fact in risks if fact.high == "high"]
    lye = next(iter(of_measure(result.beside, "lye concentration").values()), None)
    if not cups or lye is None or not isinstance(lye.low, float):
        return
    gel = next((fact.low for fact in of_measure(result.beside, "gel").values()), "")
    heat = " and gel forced" if gel == "force" else ""
    yield Line(
        "",
        f"Likely rivers: with {amount(lye.low, '%')} lye{heat} glassy white veins are likely about the white "
        f"of {joined(cups)}, and they run on into the cups beside it",
    )

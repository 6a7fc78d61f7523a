"""What is told of a plan's batter: water, temperature, gel, order, and whether there is time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import ceil, floor
from typing import Final

from blendwise.answers.ask.result import AskResult, Gelled, Warmed, Watered
from blendwise.answers.check.result import CheckResult
from blendwise.quantity.show import told_apart
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about, is_about
from blendwise.show.ask.facts import by_value, number, numbers, of_measure
from blendwise.show.ask.own_notes import minutes_seen, told_of
from blendwise.show.ask.reasons.pace import not_known, pace_of, quickest
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, grams, minutes_left
from blendwise.show.text import joined
from blendwise.show.words import TIGHT_TAG, UNKNOWN_TAG

Lines = Iterator[Line]


def seizing(found: CheckResult) -> list[str]:
    """The oils of the plan that are known to turn batter solid within a minute."""
    used = {name for row in found.grams for name, mass in row.scents.items() if mass}
    return [
        name
        for name, fact in of_measure(found, "seizes").items()
        if fact.low in (True, "yes") and name in used
    ]


def water(result: AskResult, found: CheckResult) -> Lines:
    """A verdict on the strength that is asked of, or on the plan's own; what others would give."""
    ways = sorted(result.water, key=lambda each: each.lye)
    own = number(found, "lye concentration")
    stiff = seizing(found)
    asked = [each for each in ways if each.asked]
    if stiff:
        yield Line("", f"No water saves {joined(stiff)}: it seizes within a minute at any strength of lye")
    elif asked:
        yield Line("", _too_strong(asked[0], found))
    if own is not None:
        yield Line("", _own_strength(own, ways, found, bool(stiff or asked)))
    told = [_at(each, found, bool(stiff)) for each in ways if not each.own]
    if told:
        yield Line("", "; ".join(told))
    yield Line("", say.STRENGTH)
    yield from (e for e in about(result.question, found) if e.tag in HEAVY)


def _too_strong(way: Watered, found: CheckResult) -> str:
    strength = amount(way.lye, "%")
    if way.fluid is None:
        return f"Not to be said of {strength}: the minutes are not known"
    spare = way.fluid - (way.needed or 0.0)
    left = f"the tightest cup has {minutes_left(way.fluid)} min and needs {minutes_left(way.needed or 0.0)}"
    if spare >= 0:
        return f"No, {strength} is not too strong here: {left}"
    if way.slower:
        return f"Yes: at {strength} {left}; weaker lye gives more"
    return f"It is not the lye: at {strength} {left}, and water changes little of it"


def _own_strength(own: float, ways: Sequence[Watered], found: CheckResult, told: bool) -> str:
    mass = number(found, "water")
    held = f" ({grams(mass, found.units)} of water)" if mass is not None else ""
    mine = next((each for each in ways if each.own), None)
    strength = f"{amount(own, '%')}{held}"
    if mine is not None and mine.rivers == "high":
        better = [each for each in ways if each.rivers != "high" and each.lye > own]
        best = next((each for each in better if each.rivers == "low"), None) or next(iter(better), None)
        to = f": take {amount(best.lye, '%')} lye" if best else ""
        return f"Less water: your {strength} is so wet that white veins are likely{to}"
    time = mine is not None and mine.fluid is not None and mine.fluid >= (mine.needed or 0.0)
    if time:
        return f"Yours is right: {strength} leaves the time that the pour needs"
    if told or mine is None:
        return f"Yours is {strength}"
    if mine.fluid is None:
        who = joined(not_known(found))
        return f"Keep yours, {strength}, until you know how quick {who} is: a test cup answers"
    fits = [e for e in ways if e.fluid is not None and e.fluid >= (e.needed or 0.0)]
    if fits:
        return f"Yours, {strength}, does not leave the time; take {amount(fits[-1].lye, '%')} lye"
    return (
        f"Keep yours, {strength}: no strength of lye leaves the time "
        f"({minutes_left(mine.fluid)} min, {minutes_left(mine.needed or 0.0)} needed); it is the scent or "
        "the pour"
    )


def _at(way: Watered, found: CheckResult, stiff: bool) -> str:
    held = f", {grams(way.water, found.units)} of water" if way.water is not None else ""
    minutes = "" if stiff or way.fluid is None else f", {minutes_left(way.fluid)} min"
    veins = f", white veins {VEINS[way.rivers]}" if way.rivers in VEINS else ""
    return f"{amount(way.lye, '%')} lye{held}{minutes}{veins}"


VEINS = {"low": "hardly", "some": "possible", "high": "likely"}


def warmth(result: AskResult, found: CheckResult) -> Lines:
    """Between which temperatures the fats are clear and the tightest cup has its time."""
    clear = max(numbers(found, "clear temperature").values(), default=0.0)
    own = number(found, "batter temperature")
    stiff = seizing(found)
    clearly = [each for each in result.warmed if each.at >= clear]
    ways = clearly if len({each.fluid for each in clearly}) > 1 else ()
    asked = [each for each in result.warmed if each.asked]
    if asked and not stiff:
        yield Line("", _too_warm(asked[0], clear, found))
    if stiff:
        coolest = amount(min((each.at for each in clearly), default=own or clear), "°C", found.units)
        why = f"No temperature saves {joined(stiff)}, it seizes within a minute; cool is still best"
        yield Line("", f"{why}: about {coolest}")
    elif ways:
        warm = [each.at for each in ways if each.leaves_time and each.at >= clear]
        yield Line("", _warm(warm, clear, found))
        yield Line("", f"Minutes to spare in the tightest cup: {'; '.join(_spare(e, found) for e in ways)}")
    if own is not None:
        units = found.units
        side = "clear of that" if own >= clear else "too cool: warm it"
        cloud = f"your fats cloud below {amount(_tenth(clear), '°C', units)}"
        open_ = [] if stiff else not_known(found)
        stay = f"; how quick {joined(open_)} is nobody has written down, so stay cool" if open_ else ""
        yield Line("", f"You plan {amount(own, '°C', units)}; {cloud}, so that is {side}{stay}")
    yield Line("", say.WITHIN.format(apart="10 °F" if found.units.temperature == "F" else "5 °C"))
    yield from about(result.question, found)


def _too_warm(way: Warmed, clear: float, found: CheckResult) -> str:
    """Whether a temperature that is named is too warm or too cool."""
    at = amount(way.at, "°C", found.units)
    if way.at < clear - 1e-6:
        from_ = amount(_tenth(clear), "°C", found.units)
        return f"Too cool: at {at} your fats cloud, they are clear from {from_}"
    if way.fluid is None:
        return f"Not to be said of {at}: how quick it is nobody has written down"
    spare = way.fluid - (way.needed or 0.0)
    if spare < 0:
        return f"Too warm for the time it needs: at {at} the tightest cup is {ceil(-spare)} min short"
    return f"{at} is all right: {floor(spare)} min to spare in the tightest cup"


def _tenth(value: float) -> float:
    return round(value * 10) / 10


def _warm(warm: Sequence[float], clear: float, found: CheckResult) -> str:
    units = found.units
    if not warm:
        coolest = amount(_tenth(clear), "°C", units)
        return f"None leaves the time; coolest is best, just above {coolest}, where your fats are clear"
    return say.warmth(warm[0], warm[-1], units)


def _spare(way: Warmed, found: CheckResult) -> str:
    at = amount(way.at, "°C", found.units)
    if way.fluid is None:
        return f"{at} not known"
    spare = way.fluid - (way.needed or 0.0)
    return f"{at} {floor(spare)}" if spare >= 0 else f"{at} {ceil(-spare)} too few"


def kept_from_seizing(result: AskResult, found: CheckResult) -> Lines:
    """What keeps an oil from seizing, with this plan's degrees and half of its dose."""
    yield Line("", say.KEEP_FROM_SEIZING)
    clear = max(numbers(found, "clear temperature").values(), default=0.0)
    if clear:
        yield Line("", say.COOLER.format(clear=amount(_tenth(clear), "°C", found.units)))
    stiff = seizing(found)
    for oil in result.named.oils or stiff:
        whole = sum(row.scents.get(oil, 0.0) for row in found.grams)
        if whole:
            less = grams(whole / 2, found.units)
            yield Line("", f"Half of it is {less} of {oil}; {grams(whole, found.units)} is planned")
        if oil in stiff:
            yield Line("", say.STILL_SEIZES.format(oil=oil))
    yield from minutes_seen(result.looks)
    yield from (each for each in about(result.question, found) if each.tag in HEAVY)


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
    if reasons and result.gelled is not None and result.gelled.veins:
        yield Line("", "To gel it all the same: 33 % lye or stronger, less white, and start cooler")
    yield from told_of(result.looks, "gel")
    yield from _as_planned(plan, yes, result.gelled)
    yield from (line for line in about(result.question, found) if line.tag in (*HEAVY, TIGHT_TAG))


def _against(gelled: Gelled | None, found: CheckResult) -> Iterator[str]:
    """What speaks against gel, whatever the colours: pieces that melt, too much heat, veins in white."""
    if any(f.measure in say.MELTS and f.status in ("broken", "tight") for f in found.findings):
        yield say.EMBEDS_MELT
    if gelled is None:
        return
    if gelled.heat == "high":
        yield "it would overheat, crack or rise"
    if gelled.veins:
        lye = amount(gelled.lye, "%") if gelled.lye is not None else "weak"
        yield f"at {lye} lye gel draws glassy white veins (rivers) in {joined(gelled.veins)}"


def _as_planned(plan: str, yes: bool, gelled: Gelled | None) -> Lines:
    if plan == "force" and not yes:
        yield Line("", "Your plan forces gel: write `gel: avoid`")
    elif plan == "avoid" and yes:
        yield Line("", "Your plan avoids gel: write `gel: force at 70 °C` if you change it")
    if plan == "leave" or (gelled is not None and gelled.partial in ("some", "high")):
        yield Line("", "As planned it may gel in the middle only: a dark ring")


def _and(words: str, names: Sequence[str]) -> str:
    return f"{words}{joined(names)}" if names else ""


def order(result: AskResult, found: CheckResult) -> Lines:
    """In what order the cups are scented and poured, by which minute from emulsion."""
    at = numbers(found, "scented at")
    names = sorted(at, key=lambda name: at[name])
    stiff = seizing(found)
    family = next((str(f.low) for f in of_measure(found, "pour family").values()), "")
    if not names:
        yield Line("", say.NO_POUR)
        return
    how = say.IN_TURN if family in ("sequential", "single") else say.TOGETHER
    if stiff:
        how = f"scent each in the moment before it is poured, for {joined(stiff)} seizes within a minute"
    first = _into_the_mould(found) if MOULD.search(result.asked) else ""
    yield Line("", f"{first}{', '.join(names)}: {how}")
    minutes = ", ".join(f"{name} {floor(at[name])}" for name in names)
    yield Line("", f"Scent at these minutes from emulsion: {minutes}")
    quick = numbers(found, "thickening")
    fast = [name for name in names if quick.get(name, 1.0) > 1.5]
    last = names[-len(fast) :] if fast else []
    if fast and len(fast) < len(names) and not stiff and how == say.TOGETHER and set(fast) != set(last):
        yield Line("", f"The quick ones are {joined(fast)}: scent those last, each just before it is poured")
    yield from minutes_seen(result.looks)
    yield from about(result.question, found)


MOULD: Final = re.compile(r"\b(?:mould|mold|pour\w*|goes? in)\b", re.IGNORECASE)


def _into_the_mould(found: CheckResult) -> str:
    """Which cup is poured first, where the pour lays one down before the others."""
    places = of_measure(found, "place").items()
    first = [name for name, fact in places if isinstance(fact.low, str) and "first" in fact.low.split(", ")]
    return f"{first[0]} goes into the mould first. " if len(first) == 1 else ""


def time(result: AskResult, found: CheckResult) -> Lines:
    """Yes or no by the cup with the least to spare, on one clock: minutes after its scenting."""
    fluid, needed = numbers(found, "minutes fluid"), numbers(found, "minutes needed")
    spare = {name: fluid[name] - needed[name] for name in fluid if name in needed}
    stiff = seizing(found)
    unsure = {} if stiff else _unsure(found, needed)
    heavy = [
        f
        for f in found.findings
        if is_about(result.question, f) and f.level in HEAVY and f.status == "broken"
    ]
    if stiff:
        by = _on_word(found, stiff[0])
        yield Line("", f"No, not as planned: {joined(stiff)} seizes within a minute{by}")
    elif unsure:
        who = joined(not_known(found))
        yield Line("", f"Not to be told yet: how quick {who} is nobody has written down; a test cup answers")
        yield Line("", f"Were it not quick at all: {'; '.join(_most(unsure[e], e, needed) for e in unsure)}")
    elif spare:
        yield from _to_spare(spare, fluid, needed, bool(heavy), found)
    elif heavy:
        yield Line("", "No, not as planned")
    elif fluid:
        each = by_value({name: f"{minutes_left(left)} min" for name, left in fluid.items()})
        yield Line("", f"Yes, poured one after the other: from its scenting each has time enough ({each})")
    else:
        yield Line("", say.NO_POUR)
    yield from pace_of(found, [oil for oil in result.named.oils if oil not in stiff])
    yield from minutes_seen(result.looks)
    if stiff:
        yield Line("", say.STIFF_POURS)
    answered = bool(spare) or bool(stiff)
    open_too = () if unsure else (UNKNOWN_TAG,)
    yield from (
        e
        for e in about(result.question, found)
        if (e.tag != TIGHT_TAG or not answered) and (e.tag != UNKNOWN_TAG or e.tag in open_too)
    )


def _to_spare(
    spare: dict[str, float],
    fluid: dict[str, float],
    needed: dict[str, float],
    heavy: bool,
    found: CheckResult,
) -> Lines:
    """Yes or no by the cup with the least to spare, why, and the minutes of each."""
    short = {name: left for name, left in spare.items() if left < 0}
    if short or heavy:
        told = short or spare
        reason = next(quickest(found, min(told, key=lambda each: told[each])), say.BATTER_ITSELF)
        yield Line("", f"No, not as planned: {reason}")
    else:
        name = min(spare, key=lambda each: spare[each])
        yield Line("", say.spare(name, spare[name]))
        told = spare
    yield Line("", f"Minutes from its scenting: {'; '.join(_has(each, fluid, needed) for each in told)}")


def _unsure(found: CheckResult, needed: dict[str, float]) -> dict[str, float]:
    """Cups of which it is not known whether they have the time: their minutes, were nothing in them quick."""
    facts = of_measure(found, "minutes fluid")
    ends = {n: (f.low, f.high) for n, f in facts.items() if f.missing and n in needed}
    return {
        name: high
        for name, (low, high) in ends.items()
        if isinstance(high, float) and isinstance(low, float) and low < needed[name] <= high
    }


def _most(minutes: float, name: str, needed: dict[str, float]) -> str:
    return f"{name} has {minutes_left(minutes)} min, needs {minutes_left(needed[name])}"


def _has(name: str, fluid: dict[str, float], needed: dict[str, float]) -> str:
    """The two as ``check`` holds them against one another: rounded alike, with enough digits to differ."""
    has, needs = told_apart(fluid[name], needed[name], 2)
    return f"{name} has {has}, needs {needs}"


def _on_word(found: CheckResult, oil: str) -> str:
    evidence = of_measure(found, "quickening").get(oil)
    return " (by your own batch)" if evidence is not None and "own batch" in evidence.evidence else ""

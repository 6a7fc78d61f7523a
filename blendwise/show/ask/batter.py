"""What is told of a plan's batter: water, temperature, gel, order, and whether there is time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import floor
from typing import Final

from blendwise.answers.ask.result import AskResult, Watered
from blendwise.answers.check.result import CheckResult
from blendwise.quantity.show import told_apart
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about, is_about
from blendwise.show.ask.cups import about_grams
from blendwise.show.ask.facts import by_value, number, numbers, of_measure
from blendwise.show.ask.own_notes import minutes_seen
from blendwise.show.ask.reasons.pace import not_known, pace_of, quickest, seizing
from blendwise.show.ask.reasons.warmth import tenth
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, grams, minutes_left
from blendwise.show.text import joined
from blendwise.show.words import TIGHT_TAG, UNKNOWN_TAG

Lines = Iterator[Line]


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
    told = "" if own is None else _own_strength(own, ways, found, bool(stiff or asked))
    if told:
        yield Line("", told)
    mine = next((each for each in ways if each.own), None)
    known = mine is not None and mine.fluid is not None and not stiff
    if known and mine is not None and " runs for " not in told:
        yield Line("", f"At yours {_runs(mine)}")
    same = len({each.fluid for each in ways}) == 1
    others = [_at(each, found, stiff=bool(stiff) or same) for each in ways if not each.own]
    if others:
        yield Line("", f"Else: {'; '.join(others)}")
    if stiff or (known and mine is not None and (mine.fluid or 0.0) < (mine.needed or 0.0) + 1):
        yield Line("", say.LOOSENS)
    yield Line("", say.STRENGTH)
    yield from (e for e in about(result.question, found) if e.tag in HEAVY)


def _too_strong(way: Watered, found: CheckResult) -> str:
    strength = amount(way.lye, "%")
    if way.fluid is None:
        return f"Not to be said of {strength}: the minutes are not known"
    spare = way.fluid - (way.needed or 0.0)
    left = _runs(way)
    if spare >= 0:
        return f"No, {strength} is not too strong here: {left}"
    if way.slower:
        return f"Yes: at {strength} {left}; weaker lye gives more"
    return f"It is not the lye: at {strength} {left}, and water changes little of it"


def _runs(way: Watered) -> str:
    """ "cream-top runs for 6.6 min from its scenting, and the pour needs 2", as ``check`` has the two."""
    has, needs = told_apart(way.fluid or 0.0, way.needed or 0.0, 2)
    return f"{way.cup} runs for {has} min from its scenting, and the pour needs {needs}"


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
    if time and mine is not None:
        return f"Yours is right: {strength}; {_runs(mine)}"
    if told or mine is None:
        return f"Yours is {strength}"
    if mine.fluid is None:
        who = joined(not_known(found))
        return f"Keep yours, {strength}, until you know how quick {who} is: a test cup answers"
    fits = [e for e in ways if e.fluid is not None and e.fluid >= (e.needed or 0.0)]
    if fits:
        return f"Yours, {strength}, is short of time: {_runs(mine)}; take {amount(fits[-1].lye, '%')} lye"
    return f"Keep yours, {strength}: no strength of lye leaves the time, {_runs(mine)}; mend scent or pour"


def _at(way: Watered, found: CheckResult, stiff: bool) -> str:
    held = f", {about_grams(way.water, found.units)} of water" if way.water is not None else ""
    minutes = "" if stiff or way.fluid is None else f", {minutes_left(way.fluid)} min"
    veins = f", white veins {VEINS[way.rivers]}" if way.rivers in VEINS else ""
    return f"{amount(way.lye, '%')} lye{held}{minutes}{veins}"


VEINS = {"low": "hardly", "some": "possible", "high": "likely"}


def kept_from_seizing(result: AskResult, found: CheckResult) -> Lines:
    """What keeps an oil from seizing, with this plan's degrees and half of its dose."""
    yield Line("", say.KEEP_FROM_SEIZING)
    clear = max(numbers(found, "clear temperature").values(), default=0.0)
    if clear:
        yield Line("", say.COOLER.format(clear=amount(tenth(clear), "°C", found.units)))
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
        when = say.STIFF_LAST if family == "interleaved" else "each in the moment before it is poured"
        how = f"scent {when}, for {joined(stiff)} seizes within a minute"
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
    yield from pace_of(result, found, [oil for oil in result.named.oils if oil not in stiff])
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

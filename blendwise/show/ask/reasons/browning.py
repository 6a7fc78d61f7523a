"""Why a cup of a plan turns as it does: what it became before, the oils in it that brown, on whose word."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Final

from blendwise.answers.ask.result import AskResult, OwnLook
from blendwise.answers.check.result import CheckResult
from blendwise.records.kinds.scent import BANDS
from blendwise.science.cure import CURE_DAYS
from blendwise.show.ask.facts import of_measure
from blendwise.show.ask.own_notes import when
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE, span

ITS_SHEET = "what its sheet says"


def held_by(found: CheckResult) -> dict[str, set[str]]:
    """The oils of each cup."""
    return {row.portion: {oil for oil, mass in row.scents.items() if mass} for row in found.grams}


def expected(found: CheckResult) -> dict[str, str]:
    """What each cup is expected to become, in words."""
    facts = of_measure(found, "browning band").items()
    return {name: span(fact.low, fact.high, "", found.units) for name, fact in facts}


def seen(result: AskResult, found: CheckResult) -> dict[str, OwnLook]:
    """Of each cup the last look at its cured colour, where a cup was poured with these very oils."""
    held = held_by(found)
    return {
        look.portion: look
        for look in result.looks
        if look.days >= CURE_DAYS[0]
        and look.told.get("colour") in BANDS
        and held.get(look.portion) == set(look.doses)
    }


def becomes(result: AskResult, found: CheckResult) -> dict[str, str]:
    """What each cup becomes: as it was seen, where it was poured so before; else as it is expected."""
    looks = seen(result, found)
    told = expected(found)
    return {name: _as_seen(band, looks.get(name)) for name, band in told.items()}


def _as_seen(band: str, look: OwnLook | None) -> str:
    if look is None or look.told["colour"] == band:
        return band
    return f"{look.told['colour']} (your own {look.batch}; {band} was expected)"


def browners_in(found: CheckResult, cup: str) -> list[str]:
    """The oils of a cup that are known to hold vanillin."""
    vanillin = of_measure(found, "vanillin")
    oils = held_by(found).get(cup, set())
    return [name for name, fact in vanillin.items() if name in oils and _positive(fact.high)]


def _positive(value: object) -> bool:
    return isinstance(value, float) and value > 0


def nothing_told(found: CheckResult, cups: Sequence[str]) -> dict[str, list[str]]:
    """The cups that may come out as anything, for the oils of which nobody wrote down how they brown."""
    facts = of_measure(found, "browning band")
    return {
        cup: list(dict.fromkeys(gap.subject for gap in facts[cup].missing))
        for cup in cups
        if cup in facts and facts[cup].missing and facts[cup].low != facts[cup].high
    }


def because(
    result: AskResult, found: CheckResult, cups: Sequence[str], oils: Sequence[str] = ()
) -> Iterator[Line]:
    """The oils that brown the cups, with their vanillin, and on whose word; what is known where none does.

    ``oils``: those that are asked of.
    """
    facts, vanillin = of_measure(found, "browning band"), of_measure(found, "vanillin")
    innocent = [oil for oil in oils if oil in vanillin and vanillin[oil].high == 0.0]
    words = dict.fromkeys(facts[cup].evidence for cup in cups if cup in facts and facts[cup].evidence)
    by = joined([EVIDENCE.get(word, word) for word in words]) or ITS_SHEET
    brown = [cup for cup in cups if browners_in(found, cup)]
    if brown:
        held = joined([f"{oil} ({_vanillin(vanillin[oil].high)})" for oil in _most(found, brown)])
        other = f", not {joined(innocent)} (no vanillin)" if innocent else ""
        far = _not_seen(result, _most(found, brown)) or f"how far it goes is known by {by}"
        yield Line("", f"In {joined(brown)} it comes from {held}{other}; {far}")
    open_ = nothing_told(found, cups)
    rest = [cup for cup in cups if cup not in brown and cup not in open_ and held_by(found).get(cup)]
    looks = seen(result, found)
    crept = [cup for cup in rest if cup in looks and looks[cup].told.get("edge") in ("soft", "bled")]
    if crept:
        yield Line(
            "",
            f"Nothing in {joined(crept)} is known to brown: its soft edge says that it crept in from beside",
        )
    elif rest:
        unseen = "" if words else "; nobody here has seen it at six weeks"
        dark = [cup for cup in rest if cup in facts and facts[cup].high not in (None, BANDS[0])]
        if dark:
            yield Line(
                "", f"No vanillin is written down for {joined(dark)}; that it darkens is known by {by}"
            )
        else:
            yield Line("", f"Nothing in {joined(rest)} is known to hold vanillin, by {by}{unseen}")


def _not_seen(result: AskResult, oils: Sequence[str]) -> str:
    """That nobody has seen a cured bar of these oils, where notes were made and none is late enough."""
    looks = [look for look in result.looks if "colour" in look.told]
    if result.seen_cured is None or not looks or result.seen_cured & set(oils):
        return ""
    last = f"day {looks[-1].days}"
    return f"how far it goes you have not seen: your last look at {looks[-1].batch} is of {last}"


def _most(found: CheckResult, cups: Sequence[str]) -> list[str]:
    """The browners of the cups, without those of a trace beside the strongest."""
    held = {name: fact.high for name, fact in of_measure(found, "vanillin").items()}
    oils = dict.fromkeys(oil for cup in cups for oil in browners_in(found, cup))
    strength = {oil: value for oil in oils if isinstance(value := held[oil], float)}
    strongest = max(strength.values(), default=0.0)
    return [oil for oil, value in strength.items() if value >= BESIDE * strongest]


BESIDE = 0.1
"""Part of the strongest oil's vanillin below which another's is not told: judgement."""


def _vanillin(value: object) -> str:
    held = amount(float(f"{value:.3g}"), "%") if isinstance(value, float) else "an unknown amount"
    return f"{held} vanillin"


LOOKED_RIGHT: Final = re.compile(r"\b(?:right|perfect|good|fine|great|as planned|ok|okay)\b", re.IGNORECASE)


def noted_otherwise(result: AskResult) -> str:
    """Where the words say that it looked right: what the own note says of a cup that is not as planned."""
    if not LOOKED_RIGHT.search(result.asked) or result.beside is None:
        return ""
    last = {look.portion: look for look in result.looks if look.told.get("colour") in BANDS}
    planned = expected(result.beside)
    wrong = {
        name: look
        for name, look in last.items()
        if name in planned and look.told["colour"] not in planned[name]
    }
    told = [f"{name} {look.told['colour']} {when(look)}" for name, look in wrong.items()]
    return f". You say it looked right; your note says {joined(told)}" if told else ""

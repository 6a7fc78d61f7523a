"""Whether a part of the bar stays white: what the rules find of it, what is unknown, what was seen before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.ask.result import AskResult, OwnLook
from blendwise.answers.check.result import CheckResult
from blendwise.quantity.prose import theirs
from blendwise.records.kinds.scent import BANDS
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about
from blendwise.show.ask.facts import by_cup, numbers, of_measure
from blendwise.show.ask.own_notes import colours_seen, darker, when
from blendwise.show.ask.reasons.browning import because, becomes, browners_in, nothing_told
from blendwise.show.blocks import Line
from blendwise.show.text import joined
from blendwise.show.words import span

Lines = Iterator[Line]


def bands(found: CheckResult) -> dict[str, str]:
    """What each cup becomes, in words."""
    facts = of_measure(found, "browning band").items()
    return {name: span(fact.low, fact.high, "", found.units) for name, fact in facts}


def part_white(result: AskResult, found: CheckResult) -> Lines:
    """Whether the lightest cup stays white: what is known, what was darker before, what is not known."""
    facts = of_measure(found, "browning band")
    named = [name for name in result.named.portions if name in facts]
    light = numbers(found, "planned lightness")
    lightest = [max(light, key=lambda name: light[name])] if light else []
    cups = named or lightest or list(facts)
    seen = darker([look for look in result.looks if look.portion in cups], BANDS[0])
    yield Line("", _verdict(cups, seen, found))
    yield from because(result, found, cups)
    yield from colours_seen(result.looks, cups)
    yield from kept_light(result, found, cups)
    others = {name: band for name, band in becomes(result, found).items() if name not in cups}
    if others:
        yield Line("", f"The others: {by_cup(others)}")
    yield Line("", theirs(say.FOR_WHITE, found.units))


def kept_light(result: AskResult, found: CheckResult, cups: Sequence[str]) -> Lines:
    """What the rules have against the cups, mended by what keeps the oil out before what gives in to it."""
    kept = replace(found, levers=tuple(each for each in found.levers if each.kind != TO_GIVE_IN))
    return (_kept_out(line, cups, kept) for line in about(result.question, kept))


TO_GIVE_IN: Final = "another colour or band"
"""The lever that makes peace with a brown: none for who asks of white."""


def _kept_out(line: Line, cups: Sequence[str], found: CheckResult) -> Line:
    """A conflict of colour that no lever mends, with the oil that is to stay out."""
    what, _, change = line.text.partition(": ")
    told = [cup for cup in cups if what.startswith(f"{cup} would turn")]
    oils = list(dict.fromkeys(oil for cup in told for oil in browners_in(found, cup)))
    if line.tag not in HEAVY or not oils or "keep " in change:
        return line
    return Line(line.tag, f"{what}: keep {joined(oils)} out of {told[0]}, or leave that part unscented")


def _verdict(cups: Sequence[str], seen: Sequence[OwnLook], found: CheckResult) -> str:
    """What is expected of the cups, beside what was seen of them: never brown where nothing is known."""
    own = bands(found)
    told = {name: own[name] for name in cups if name in own}
    tinted = _tinted(cups, found)
    open_ = nothing_told(found, cups)
    dark = {name: band for name, band in told.items() if band != BANDS[0] and name not in open_}
    if dark:
        return f"Not as planned: {by_cup(told if not open_ else dark)}{_and_open(open_)}"
    if tinted:
        return f"Not as planned: {by_cup(tinted)}{_and_open(open_)}"
    if open_:
        return f"Not to be told yet{_and_open(open_).replace('; ', ': ')}"
    if seen:
        last = max(seen, key=lambda look: look.days)
        return (
            f"Hardly: {by_cup(told)} is expected and no rule is against it, but in your own {last.batch} "
            f"({last.plan}) {last.portion} was {last.told['colour']} {when(last)}"
        )
    scented = [row.portion for row in found.grams if row.portion in cups and row.scent_total]
    if not scented:
        return f"Yes: {joined(cups)} holds no scent, so it stays as pale as its oils and its white make it"
    unseen = "" if _own(found, cups) else "; nobody here has seen it at six weeks"
    return f"Ivory at best: {by_cup(told)} expected{unseen}"


def _tinted(cups: Sequence[str], found: CheckResult) -> dict[str, str]:
    """The cups that a rule finds to take a tint which is no brown, and the tint."""
    return {
        cup: str(each.value)
        for each in found.findings
        for cup in each.subject
        if each.measure.endswith(" cast") and each.status == "broken" and cup in cups
    }


def _and_open(open_: dict[str, list[str]]) -> str:
    """Of which oils nobody wrote down how they brown."""
    oils = dict.fromkeys(oil for held in open_.values() for oil in held)
    verb = "browns" if len(oils) == 1 else "brown"
    return f"; nobody has written down how {joined(list(oils))} {verb}" if oils else ""


def _own(found: CheckResult, cups: Sequence[str]) -> bool:
    facts = of_measure(found, "browning band")
    return all(facts[name].evidence in ("own batch", "own cup") for name in cups if name in facts)

"""How much of an oil: the most and what binds it, what its certificate comes to, how quick it is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice
from math import floor
from typing import Final

from blendwise.answers.ask.result import AskResult
from blendwise.answers.pair.result import PairResult, Side
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.show.ask import words as say
from blendwise.show.ask.own_notes import colours_seen
from blendwise.show.ask.reasons.own_pace import on_whose_word, two
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, grams
from blendwise.show.pair import words as pair_words
from blendwise.show.pair.bounds import cap_of, most_of, of_the_oils
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

Lines = Iterator[Line]
QUICK: Final = ("fast", "seizes")
OWN: Final = ("own batch", "own cup")
SLOW: Final = 1.05
"""How many times as fast as without scent is still told as none: judgement."""


def batch(found: PairResult) -> str:
    return f"your usual {grams(found.batch_oils, found.units)} of oils"


def speed(oil: Side, result: AskResult, found: PairResult) -> str:
    """How quick an oil is, and on whose word; unknown is not slow."""
    if oil.acceleration is None:
        return f"how quick {oil.name} is nobody has written down"
    word = EVIDENCE.get(oil.acceleration_by, oil.acceleration_by)
    quick = oil.thickening.low
    if oil.acceleration_by in OWN and oil.acceleration != "seizes" and quick is not None and quick > SLOW:
        by = on_whose_word(result, oil.name, oil.acceleration_by)
        at = pair_words.rate(oil.alone_at or found.load, found.units)
        return f"{oil.name} thickens it about {two(quick)} times as fast at {at}{by}"
    by = f" (by {word})" if word else ""
    return f"{oil.name} {pair_words.ACCELERATION[oil.acceleration]}{by}"


def how_strong(result: AskResult, found: PairResult) -> Lines:
    """The most in grams of the usual batch, what binds it; how much keeps white white."""
    most, why = most_of(found)
    if most is None:
        guard = _without_papers(found)
        own = f"; to try at home at most {of_the_oils(guard, found.units)}, " if guard else ""
        held = f"{weighable(guard * found.batch_oils, result, found)} in {batch(found)}" if guard else ""
        yield Line("", f"None to sell yet: {why}{own}{held}")
    else:
        held = weighable(most * found.batch_oils, result, found)
        load = of_the_oils(most, found.units)
        below = f"; {pair_words.NO_DOSE}, and {pair_words.most_usual(found.units)}"
        usual = below if most < MOST_USUAL_DOSE else ""
        yield Line("", f"At most {load}, {held} in {batch(found)}: {why}{usual}")
    cap = cap_of(found)
    band = next((stop for stop in cap.stops if stop.browning and stop.load), None) if cap else None
    if band is not None and band.load and (most is None or band.load < most):
        pale = of_the_oils(band.load, found.units)
        yield Line("", f"Above {pale} a white part turns darker than ivory")
    yield from (Line("", speed(oil, result, found)) for oil in found.sides if oil.acceleration in QUICK)
    yield from _papers(found)
    yield from colours_seen([look for look in result.looks_of_oils if set(look.doses) <= set(found.oils)])


def _without_papers(found: PairResult) -> float | None:
    """The most that the rulebook bears of an oil without a certificate, were its paper the one thing that is
    missing."""
    cap = cap_of(found)
    loads = [stop.load for stop in cap.stops if stop.load and not stop.browning] if cap else []
    return min(loads, default=None)


def _papers(found: PairResult) -> Lines:
    """What its certificate allows, of which day."""
    for oil in found.sides:
        if oil.dated and (found.check.today - oil.dated).days > OLD:
            yield Line("", f"The certificate of {oil.name} is of {oil.dated:%B %Y}: old; ask for today's")


OLD: Final = 5 * 365
"""Days from which a certificate is told to be old: amendments come every few years (common practice)."""


def weighable(mass: float, result: AskResult, found: PairResult) -> str:
    """A mass rounded down to the step of the scale."""
    step = result.scale
    return grams(floor(mass / step + 1e-9) * step if step else mass, found.units)


def certificate(result: AskResult, found: PairResult) -> Lines:
    """What the paper's figure comes to in the usual batch."""
    both, units = found.together, found.units
    told = told_limit(result)
    limit = both.most_in_bar
    if told is not None:
        yield from _as_told(told, result, found)
    elif limit is None and both.uncertified:
        one = _load_of(0.01, found)
        held = weighable(one * found.batch_oils, result, found)
        yield Line(
            "", f"No certificate of {joined(both.uncertified)} is on file: name its figure and ask again"
        )
        yield Line(
            "",
            f"For each 1 % that it allows in the bar: {of_the_oils(one, units)}, {held} in {batch(found)}",
        )
    elif limit is None or both.most_on_oils is None or both.most_on_oils >= MOST_USUAL_DOSE:
        held = weighable(MOST_USUAL_DOSE * found.batch_oils, result, found)
        most = f"at most {held} in {batch(found)}"
        yield Line(
            "",
            f"Use {most}: the paper of {joined(found.oils)} sets no bound that you "
            "would reach, and is no dose",
        )
        yield Line("", pair_words.most_usual(units))
    else:
        load = of_the_oils(both.most_on_oils, units)
        held = weighable(both.most_on_oils * found.batch_oils, result, found)
        yield Line("", f"{pair_words.of_bar(limit)} is at most {load}: {held} in {batch(found)}")
    yield Line("", say.CERTIFICATE)
    yield from _papers(found)
    used = f"{pair_words.rate(found.load, units)} is {pair_words.of_bar(both.scent_in_bar)}"
    yield Line("", f"Your usual {used}; a limit is the most, not a dose to aim at")


def told_limit(result: AskResult) -> float | None:
    """The share of the bar that a paper allows by the question's own words."""
    found = (PER_CENT.fullmatch(each.strip()) for each in result.named.amounts)
    return next((float(each[1].replace(",", ".")) / 100 for each in found if each), None)


PER_CENT: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*%", re.IGNORECASE)


def _load_of(in_bar: float, found: PairResult) -> float:
    """The load at which so much of the bar is scent: in the bar it is load ÷ (load + all else)."""
    rest = found.load / found.together.scent_in_bar - found.load
    return rest * in_bar / (1 - in_bar) if in_bar < 1 else float("inf")


def without_oil(result: AskResult, found: PairResult) -> Lines:
    """What a certificate's figure comes to in the usual batch, of whatever oil."""
    limit = told_limit(result)
    if limit is not None:
        yield from islice(_as_told(limit, result, found, "it"), 1)
    yield Line("", say.CERTIFICATE)


def _as_told(limit: float, result: AskResult, found: PairResult, oil: str = "") -> Lines:
    """What a figure that is named comes to; what the book has on file, where that is another."""
    units, load = found.units, _load_of(limit, found)
    oil = oil or joined(list(found.oils))
    if load >= MOST_USUAL_DOSE:
        most = weighable(MOST_USUAL_DOSE * found.batch_oils, result, found)
        sets = f"{amount(limit, '%')} for {oil} sets no bound that you would reach, and is no dose"
        yield Line("", f"{sets}: use at most {most} in {batch(found)}, {pair_words.most_usual(units)}")
    else:
        most = weighable(load * found.batch_oils, result, found)
        rate = of_the_oils(load, units)
        yield Line("", f"{amount(limit, '%')} of the bar is at most {rate}: {most} in {batch(found)}")
    filed = [side.limit for side in found.sides if side.limit is not None]
    if not filed:
        yield Line(
            "", f"Write it into scents.yaml (`limit in bar: {amount(limit, '%')}`): none is on file yet"
        )
    elif abs(min(filed) - limit) > 1e-9:
        yield Line(
            "", f"Your shelf says {amount(min(filed), '%')}: keep to the lower until you know which is right"
        )

"""How much of an oil: the most and what binds it, what its certificate comes to, how quick it is."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor
from typing import Final

from blendwise.answers.ask.result import AskResult
from blendwise.answers.pair.result import Cap, PairResult, Side
from blendwise.beliefs.traits import MOST_USUAL_DOSE
from blendwise.show.ask import words as say
from blendwise.show.ask.own_notes import colours_seen
from blendwise.show.blocks import Line
from blendwise.show.numbers import grams
from blendwise.show.pair import words as pair_words
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE

Lines = Iterator[Line]
QUICK: Final = ("fast", "seizes")


def batch(found: PairResult) -> str:
    return f"your usual {grams(found.batch_oils, found.units)} of oils"


def speed(oil: Side) -> str:
    word = EVIDENCE.get(oil.acceleration_by, oil.acceleration_by)
    by = f" (by {word})" if word else ""
    return f"{oil.name} {pair_words.ACCELERATION[oil.acceleration or 'none']}{by}"


def how_strong(result: AskResult, found: PairResult) -> Lines:
    """The most in grams of the usual batch, what binds it; how much keeps white white."""
    most, why = _most(found)
    if most is None:
        yield Line("", f"None yet: {why}")
    else:
        held = weighable(most * found.batch_oils, result, found)
        load = pair_words.of_oils(down(most), found.units)
        yield Line("", f"At most {load}, {held} in {batch(found)}: {why}")
    cap = _cap(found)
    band = next((stop for stop in cap.stops if stop.browning and stop.load), None) if cap else None
    if band is not None and band.load and (most is None or band.load < most):
        pale = pair_words.of_oils(down(band.load), found.units)
        yield Line("", f"Above {pale} a white part turns darker than ivory")
    yield from (Line("", speed(oil)) for oil in found.sides if oil.acceleration in QUICK)
    yield from _papers(found)
    yield from colours_seen(result.looks_of_oils)


def _cap(found: PairResult) -> Cap | None:
    shares = found.shares
    return next(
        (c for c in found.region if all(abs(c.shares.get(o, 0.0) - s) < 1e-9 for o, s in shares.items())),
        None,
    )


def _most(found: PairResult) -> tuple[float | None, str]:
    """The greatest load that nothing but colour and the bottle speaks against, and what binds it."""
    both, cap = found.together, _cap(found)
    usual = f"{pair_words.most_usual(found.units)}"
    bounds = (
        [] if cap is None else [s for s in cap.stops if not s.browning and s.rule != "short-on-the-shelf"]
    )
    if both.uncertified and any(not stop.load for stop in bounds):
        return None, f"{joined(both.uncertified)} has no certificate on file; ask for it"
    loads = [stop.load for stop in bounds if stop.load]
    least = min(loads, default=MOST_USUAL_DOSE)
    if least >= MOST_USUAL_DOSE:
        return MOST_USUAL_DOSE, usual
    if both.most_on_oils is not None and both.most_on_oils <= least * (1 + 1e-9):
        return least, f"its certificate allows {pair_words.of_bar(both.most_in_bar or 0.0)}"
    return least, "a limit of the rulebook; the command below says which"


def _papers(found: PairResult) -> Lines:
    """What its certificate allows, of which day."""
    for oil in found.sides:
        if oil.dated and (found.check.today - oil.dated).days > OLD:
            yield Line("", f"The certificate of {oil.name} is of {oil.dated:%B %Y}: old; ask for today's")


OLD: Final = 5 * 365
"""Days from which a certificate is told to be old: amendments come every few years (common practice)."""


def down(load: float) -> float:
    """A load rounded down to three figures, so that a bound stays one."""
    from math import log10

    step = 10.0 ** (floor(log10(load)) - 2) if load > 0 else 1.0
    return floor(load / step + 1e-9) * step


def weighable(mass: float, result: AskResult, found: PairResult) -> str:
    """A mass rounded down to the step of the scale."""
    step = result.scale
    return grams(floor(mass / step + 1e-9) * step if step else mass, found.units)


def certificate(result: AskResult, found: PairResult) -> Lines:
    """What the paper's figure comes to in the usual batch."""
    both, units = found.together, found.units
    limit = both.most_in_bar
    if limit is None or both.most_on_oils is None or both.most_on_oils >= MOST_USUAL_DOSE:
        told = "has no certificate on file" if both.uncertified else "sets no bound that you would reach"
        held = weighable(MOST_USUAL_DOSE * found.batch_oils, result, found)
        most = f"at most {held} in {batch(found)}"
        yield Line("", f"Use {most}: the paper of {joined(found.oils)} {told}, and is no dose")
        yield Line("", pair_words.most_usual(units))
    else:
        load = pair_words.of_oils(down(both.most_on_oils), units)
        held = weighable(both.most_on_oils * found.batch_oils, result, found)
        yield Line("", f"{pair_words.of_bar(limit)} is at most {load}: {held} in {batch(found)}")
    yield Line("", say.CERTIFICATE)
    yield from _papers(found)
    used = f"{pair_words.rate(found.load, units)} is {pair_words.of_bar(both.scent_in_bar)}"
    yield Line("", f"Your usual {used}; a limit is the most, not a dose to aim at")

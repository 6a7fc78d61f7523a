"""The English of what a blend does in one bar: strength, label, colour, minutes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from blendwise.answers.pair.result import PairResult, Shared, Together
from blendwise.quantity import METRIC, Units, format_number
from blendwise.show.numbers import amount, grams, minutes_left
from blendwise.show.pair.words import NO_DOSE, OF_BAR, day, from_to, most_usual, of_oils, rate
from blendwise.show.text import joined

MINGLE = (
    "In the cure the scents mingle through the whole bar: it is one product, and its label names "
    "what all of them bring"
)


def together(result: PairResult) -> Iterator[str]:
    """What the blend does in one portion, a sentence a matter."""
    both, units = result.together, result.units
    yield from _noted(both)
    yield strength(both, result, units)
    yield from _shared(both.shared)
    if len(result.oils) > 1:
        yield MINGLE
    yield _label(both)
    yield from _pair_colour(both)
    yield _colour(both, result.colour)
    yield from _stabilised(both, units)
    yield _minutes(both, result.load, units)


def _noted(both: Together) -> Iterator[str]:
    for word in ("good", "bad"):
        pairs = [f"{each.one} with {each.other}" for each in both.noted if each.word == word]
        if pairs:
            yield f"You noted as {word} together: {joined(pairs)}"


def strength(both: Together, result: PairResult, units: Units = METRIC) -> str:
    """The sum rule: what the certificates allow together, in the bar and on oils."""
    used = f"{rate(result.load, units)} is {amount(both.scent_in_bar, OF_BAR)}"
    several = len(result.oils) > 1
    if both.most_in_bar is None or both.most_on_oils is None:
        return (
            f"{used}; the certificates set no bound"
            if not both.uncertified
            else f"{used}; {uncertified(both)}"
        )
    most = f"{amount(both.most_in_bar, OF_BAR)}, which is {rate(both.most_on_oils, units)}"
    worst = f"; {both.tightest} counts most" if both.tightest and several else ""
    by = "By the certificates, summed," if several else "By its certificate"
    note = f". {uncertified(both)}" if both.uncertified else ""
    return (
        f"{by} the bar may hold at most {most}; {used} and uses "
        f"{format_number(100 * both.limit_used)} % of it{worst}; {NO_DOSE}: "
        f"{most_usual(units)}{note}"
    )


def uncertified(both: Together) -> str:
    have = "has no certificate and is" if len(both.uncertified) == 1 else "have no certificate and are"
    return f"{joined(both.uncertified)} {have} not in that sum"


def _shared(shared: Sequence[Shared]) -> Iterator[str]:
    if not shared:
        return
    told = [
        f"{each.name} ({joined(each.oils)}: {format_number(100 * each.in_bar)} % of the bar{_most(each)})"
        for each in shared
    ]
    yield f"Constituents that more than one brings, added up: {'; '.join(told)}"


def _most(each: Shared) -> str:
    return "" if each.maximum is None else f", published maximum {format_number(100 * each.maximum)} %"


def _label(both: Together) -> str:
    names = joined(both.label_names) if both.label_names else "none that is known"
    unknown = (
        f". Names may be lacking: no complete sheet of {joined(both.label_unknown)}"
        if both.label_unknown
        else ""
    )
    where = "above 0.01 % of the bar (Regulation (EC) No 1223/2009, Annex III)"
    return f"Names due on the label {where}: {names}{unknown}"


def _stabilised(both: Together, units: Units) -> Iterator[str]:
    for name, mass in both.stabilised.items():
        yield (
            f"Vanilla stabiliser in {name}: it delays browning and does not cure it, so the browning is "
            f"counted in full and judged at six months. Half to the whole of the oil's mass is common, here "
            f"{grams(mass / 2, units)} to {grams(mass, units)}; your own look is the only proof"
        )


def _pair_colour(both: Together) -> Iterator[str]:
    for one, other in both.pair_colour:
        yield (
            f"{one} and {other} bring an amine and an aldehyde: together they may go deep yellow to "
            "orange-red though each stays pale alone"
        )


def _colour(both: Together, colour: str | None) -> str:
    days = f"from {day(both.judge_from)} to {day(both.judge_by)}"
    when = f"on {day(both.judge_by)}" if both.judge_from == both.judge_by else days
    judged = f"judge it {when} if it is poured today, not before"
    plain = (
        f"Uncoloured soap {_becomes(both)}"
        if colour is None
        else f"{colour} ({both.planned_colour}) {_cured(both)}"
    )
    return f"{plain}; {judged}"


def _becomes(both: Together) -> str:
    low, high = both.bands.low, both.bands.high
    if (low, high) == ("ivory", "chocolate"):
        return "may become anything from white to chocolate: its browning is not known"
    if high == "ivory":
        return "is most likely to stay white or a touch ivory"
    return (
        f"becomes {from_to(both.bands)}"
        if high is not None
        else f"becomes {low} or darker: a browner's amount is not known"
    )


def _cured(both: Together) -> str:
    return f"cures to {from_to(both.cured_colours)}"


def _minutes(both: Together, load: float, units: Units) -> str:
    low, high = both.unscented.low, both.unscented.high
    assert low is not None
    assert high is not None
    fluid = f"{minutes_left(low)} to {minutes_left(high)} minutes from emulsion"
    base = f"Unscented, the batter stays fluid {fluid}, by {both.unscented_from}"
    if both.thickening.high is None:
        return f"{base}; with this scent in it that is not known"
    quick = both.thickening.high
    faster = "no faster" if quick <= 1 + 1e-9 else f"{format_number(quick)} times as fast"
    left = from_to(both.minutes, "minutes", minutes_left)
    at = f"scented at minute {format_number(both.scented_at)}"
    return (
        f"{base}; with {of_oils(load, units)} of this scent it thickens {faster}, and {at} it has {left} left"
    )

"""What own notes and the shelf say of an oil at their own dose, beside what is reckoned for another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import sqrt

from blendwise.answers.ask.result import AskResult, OwnLook, ShelfWord
from blendwise.answers.pair.result import Side
from blendwise.quantity import Units, format_number
from blendwise.show.blocks import Line
from blendwise.show.numbers import in_units, with_unit
from blendwise.show.text import joined
from blendwise.show.words import EVIDENCE


def noted_pace(looks: Sequence[OwnLook], oil: str, units: Units) -> str:
    """What the last cup with the oil showed: times as fast as its batter was reckoned, at its dose there."""
    for look in reversed(looks):
        if look.minutes is None or not look.unscented or not look.doses.get(oil):
            continue
        quick = look.unscented / sqrt(look.minutes[0] * look.minutes[1])
        others = joined([each for each in look.doses if each != oil])
        beside = f", beside {others}" if others else ""
        return (
            f"your own {look.batch} showed {two(quick)} times at {rate(look.doses[oil], units)} of it{beside}"
        )
    return ""


def on_whose_word(result: AskResult, oil: str, evidence: str) -> str:
    """Where a figure at another dose comes from: the own cup and its dose, else the word of the shelf."""
    if not evidence:
        return ""
    seen = noted_pace(result.looks_of_oils, oil, result.units)
    word = EVIDENCE.get(evidence, evidence)
    if seen:
        return f", reckoned to this dose: {seen}"
    own = (result.shelf or {}).get(oil)
    return f" (by {word}{_at(own) if own and own.speed and own.speed_by == evidence else ''})"


def shelf_colour(result: AskResult, oil: Side) -> Iterator[Line]:
    """The shelf's own word for the colour and its dose, where what is reckoned for this dose is another."""
    own = (result.shelf or {}).get(oil.name)
    if own is None or own.browns is None or {own.browns} == {oil.bands.low, oil.bands.high}:
        return
    at = f"at {own.browns_at}" if own.browns_at else "at no dose that is written"
    by = f", by {EVIDENCE.get(own.browns_by, own.browns_by)}" if own.browns_by else ""
    yield Line("", f"Your shelf says {own.browns} of {oil.name}, {at}{by}: the darker of the two may come")


def _at(own: ShelfWord) -> str:
    return f": {own.speed} at {own.speed_at}" if own.speed_at else f": {own.speed}, no dose written"


def rate(dose: float, units: Units) -> str:
    """A dose in two figures."""
    number, unit = in_units(dose, "% of batch oils", units)
    return with_unit(two(number), unit).removesuffix(" of batch oils")


def two(value: float) -> str:
    """So many times, in two figures."""
    return format_number(float(f"{value:.2g}"))

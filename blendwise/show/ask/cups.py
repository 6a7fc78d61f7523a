"""What is told of a plan's cups: colour, white, strength, doses, colourants, superfat, the mould."""

from __future__ import annotations

from collections.abc import Iterator
from math import fsum
from typing import Final

from blendwise.answers.ask.result import AskResult, Filled, HalfScented
from blendwise.answers.check.result import CheckResult
from blendwise.quantity import Units, format_number
from blendwise.quantity.units import GRAMS_PER_POUND
from blendwise.show.ask import words as say
from blendwise.show.ask.about import about
from blendwise.show.ask.facts import by_cup, by_value, number, numbers, of_measure
from blendwise.show.ask.own_notes import colours_seen, told_of, words_seen
from blendwise.show.ask.reasons.browning import because, becomes
from blendwise.show.ask.reasons.lasting import lasting
from blendwise.show.ask.reasons.white import bands, kept_light
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, grams, in_units, teaspoons
from blendwise.show.text import joined

Lines = Iterator[Line]


TRACE: Final = 0.002
"""Vanillin of an oil up to which nobody stabilises it: judgement."""


def browns(result: AskResult, found: CheckResult) -> Lines:
    """What each cup becomes; what was seen of the last batch; what stands against it and mends it."""
    cups = becomes(result, found)
    asked = [name for name in _cups_of(result, found) or cups if name in cups]
    told = by_cup({name: cups[name] for name in asked})
    yield Line("", f"Would turn, by week 6: {told}" if told else say.NO_CUPS)
    yield from because(result, found, asked, result.named.oils)
    yield from colours_seen(result.looks)
    yield from words_seen(result.words_of_oils)
    yield from kept_light(result, found, asked)


def _cups_of(result: AskResult, found: CheckResult) -> list[str]:
    """The cups that are named, else those that hold an oil that is named."""
    held = [
        row.portion for row in found.grams if set(result.named.oils) & {n for n, m in row.scents.items() if m}
    ]
    return [name for name in result.named.portions if name in bands(found)] or held


def half(both: HalfScented, units: Units) -> Lines:
    """Whether to double: never past what is usual; what each way gives the part and the whole."""
    once, all_in, usual = (
        amount(x, "% of oils", units) for x in (both.same_dose, both.same_total, both.usual)
    )
    mass = (
        [grams(x * both.oils, units) for x in (both.same_dose * both.share, both.load)]
        if both.oils
        else ["", ""]
    )
    part, whole = (f", {held} in all" if held else "" for held in mass)
    over = amount(both.load * both.share, "% of oils", units)
    if both.same_total >= both.usual * (1 - 1e-9):
        past = both.same_total > both.usual * (1 + 1e-9)
        reason = f"more than is usual ({usual})" if past else "the very most that makers use"
        yield Line(
            "", f"No, do not double it: keep {once} there; all of it in that part is {all_in}, {reason}"
        )
    else:
        yield Line(
            "", f"You may: all of it in that part is {all_in}, within the usual {usual}; or keep {once} there"
        )
    share = amount(both.share, "%")
    yield Line(
        "", f"Same dose: {once} in {share} of the pot{part}, {over} over the whole bar; it smells weaker"
    )
    over_all = amount(both.load, "% of oils", units)
    yield Line("", f"All of the scent in that part: {all_in}{whole}, {over_all} over the bar")
    yield Line("", say.PART_BINDS)


def half_scented(result: AskResult, found: CheckResult) -> Lines:
    """Both ways, then what speaks against the plan as it stands."""
    if result.half is not None:
        yield from half(result.half, result.units)
    else:
        yield Line("", say.NO_LOAD)
    yield from about(result.question, found)


def mould(result: AskResult, found: CheckResult) -> Lines:
    """Batter, oils, lye and water for the mould as planned, and what a bar of it weighs."""
    units = found.units
    batter, oils = number(found, "batter mass"), number(found, "oils mass")
    filled = result.filled
    lye, water = filled.lye if filled else None, number(found, "water")
    if batter is None or oils is None:
        yield Line("", say.NO_CUPS)
        return
    held = f"{about_grams(batter, units)} of batter: {about_grams(oils, units)} of oils"
    yield Line("", f"{_volume(filled, units)}{held}{_lye(lye, water, found)}")
    scent = sum(row.scent_total for row in found.grams)
    if scent:
        yield Line("", f"Its scent, {grams(scent, units)} in all, is in the fill beside that")
    cups = sum(row.batter for row in found.grams)
    yield Line("", f"{about_grams(cups, units)} goes into the cups, colours in it; the rest stays in the pot")
    bar = number(found, "bar mass")
    if bar:
        yield Line("", f"A cured bar weighs about {about_grams(bar, units)}")
    yield from about(result.question, found)


def _lye(lye: float | None, water: float | None, found: CheckResult) -> str:
    if lye is None or water is None or found.lye_stop:
        return ""
    return f", {grams(lye, found.units)} of lye and {about_grams(water, found.units)} of water"


CM3_PER_INCH3: Final = 2.54**3


def _volume(filled: Filled | None, units: Units) -> str:
    """Which mould the figures are of, and what it holds."""
    if filled is None:
        return ""
    whose = "Your plan's own mould" if filled.own else "That mould"
    if filled.volume is None:
        return "As your plan weighs it: " if filled.own else "At that size: "
    held = f"{filled.volume:.0f} mL"
    if units.mass == "oz":
        held = f"{format_number(round(filled.volume / CM3_PER_INCH3, 1))} cubic inches"
    full = f", filled to {amount(filled.full, '%')}" if filled.full < 1 else ""
    return f"{whose} holds {held}{full}; "


def about_grams(value: float, units: Units) -> str:
    """A mass of the pot, to a tenth of an ounce or a gram: nobody fills a mould to a thousandth."""
    number, unit = in_units(value, "g", units)
    return f"{format_number(round(number, 1 if unit == 'oz' else 0))} {unit}"


def colour_rate(result: AskResult, found: CheckResult) -> Lines:
    """What to weigh of each colour, in spoons too, beside its usual rate, and how to wet it."""
    rows = {name: fact for name, fact in of_measure(found, "grams").items() if " in " in name}
    of = {*result.named.portions, *result.named.colours}
    own = {name for name in rows if of & set(name.split(" in "))} or set(rows)
    oils = {row.portion: row.oils for row in found.grams}
    unweighed: list[str] = []
    for name, fact in rows.items():
        if name in own and isinstance(fact.low, float):
            colour, _, portion = name.partition(" in ")
            spoon = _spoon(result, name, fact.low, oils.get(portion))
            unweighed += [] if spoon else [colour]
            rate = _usual(result, colour, fact.low, oils.get(portion))
            yield Line("", f"{name}: {grams(fact.low, result.units)}{spoon}{rate}")
    yield Line("", say.WET_IT)
    if unweighed:
        yield Line("", say.WEIGH_A_SPOON.format(colours=joined(list(dict.fromkeys(unweighed)))))
    yield from about(result.question, found)


def _spoon(result: AskResult, name: str, mass: float, oils: float | None) -> str:
    """The same in level teaspoons, and per pound of oils in a book of ounces, where a spoon was weighed."""
    typed = result.typed.get(name, "")
    if say.BY_SPOON.search(typed):
        return f" ({typed})"
    weighs = (result.spoons or {}).get(name.partition(" in ")[0])
    told = teaspoons(mass / weighs) if weighs else ""
    if not told:
        return ""
    pound = teaspoons(mass / weighs / oils * GRAMS_PER_POUND) if weighs and oils else ""
    ppo = f", {pound} ppo" if pound and result.units.mass == "oz" else ""
    return f" (about {told}{ppo})"


def _usual(result: AskResult, colour: str, mass: float, oils: float | None) -> str:
    """The rate of its cup's oils, and whether that is below or above what is usual for it."""
    if not oils:
        return ""
    rate, usual = mass / oils, result.usual_rates.get(colour)
    told = f", {amount(float(f'{rate:.2g}'), '%')} of its {about_grams(oils, result.units)} of oils"
    if usual is None:
        return told
    low, high = usual
    band = f"{amount(low, '%').removesuffix(' %')} to {amount(high, '%')}"
    if rate < low * (1 - 1e-6):
        return f"{told}: pale, for usual is {band}; {grams(low * oils, result.units)} is the least of it"
    if rate > high * (1 + 1e-6):
        return f"{told}: strong, for usual is {band}; {grams(high * oils, result.units)} is the most of it"
    return f"{told}; usual is {band}"


def superfat(result: AskResult, found: CheckResult) -> Lines:
    """Whether what is mixed in makes a cup fatter, by the lye as it is planned."""
    cups, pot = numbers(found, "portion superfat"), number(found, "superfat")
    asked = {name: cups[name] for name in result.named.portions if name in cups} or cups
    base = min(cups.values(), default=0.0) if pot is None else pot
    fat = {name: value for name, value in asked.items() if value > base + SAME}
    oils = {row.portion: row.oils for row in found.grams}
    if fat:
        told = "; ".join(
            f"{name} from {amount(base, '%')} to {amount(_round(v), '%')}" for name, v in fat.items()
        )
        yield Line("", f"Yes: the oil mixed in takes {told}")
        yield from (Line("", _wetting(name, oils[name], found)) for name in fat if _colour_in(name, found))
    else:
        told = by_value({name: amount(_round(value), "%") for name, value in asked.items()})
        yield Line("", f"No, as far as is written down: {told}")
        name = next(iter(asked), "")
        if name in oils:
            one = grams(0.01 * oils[name], found.units)
            yield Line("", f"{say.NO_CARRIER}; {one} of oil in {name} (1 % of its oils) adds about 1 %")
    weighed = number(found, "superfat as weighed")
    if pot is not None and weighed is not None and weighed > pot + SAME:
        more = amount(_round(weighed - pot), "%")
        yield Line("", f"Lye rounded down to your scale adds {more} to every cup besides")
    yield from about(result.question, found)


def _colour_in(cup: str, found: CheckResult) -> float:
    """Grams of all colours of a cup."""
    rows = of_measure(found, "grams").items()
    return fsum(f.low for name, f in rows if name.endswith(f" in {cup}") and isinstance(f.low, float))


def _wetting(cup: str, oils: float, found: CheckResult) -> str:
    """What oil the colours of a cup need by the one rule of thumb, and what that adds to its superfat."""
    colour = _colour_in(cup, found)
    low, high = (float(f"{each * colour:.2g}") for each in say.WET_PARTS)
    span = f"{about_grams(low, found.units)} to {about_grams(high, found.units)}"
    more = amount(float(f"{high / oils:.1g}"), "%")
    parts = " to ".join(map(str, say.WET_PARTS))
    enough = f"{parts} parts of oil wet the {grams(colour, found.units)} of colour"
    return f"{enough} in {cup}: {span} is enough, and adds at most about {more}"


SAME = 0.0005
"""Superfats that differ by less are told as one."""


def _round(value: float) -> float:
    return float(f"{value:.2g}") if value < 0.1 else round(value, 3)


def one_name(result: AskResult, found: CheckResult) -> Lines:
    """One product under one name; what it will smell of; what its label must name."""
    yield Line("", say.ONE_PRODUCT)
    words = {name: str(fact.low) for name, fact in of_measure(found, "after six weeks").items()}
    yield from lasting({name: word for name, word in words.items() if " in " not in name})
    yield from told_of(result.looks, "strength")
    label = found.label
    if label is not None:
        due = joined([line.name for line in label.due]) or "no name that is known"
        lacking = (
            f"; no complete sheet of {joined(label.not_known)}: ask before you sell"
            if label.not_known
            else ""
        )
        yield Line("", f"On the label: {due}{lacking}")


def stabiliser(result: AskResult, found: CheckResult) -> Lines:
    """Half to the whole of what the plan weighs of the oil, and that it only delays."""
    vanillin = of_measure(found, "vanillin")
    brown = [n for n, fact in vanillin.items() if isinstance(fact.high, float) and fact.high > TRACE]
    brown = brown or [name for name, fact in vanillin.items() if fact.high is None]
    if not brown and not result.named.oils:
        yield Line("", say.NO_STABILISER)
    for oil in result.named.oils or brown:
        whole = sum(row.scents.get(oil, 0.0) for row in found.grams)
        if whole > 0:
            much = f"{grams(whole / 2, found.units)} to {grams(whole, found.units)} of it"
            yield Line("", f"{much} for the {grams(whole, found.units)} of {oil} in this plan")
    told = by_cup(becomes(result, found))
    yield Line(
        "", f"It delays browning, it does not stop it: expect {told} in the end" if told else say.STABILISER
    )
    yield Line("", say.STABILISER)
    yield from kept_light(result, found, list(bands(found)))

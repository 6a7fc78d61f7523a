"""What is told of a plan's cups: colour, white, strength, doses, colourants, superfat, the mould."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from blendwise.answers.ask.result import AskResult, Filled, HalfScented
from blendwise.answers.check.result import CheckResult
from blendwise.quantity import Units, format_number
from blendwise.quantity.prose import theirs
from blendwise.records.kinds.scent import BANDS
from blendwise.show.ask import words as say
from blendwise.show.ask.about import HEAVY, about
from blendwise.show.ask.facts import by_cup, by_value, number, numbers, of_measure
from blendwise.show.ask.own_notes import colours_seen, darker, told_of, words_seen
from blendwise.show.ask.reasons.browning import because, becomes, browners_in
from blendwise.show.ask.reasons.lasting import lasting
from blendwise.show.blocks import Line
from blendwise.show.numbers import amount, grams, in_units
from blendwise.show.text import joined
from blendwise.show.words import span

Lines = Iterator[Line]


def bands(found: CheckResult) -> dict[str, str]:
    """What each cup becomes, in words."""
    facts = of_measure(found, "browning band").items()
    return {name: span(fact.low, fact.high, "", found.units) for name, fact in facts}


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
    yield from _kept_light(result, found, asked)


def _cups_of(result: AskResult, found: CheckResult) -> list[str]:
    """The cups that are named, else those that hold an oil that is named."""
    held = [
        row.portion for row in found.grams if set(result.named.oils) & {n for n, m in row.scents.items() if m}
    ]
    return [name for name in result.named.portions if name in bands(found)] or held


def part_white(result: AskResult, found: CheckResult) -> Lines:
    """Whether the lightest cup stays white: a look that was darker outranks what is expected."""
    facts = of_measure(found, "browning band")
    depth = {name: BANDS.index(str(f.high)) for name, f in facts.items() if f.high in BANDS}
    named = [name for name in result.named.portions if name in facts]
    light = numbers(found, "planned lightness")
    lightest = [max(light, key=lambda name: light[name])] if light else []
    cups = named or lightest or list(facts)
    seen = darker([look for look in result.looks if look.portion in cups], "ivory")
    yield Line("", _white_verdict(cups, depth, bool(seen), found))
    yield from because(result, found, cups)
    yield from colours_seen(result.looks, cups if seen else ())
    yield from _kept_light(result, found, cups)
    others = {name: band for name, band in becomes(result, found).items() if name not in cups}
    if others:
        yield Line("", f"The others: {by_cup(others)}")
    yield Line("", theirs(say.FOR_WHITE, found.units))


def _kept_light(result: AskResult, found: CheckResult, cups: Sequence[str]) -> Lines:
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


def _white_verdict(cups: Sequence[str], depth: dict[str, int], seen: bool, found: CheckResult) -> str:
    told = by_cup({name: band for name, band in bands(found).items() if name in cups})
    expected = [depth.get(name, len(BANDS)) for name in cups]
    if seen and max(expected) == 0:
        return f"Not as you poured it: expected is {told}, but your own batch went darker"
    if max(expected) > 0:
        return f"Not as planned: {told}"
    if not any(row.scent_total for row in found.grams if row.portion in cups):
        return f"Yes: {joined(cups)} holds no scent, so it stays as pale as its oils and its white make it"
    scented = [row.portion for row in found.grams if row.portion in cups and row.scent_total]
    unseen = "; nobody here has seen it at six weeks" if scented and not _own(found, cups) else ""
    return f"Ivory at best: {told} expected{unseen}"


def _own(found: CheckResult, cups: Sequence[str]) -> bool:
    facts = of_measure(found, "browning band")
    return all(facts[name].evidence in ("own batch", "own cup") for name in cups if name in facts)


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
    """What to weigh of each colour, beside its usual rate, and how to wet it."""
    rows = {name: fact for name, fact in of_measure(found, "grams").items() if " in " in name}
    of = {*result.named.portions, *result.named.colours}
    own = {name for name in rows if of & set(name.split(" in "))} or set(rows)
    oils = {row.portion: row.oils for row in found.grams}
    for name, fact in rows.items():
        if name in own and isinstance(fact.low, float):
            colour, _, portion = name.partition(" in ")
            rate = _usual(result, colour, fact.low, oils.get(portion))
            yield Line("", f"{name}: {_spoon(result, name, fact.low)}{rate}")
    yield Line("", say.WET_IT)
    yield from about(result.question, found)


def _spoon(result: AskResult, name: str, mass: float) -> str:
    typed = result.typed.get(name, "")
    return f"{grams(mass, result.units)}{f' ({typed})' if say.BY_SPOON.search(typed) else ''}"


def _usual(result: AskResult, colour: str, mass: float, oils: float | None) -> str:
    """The rate of its cup's oils, and whether that is below or above what is usual for it."""
    if not oils:
        return ""
    rate, usual = mass / oils, result.usual_rates.get(colour)
    told = f", {amount(float(f'{rate:.2g}'), '%')} of the {grams(oils, result.units)} of oils there"
    if usual is None:
        return told
    low, high = usual
    band = f"{amount(low, '%').removesuffix(' %')} to {amount(high, '%')}"
    if rate < low * (1 - 1e-6):
        return (
            f"{told}: below the usual {band}, so pale; {grams(low * oils, result.units)} is the least of it"
        )
    if rate > high * (1 + 1e-6):
        return f"{told}: above the usual {band}; {grams(high * oils, result.units)} is the most of it"
    return f"{told}; usual are {band}"


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
        less = "; ".join(f"{grams(0.01 * oils[name], found.units)} in {name}" for name in fat if name in oils)
        yield Line("", f"Yes: the oil mixed in takes {told}")
        yield Line("", f"1 % of a cup's oils is enough to wet a colour ({less}) and adds about 1 %")
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
    yield from _kept_light(result, found, list(bands(found)))

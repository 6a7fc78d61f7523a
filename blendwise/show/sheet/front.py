"""The front of the sheet, said to somebody with wet gloves: in the order of doing, cut to the need."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Cup, Dye, Sheet, Weighed
from blendwise.quantity import format_number
from blendwise.show.pages.render import grams, mass, name, names, said, warmth
from blendwise.show.sheet import small, words
from blendwise.show.sheet.cups import cups_named
from blendwise.show.sheet.paper import CupRow, Thing
from blendwise.show.sheet.trouble import expected, ways_out

if TYPE_CHECKING:
    from markupsafe import Markup

# Common practice (first aid for lye, from memory): water at once and long, before anybody is called.
EYES = (
    "<b>In eyes:</b> rinse at once with plenty of running water, lids held open, 20 minutes or more; then a "
    "doctor or the poison line; local advice first."
)
SKIN = "<b>On skin:</b> brush off, running water 20 minutes or more, no vinegar."
ALWAYS = (
    "<b>Goggles, gloves, sleeves down</b> before the lye is opened, until all is washed. <b>Lye into water, "
    "bit by bit, never water into lye.</b> Fresh air, no aluminium, no children or pets, no dust breathed.",
    EYES,
    SKIN,
)
READY = (
    "<b>Ready:</b> mould lined{mould}; pot of {pot}, lye-proof jug of {jug}, {cups}, or larger; a whisk a "
    "cup; {glasses}spatula, stick blender, thermometer, clock."
)
WAITS = (
    "Scent waits in its own small glass, covered, numbered as its cup; in at its minute, glass rinsed "
    "with batter."
)
# Common practice: batter goes on reacting for a day or more, and is soap that washes off only then.
CLEAN = (
    "<b>Clean up:</b> gloves on: raw batter is caustic for a day or more. Wipe oily cups and tools with "
    "paper, that into a bag for the bin; or wash them as soap a day later. No batter down the drain."
)
THERMOMETER = 2.0  # °C within which a kitchen thermometer is not to be trusted: common practice
EXTRA_WATER = "What wets a powder is extra, not from the jug."
EXTRA_OIL = "Oil that a small amount is stirred into is extra."
IN_BATTER = "“Its batter”: out of the cup after the split, whisked smooth, back in."
STABILISED = "Stabiliser goes into {scents} first, as its maker says."
SPARE = "Spare in the mix: {spare}."
PIECES = "Weigh {grams} of {what} pieces; set them in as it is poured{soft}."


@dataclass(frozen=True, slots=True)
class Tick:
    """A thing to weigh and tick: what it is called here, and how it is treated."""

    weighed: Weighed
    what: str
    how: Markup | str = ""


def thing(tick: Tick, sheet: Sheet) -> Thing:
    """The same as it is measured for paper."""
    amount, _, unit = mass(tick.weighed, sheet.units).rpartition(" ")
    return Thing(amount, unit, tick.what, plain(tick.how).partition(" (about")[0])


def plain(text: Markup | str) -> str:
    """A sentence without its marks."""
    from markupsafe import Markup

    return Markup(text).striptags()


def before(sheet: Sheet, findings: Sequence[tuple[str, Markup]]) -> Iterator[Markup | str]:
    """What holds before anything is touched, first aid, what stands ready, what it is for, what was found."""
    from markupsafe import Markup

    yield from map(Markup, ALWAYS)
    yield ready(sheet)
    if sheet.purpose == "home":
        yield words.purpose(sheet)
    tags = [tag for tag, _ in findings]
    if tags:
        counts = ", ".join(f"{tags.count(tag)} × {tag}" for tag in dict.fromkeys(tags))
        yield said("<b>The check</b> found {counts}: read the back first.", counts=counts)


def ready(sheet: Sheet) -> Markup:
    """What stands ready before the lye meets the oils, with sizes."""
    assert sheet.pot is not None
    scented = sum(bool(cup.scents) for cup in sheet.portions)
    glasses = f"{scented + len(sheet.mixes)} small glasses; " if scented else ""
    return said(
        READY,
        mould=_mould(sheet),
        pot=words.volume(sheet.pot.holds, sheet.units),
        jug=words.volume(sheet.pot.jug, sheet.units),
        cups=_vessels(sheet),
        glasses=glasses,
    )


def _mould(sheet: Sheet) -> str:
    mould = sheet.mould
    if mould is not None and mould.inside is not None:
        return f" ({words.lengths(mould.inside, sheet.units)} inside)"
    if mould is not None and mould.cavities is not None and mould.volume is not None:
        return f" ({mould.cavities} cavities of {words.volume(mould.volume, sheet.units)})"
    return f" (for {grams(words.all_batter(sheet), sheet.lye_step, sheet.units)} of batter)"


def _vessels(sheet: Sheet) -> str:
    """ "cups 1 and 3 of 500 mL, cup 2 of 1000 mL": sizes with room to stir."""
    told = sheet.clock.together if sheet.clock else None
    more = f", and the cup that takes them all of {words.volume(told, sheet.units)}" if told else ""
    return _own_vessels(sheet) + more


def _own_vessels(sheet: Sheet) -> str:
    sizes: dict[float, list[int]] = {}
    for cup in sheet.portions:
        sizes.setdefault(cup.holds, []).append(cup.number)
    if len(sizes) == 1:
        size = words.volume(next(iter(sizes)), sheet.units)
        return f"{len(sheet.portions)} cups of {size}" if len(sheet.portions) > 1 else f"a cup of {size}"
    told = [(words.volume(size, sheet.units), sizes[size]) for size in sorted(sizes, reverse=True)]
    each = (
        f"{'cup' if len(numbers) == 1 else 'cups'} {', '.join(map(str, numbers))} of {volume}"
        for volume, numbers in told
    )
    return ", ".join(each)


def pot(sheet: Sheet) -> list[tuple[str, list[Tick]]]:
    """What is weighed for the pot, in columns: oils, the jug, each premix."""
    there = sheet.pot
    assert there is not None
    oils = [Tick(oil, oil.what, words.fat(oil, there)) for oil in there.oils]
    pure = f"{100 * there.purity:.0f} % pure" if there.purity_stated else "as 100 % pure"
    jug = [
        Tick(there.water, "water", "cold, in the jug"),
        *(
            Tick(each, each.what, small.way(each, sheet) or words.additive(each, there))
            for each in there.additives
        ),
        Tick(there.naoh, there.naoh.what, f"in a dry cup; {pure}"),
    ]
    total = grams(math.fsum(oil.grams for oil in there.oils), sheet.lye_step, sheet.units)
    lye = f"Lye {100 * there.concentration:.0f} %, superfat {format_number(round(100 * there.superfat, 1))} %"
    mixes = [
        (f"{mix.name}, in a glass", [Tick(each, each.what) for each in mix.scents]) for mix in sheet.mixes
    ]
    return [(f"Oils, {total} in all", oils), (lye, jug), *mixes]


def steps(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """From lye to split, a line each, with what is said after a blank that is filled in."""
    there, units = sheet.pot, sheet.units
    assert there is not None
    cool, hot = warmth(sheet.celsius, units), warmth(there.hottest, units)
    yield f"Lye into the water till clear (up to {hot}). Cool to {cool}.", ""
    melt = "Melt the hard fats, add the rest" if there.hard else "Warm the oils"
    yield f"{melt}: {cool}{cloudy(sheet)}.", ""
    yield "Lye into oils; stick blend in pulses: no streak, no trace yet.", ""
    left = there.left_in_pot
    stays = f"; {grams(left, sheet.lye_step, units)} stays in the pot" if round(left) else ""
    yield from ((piece, "") for piece in pieces(sheet))
    yield "Minute 0 is", f". Split {grams(words.all_batter(sheet), sheet.lye_step, units)}{stays}."


def pieces(sheet: Sheet) -> Iterator[str]:
    """Finished soap that is set in: a thing to weigh and to tick like any other."""
    for piece in sheet.pieces:
        soft = f"; they soften at {warmth(piece.softens, sheet.units)}" if piece.softens is not None else ""
        weighed = grams(piece.grams, sheet.lye_step, sheet.units)
        yield PIECES.format(grams=weighed, what=piece.what, soft=soft)


def cloudy(sheet: Sheet) -> str:
    """From when its fats are clear; where it is worked no warmer than that, what it would be taken for."""
    assert sheet.pot is not None
    if sheet.pot.clear_from is None:
        return ""
    at = warmth(sheet.pot.clear_from, sheet.units)
    if sheet.celsius >= sheet.pot.clear_from + THERMOMETER:
        return f" (cloudy below {at})"
    below = "below" if sheet.celsius < sheet.pot.clear_from else "barely above"
    return f"; that is {below} {at}, where it turns cloudy and only looks like trace: keep it warmer"


def stirred(cup: Cup, sheet: Sheet) -> list[Tick]:
    """What goes into a cup besides batter and scent."""
    mixed = [Tick(each, each.what, "mixed in, with the colour") for each in cup.mixed_in]
    back = [Tick(each, each.what, "held back, with the colour") for each in cup.returned]
    return [*mixed, *back, *(Tick(dye.weighed, dye.weighed.what, dispersion(dye, sheet)) for dye in cup.dyes)]


def dispersion(dye: Dye, sheet: Sheet) -> Markup:
    """How a powder goes in, cut to the need; spoons, where they are known, on screen alone."""
    stirred = small.way(dye.weighed, sheet, wetted=dye.carrier is not None)
    if stirred and dye.carrier is None:
        return stirred
    spoon = said("<span class=screen>{spoon}</span>", spoon=words.spoon(dye)) if words.spoon(dye) else ""
    if dye.carrier is not None:
        return said(
            "in {amount} {of}{finer}{spoon}",
            amount=mass(dye.carrier, sheet.units),
            of=dye.carrier.what,
            finer=said("; {it}", it=stirred) if stirred else "",
            spoon=spoon,
        )
    if dye.carrier_from:
        return said("smooth in its {oil}{spoon}", oil=name(dye.carrier_from[0]), spoon=spoon)
    return said(
        "in {amount} of its batter{spoon}",
        amount=grams(dye.smoothed_in or 0.0, 5.0, sheet.units),
        spoon=spoon,
    )


def notes(sheet: Sheet) -> Iterator[Markup | str]:
    """What would else be guessed of the cups."""
    from markupsafe import Markup

    dyes = [dye for cup in sheet.portions for dye in cup.dyes]
    lines: list[Markup | str] = []
    if any(cup.scents for cup in sheet.portions):
        lines.append(WAITS)
    if any(dye.carrier is not None for dye in dyes):
        lines.append(EXTRA_WATER)
    if any(dye.smoothed_in is not None and not small.way(dye.weighed, sheet) for dye in dyes):
        lines.append(IN_BATTER)
    if sheet.small:
        lines.append(EXTRA_OIL)
    if sheet.mixes:
        spare = ", ".join(
            f"{mix.name}: {grams(mix.spare, sheet.scale_step, sheet.units)}" for mix in sheet.mixes
        )
        lines.append(SPARE.format(spare=spare))
    if sheet.stabilised:
        lines.append(said(STABILISED, scents=names(sheet.stabilised)))
    if lines:
        yield Markup(" ").join(lines)


def columns(sheet: Sheet) -> list[str]:
    """The names of what is weighed as scent, a column each."""
    return list(dict.fromkeys(each.what for cup in sheet.portions for each in cup.scents))


def cup_rows(sheet: Sheet) -> list[CupRow]:
    """The cups as they are measured for paper."""
    return [
        CupRow(
            cup.portion,
            tuple(thing(tick, sheet) for tick in stirred(cup, sheet)),
            tuple(replace(thing(Tick(each, each.what), sheet), unit="") for each in cup.scents),
        )
        for cup in sheet.portions
    ]


def turn_of_events(sheet: Sheet) -> Iterator[Markup | str]:
    """How it is coloured and poured."""
    clock, numbers = sheet.clock, {cup.portion: cup.number for cup in sheet.portions}
    if len(numbers) > 1:
        order = ", ".join(str(numbers[each]) for each in sheet.colour_order)
        hands = "two pairs" if sheet.hands == 2 else "one pair"
        yield f"For {hands} of hands. Colour by whisk, lightest first: {order}."
    if clock is not None:
        how = {"pour": name(clock.pour), "how": clock.how, "condition": words.CONDITION[clock.batter]}
        yield said("<b>{pour}:</b> {how} {condition}", **how)
    yield said("<b>Then:</b> {cover}", cover=words.cover(sheet.after.gel, sheet.after.gel_at, sheet.units))


def help_lines(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """If it thickens or seizes: what is done at once."""
    t = sheet.trouble
    quick = said(" Likeliest in {cups}.", cups=cups_named(sheet, t.quick)) if t.quick else ""
    if t.speed_unknown:
        quick += said(" Not known of {scents}.", scents=names(list(t.speed_unknown)))
    if t.wanted_in:
        quick += said(" Wanted thick: {cup} alone.", cup=name(t.wanted_in))
    ways = _spaced(*ways_out(t.simpler))
    yield (
        "It thickens:",
        said("whisk only, scent no more cups, thickest first in.{quick}{ways}", quick=quick, ways=ways),
    )
    seizing = _spaced(*expected(sheet, t.seizes))
    yield (
        "It seizes:",
        said(
            "hands out, do not lean over; blender unplugged. Spoon it into the mould or cook it.{of}",
            of=seizing,
        ),
    )


def _spaced(*parts: Markup) -> Markup:
    from markupsafe import Markup

    return Markup("").join(said(" {part}", part=part) for part in parts)


def held(cup: Cup) -> dict[str, Weighed]:
    """The scents of a cup by name."""
    return {each.what: each for each in cup.scents}

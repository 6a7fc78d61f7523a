"""The front of the sheet, said to somebody with wet gloves: in the order of doing, cut to the need."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from blendwise.answers.sheet.result import Cup, Dye, Piece, Sheet, Weighed
from blendwise.quantity import Units, format_number
from blendwise.show.numbers import halves_left, in_units
from blendwise.show.pages.render import grams, mass, name, names, said, warmth
from blendwise.show.sheet import small, words
from blendwise.show.sheet.cups import cups_named
from blendwise.show.sheet.findings import flammable, warned
from blendwise.show.sheet.matrix import CupRow
from blendwise.show.sheet.paper import BOLD, SMALL, STEP, Thing
from blendwise.show.sheet.trouble import expected, ways_out

if TYPE_CHECKING:
    from markupsafe import Markup

# Common practice (first aid for lye, from memory): water at once and long, before anybody is called.
EYES = (
    "<b>In eyes:</b> rinse at once in running water, lids held open, 20 minutes or more; "
    "then doctor or poison line."
)
SKIN = "<b>On skin:</b> brush off, rinse 20 minutes or more, no vinegar."
ALWAYS = (
    "<b>Goggles, gloves, sleeves down</b> until all is washed. <b>Lye into water, bit by bit, never water "
    "into lye.</b> Fresh air, no dust; no aluminium, children, pets.",
    EYES,
    SKIN,
)
READY = (
    "<b>Ready:</b> {mould}, scale to {step}, pot, lye-proof jug, cups{together}, whisks, {glasses}spatula, "
    "stick blender, thermometer, clock."
)
WAITS = "Scent waits covered in a glass numbered as its cup; rinse it with batter."
# Common practice: batter goes on reacting for a day or more, and is soap that washes off only then.
CLEAN = "<b>Clean up:</b> gloves on: raw batter is caustic for a day. Wipe with paper, bin it; wash up later."
FAR = 15.0  # °C from where fats turn cloudy, past which nobody need think of it: judgement
THERMOMETER = 2.0  # °C within which a kitchen thermometer is not to be trusted: common practice
ON_SCREEN = "<span class=screen>"
EXTRA_OIL = "Mixes; their oil is extra"
WITH_COLOUR = "Oil mixed in or held back goes with the colour."
IN_BATTER = "Batter for a colour: from its cup after the split, whisked smooth, back in."
EXTRA = "{what} for a colour is extra: in its cup before minute 0."
FLAME = "<b>Keep from flame:</b> {names}."
ERUPTS = " It may rise or erupt: tray under it, uncover if it does."
SOFTENS = " The pieces may soften: keep it cool."
CARRIES = "It carries when a drop lies on top."  # common practice
STABILISED = "Stabiliser goes into {scents} first, as its maker says."
SPARE = "Spare in the mix: {spare}."
PIECES = "Set in as it is poured"


@dataclass(frozen=True, slots=True)
class Tick:
    """A thing to weigh and tick: what it is called here, and how it is treated."""

    weighed: Weighed
    what: str
    how: Markup | str = ""


def thing(tick: Tick, sheet: Sheet) -> Thing:
    """The same as it is measured for paper."""
    amount, _, unit = mass(tick.weighed, sheet.units).rpartition(" ")
    return Thing(amount, unit, tick.what, tuple(_runs(str(tick.how))))


def _runs(how: str) -> Iterator[tuple[str, float]]:
    """Pieces of what is said of a thing, amounts in it large; what is for screens alone is left out."""
    on_paper = how.partition(ON_SCREEN)[0]
    for number, piece in enumerate(on_paper.replace("</b>", "<b>").split("<b>")):
        if piece := plain(piece).strip():
            large = number % 2 == 1
            yield (piece.replace(" ", "\xa0"), STEP * BOLD) if large else (piece, SMALL)


def groups(sheet: Sheet) -> list[tuple[str, list[Thing]]]:
    """The pot as it is measured for paper."""
    return [(head, [thing(tick, sheet) for tick in ticks]) for head, ticks in pot(sheet)]


def plain(text: Markup | str) -> str:
    """A sentence without its marks."""
    from markupsafe import Markup

    return Markup(text).striptags()


def before(sheet: Sheet) -> Iterator[Markup | str]:
    """What holds before anything is touched: first aid, what stands ready, what burns."""
    from markupsafe import Markup

    yield from map(Markup, ALWAYS)
    yield ready(sheet)
    if burn := flammable(sheet):
        yield said(FLAME, names=burn)


def counts(findings: Sequence[tuple[str, Markup]]) -> str:
    """How much of what the check found, all of which the back tells."""
    tags = [tag for tag, _ in findings if tag != "flammable"]
    return ", ".join(f"{tags.count(tag)} × {tag}" for tag in dict.fromkeys(tags))


def ready(sheet: Sheet) -> Markup:
    """What stands ready before the lye meets the oils; sizes stand where a vessel is filled."""
    scented = sum(bool(cup.scents) for cup in sheet.portions)
    count = scented + len(sheet.mixes) + len(small.stocks(sheet))
    glasses = f"{count} glass{'es' if count > 1 else ''}, " if count else ""
    told = sheet.clock.together if sheet.clock else None
    together = f", the cup that takes them all of {words.volume(told, sheet.units)}" if told else ""
    step = grams(sheet.scale_step, sheet.scale_step, sheet.units)
    return said(READY, mould=_mould(sheet), step=step, together=together, glasses=glasses)


def _mould(sheet: Sheet) -> str:
    mould = sheet.mould
    if mould is not None and mould.inside is not None:
        return f"mould lined ({words.lengths(mould.inside, sheet.units)} inside)"
    if mould is not None and mould.kind == "cavities":
        count = f"{mould.cavities} dry cavities" if mould.cavities is not None else "dry cavities"
        return f"{count} of {words.volume(mould.volume, sheet.units)}" if mould.volume is not None else count
    return f"mould lined (for {grams(words.all_batter(sheet), sheet.lye_step, sheet.units)} of batter)"


def pot(sheet: Sheet) -> list[tuple[str, list[Tick]]]:
    """What is weighed before the split, in groups: oils, the jug, premixes, mixes of what is too little."""
    there, units = sheet.pot, sheet.units
    assert there is not None
    oils = [Tick(oil, oil.what, words.fat(oil, there)) for oil in there.oils]
    pure = f"{100 * there.purity:.0f} % pure" if there.purity_stated else "taken as pure"
    jug = [
        Tick(there.water, "water", "cold"),
        *(_additive(each, sheet) for each in there.additives),
        Tick(there.naoh, there.naoh.what, f"dry cup; {pure}"),
    ]
    total = grams(math.fsum(oil.grams for oil in there.oils), sheet.lye_step, units)
    pot_of, jug_of = words.volume(there.holds, units), words.volume(there.jug, units)
    mixes = [
        (f"{mix.name}, in a glass", [Tick(each, each.what) for each in mix.scents]) for mix in sheet.mixes
    ]
    little = [
        tick
        for stock, what, carrier in small.glasses(sheet)
        for into in [said("into <b>{amount}</b> {oil}", amount=mass(carrier, units), oil=stock.carrier)]
        for tick in [Tick(what, stock.what, into)]
    ]
    return [
        (f"Oils {total}, pot of {pot_of}", oils),
        (f"Jug of {jug_of}, lye {100 * there.concentration:.0f} %", jug),
        *([(PIECES, [_piece(each, sheet) for each in sheet.pieces])] if sheet.pieces else []),
        *mixes,
        *([(EXTRA_OIL, little)] if little else []),
    ]


def superfat(sheet: Sheet) -> str:
    """Of what is weighed, in a word for the head of the sheet."""
    assert sheet.pot is not None
    return f"superfat {format_number(round(100 * sheet.pot.superfat, 1))}\xa0%"


def _additive(each: Weighed, sheet: Sheet) -> Tick:
    assert sheet.pot is not None
    way = words.additive(each, sheet.pot)
    if (mix := small.taken(each, sheet)) is not None:
        return Tick(mix[0], mix[1], f"{mix[2]}; {way}")
    finer = small.finer(each, sheet)
    return Tick(each, each.what, said("{finer}; {way}", finer=finer, way=way) if finer else way)


def steps(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """From lye to split, a line each, with what is said after a blank that is filled in."""
    there, units = sheet.pot, sheet.units
    assert there is not None
    cool, hot = warmth(sheet.celsius, units), warmth(there.hottest, units)
    yield f"Lye into the water till clear (up to {hot}). Cool to {cool}.", ""
    melt = "Melt the hard fats, add the rest" if there.hard else "Warm the oils"
    yield f"{melt}: {oils_at(sheet)}.", ""
    yield "Lye water into the oils; pulse to emulsion: no streak, no trace.", ""
    left = there.left_in_pot
    stays = f"; {grams(left, sheet.lye_step, units)} stays" if left >= sheet.lye_step / 2 else ""
    by = f" by minute {halves_left(sheet.clock.split_by)}" if sheet.clock and len(sheet.portions) > 1 else ""
    yield (
        "Minute 0 is",
        f". Split {grams(words.all_batter(sheet), sheet.lye_step, units)}{by}{stays}.",
    )


def _piece(piece: Piece, sheet: Sheet) -> Tick:
    """Finished soap that is set in: a thing to weigh and to tick like any other."""
    soft = f", soft above {warmth(piece.softens, sheet.units)}" if piece.softens is not None else ""
    goes = "in with the batter" if len(sheet.portions) == 1 else "in with cup ____"
    weighed = Weighed("mould", "piece", piece.what, piece.grams, sheet.lye_step)
    return Tick(weighed, f"{piece.what} pieces", f"keep cool{soft}; {goes}")


def oils_at(sheet: Sheet) -> str:
    """How warm the oils are: one target, and the one floor below which its fats turn cloudy.

    The target is the plan's, the floor where the plan's is lower.
    """
    assert sheet.pot is not None
    clear, units = sheet.pot.clear_from, sheet.units
    if clear is None or sheet.celsius >= clear + FAR:
        return warmth(sheet.celsius, units)
    floor = _up(clear, units)
    close = sheet.celsius < clear + THERMOMETER
    why = " (false trace)" if close else ""
    target = floor if sheet.celsius <= clear else warmth(sheet.celsius, units)
    return f"{target}, not below{why}" if target == floor else f"{target}, not below {floor}{why}"


def _up(celsius: float, units: Units) -> str:
    """A temperature to the next whole degree above it."""
    value, unit = in_units(celsius, "°C", units)
    return f"{math.ceil(value - 1e-6)} {unit}"


def stirred(cup: Cup, sheet: Sheet) -> list[Tick]:
    """What goes into a cup besides batter and scent."""
    mixed = [Tick(each, each.what, "mixed in") for each in cup.mixed_in]
    back = [Tick(each, each.what, "held back") for each in cup.returned]
    return [*mixed, *back, *(_dye(dye, sheet) for dye in cup.dyes)]


def _dye(dye: Dye, sheet: Sheet) -> Tick:
    if (mix := small.taken(dye.weighed, sheet)) is not None:
        return Tick(*mix)
    return Tick(dye.weighed, dye.weighed.what, dispersion(dye, sheet))


def dispersion(dye: Dye, sheet: Sheet) -> Markup:
    """How a powder goes in, cut to the need; spoons, where they are known, on screen alone."""
    finer = small.finer(dye.weighed, sheet)
    spoon = said(ON_SCREEN + "{spoon}</span>", spoon=words.spoon(dye)) if words.spoon(dye) else ""
    if dye.carrier is not None:
        how = said("in <b>{amount}</b> {of}", amount=mass(dye.carrier, sheet.units), of=dye.carrier.what)
    elif dye.carrier_from:
        how = said("smooth in its {oil}", oil=name(dye.carrier_from[0]))
    else:
        how = said("in <b>{amount}</b> batter", amount=grams(dye.smoothed_in or 0.0, 5.0, sheet.units))
    return said("{how}{finer}{spoon}", how=how, finer=said("; {it}", it=finer) if finer else "", spoon=spoon)


def notes(sheet: Sheet, apart: bool) -> Iterator[Markup | str]:
    """What would else be guessed of the cups; of their colours too, unless those stand ``apart``."""
    if any(cup.scents for cup in sheet.portions):
        yield WAITS
    if sheet.mixes:
        spare = ", ".join(
            f"{mix.name}: {grams(mix.spare, sheet.scale_step, sheet.units)}" for mix in sheet.mixes
        )
        yield SPARE.format(spare=spare)
    if sheet.stabilised:
        yield said(STABILISED, scents=names(sheet.stabilised))
    if not apart:
        yield from of_colours(sheet)


def of_colours(sheet: Sheet) -> Iterator[str]:
    """What would else be guessed of what colours the cups."""
    dyes = [dye for cup in sheet.portions for dye in cup.dyes if small.taken(dye.weighed, sheet) is None]
    if any(dye.smoothed_in is not None for dye in dyes):
        yield IN_BATTER
    if wet := sorted({dye.carrier.what for dye in dyes if dye.carrier is not None}):
        yield EXTRA.format(what=" or ".join(wet).capitalize())
    if any(cup.mixed_in or cup.returned for cup in sheet.portions):
        yield WITH_COLOUR


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
            thing(Tick(cup.batter, "batter", words.cup_of(cup, sheet.units)), sheet),
        )
        for cup in sheet.portions
    ]


def turn_of_events(sheet: Sheet) -> Iterator[Markup | str]:
    """How it is coloured and poured."""
    clock, numbers = sheet.clock, {cup.portion: cup.number for cup in sheet.portions}
    if len(numbers) > 1:
        order = ", ".join(str(numbers[each]) for each in sheet.colour_order)
        hands = "Two pairs" if sheet.hands == 2 else "One pair"
        by = f", by minute {halves_left(clock.first_scenting)}" if clock is not None else ""
        yield f"{hands} of hands. Colour by whisk, lightest first: {order}{by}."
    if clock is not None:
        how = {
            "pour": name(clock.pour),
            "how": words.into_the_mould(clock.how, sheet),
            "condition": words.CONDITION[clock.batter],
        }
        yield said("<b>{pour}:</b> {how} {condition}", **how)
        if clock.family == "sequential" and len(numbers) > 1 and sheet.touching != "none":
            yield CARRIES


def poured(sheet: Sheet) -> Iterator[Markup]:
    """What is done with the full mould, and with all that was used."""
    from markupsafe import Markup

    cover = words.cover(sheet.after.gel, sheet.after.gel_at, sheet.units)
    hot = ERUPTS if warned(sheet, "overheating risk") else ""
    yield said(
        "<b>{vessel} full:</b> {cover}{hot}{soft}",
        vessel=words.vessel(sheet).capitalize(),
        cover=cover,
        hot=hot,
        soft=_softened(sheet),
    )
    yield Markup(CLEAN)


def _softened(sheet: Sheet) -> str:
    return (
        SOFTENS if sheet.pieces and warned(sheet, "heats and melts embeds", "room under the embeds") else ""
    )


def help_lines(sheet: Sheet) -> Iterator[tuple[str, Markup]]:
    """If it thickens or seizes: what is done at once."""
    t = sheet.trouble
    some = t.quick and len(t.quick) < len(sheet.portions)
    quick = said(" Likeliest in {cups}.", cups=cups_named(sheet, t.quick)) if some else ""
    if t.speed_unknown:
        quick += said(" Not known of {scents}.", scents=names(list(t.speed_unknown)))
    if t.wanted_in:
        quick += said(" Wanted thick: {cup} alone.", cup=name(t.wanted_in))
    ways = _spaced(*ways_out(t.simpler))
    no_more = "scent no more cups, " if any(cup.scents for cup in sheet.portions) else ""
    yield (
        "It thickens:",
        said("whisk only, {no_more}thickest first in.{quick}{ways}", no_more=no_more, quick=quick, ways=ways),
    )
    seizing = _spaced(*expected(sheet, t.seizes))
    yield (
        "It seizes:",
        said(
            "hands out, do not lean over; unplug. Spoon it into the {mould} or cook it (how: back).{of}",
            mould=words.vessel(sheet),
            of=seizing,
        ),
    )


def _spaced(*parts: Markup) -> Markup:
    from markupsafe import Markup

    return Markup("").join(said(" {part}", part=part) for part in parts)


def held(cup: Cup) -> dict[str, Weighed]:
    """The scents of a cup by name."""
    return {each.what: each for each in cup.scents}

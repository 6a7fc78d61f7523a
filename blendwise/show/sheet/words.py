"""The English of the bench sheet, said to somebody with wet gloves: short, in the order of doing."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from blendwise.answers.portion_colours import Look
from blendwise.answers.sheet.result import Clock, Dye, PotSheet, Sheet, Weighed
from blendwise.quantity import Units, format_number
from blendwise.quantity.units import ML_PER_FLUID_OUNCE
from blendwise.show import words as plain_words
from blendwise.show.pages.render import deadline, grams, minute, names, said, warmth

if TYPE_CHECKING:
    from markupsafe import Markup

IN_THE_WATER = "dissolve in the water, before the lye"
IN_LYE = {
    "milk": "frozen, with a spoon of lye at a time; or into the oils",
    "sugar": IN_THE_WATER,
    "honey": "thinned with a little water, at emulsion",
    "alcohol": "boiled off, flat and cold, before the lye",
}
ALWAYS = (
    "Goggles and gloves on, sleeves down, before the lye is opened, until all is washed.",
    "Lye into water, slowly, never water into lye. It heats and fumes: fresh air, no aluminium.",
    "Batter burns for days. Skin: brush off, running water for 15 minutes or more, no vinegar. Eyes: the "
    "same, and urgent care.",
    "Children and pets out. Powders: do not breathe the dust.",
)
LAW = (
    "Advice, not legal or safety advice; local rules differ. Screens and printers differ: judge by the soap."
)
SOURCES = {
    "the plan": "Doses as the plan writes them.",
    "the assignment": "Doses that the plan left open were placed by the tool.",
    "an even spread": "Doses that the plan leaves open are spread evenly.",
    "no scent": "Unscented.",
}
NOTHING_FITS = (
    "No split of these oils fits: the open doses are spread evenly, only so that the weights can be seen."
)
PROVEN = {"proven": " No better split keeps the rules.", "best found": " It is the best found in the time."}
DISPERSE = {
    "oil": "smooth into a little batter first",
    "water": "wet with {carrier} of water first",
    "glycerin": "wet with {carrier} of glycerin first",
    "batter": "smooth into a little batter first",
}
IN_WATER = ("sugar", "citric acid", "salt", "sodium citrate")
COVERS = {
    "avoid": "Do not cover. Stand it cool, with air around it; no gel is wanted.",
    "leave": "Cover it with a board, no more; gel may come or not.",
    "force": "Cover it and keep it warm{at} until it has gelled through; look in every half hour.",
    None: "The plan says nothing of gel: leave it uncovered and watch it for an hour.",
}
READY = (
    "Ready before the lye meets the oils: mould lined{size}, a whisk a cup, spatula, stick blender, "
    "thermometer, clock."
)
LIES = {
    "rings": "How they lie, from above; left half as poured, right half cured",
    "layers": "How they lie, cut; left half as poured, right half cured",
    "sides": "How they lie, from above; upper half as poured, lower half cured",
}
EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
CONDITION = {
    "thin": "Every cup must still run like thin cream.",
    "light": "Every cup must still pour by itself.",
    "medium": "A drizzle must leave a mark.",
    "thick": "It must hold a peak.",
}


def banner(sheet: Sheet) -> str:
    """What stands across the sheet where something heavier than a caution does; "" where nothing does."""
    check = sheet.check
    if check.papers:
        heavy = " As it stands there is a conflict too: see below." if plain_words.conflicts(check) else ""
        return f"NOT FOR SALE until {plain_words.until(check)}.{heavy}"
    return "" if check.sound else "Do not pour this as it stands: see what the check found, below."


def source(sheet: Sheet) -> str:
    """Whose doses these are, in a sentence."""
    if sheet.doses_from == "an even spread" and sheet.assignment is not None:
        return NOTHING_FITS
    return SOURCES[sheet.doses_from] + (PROVEN.get(sheet.assignment or "", "") if sheet.sound else "")


def purpose(sheet: Sheet) -> Markup | str:
    """What it may be used for, and why not more."""
    lacking = sorted({f.subject[0] for f in sheet.check.findings if f.measure == "certificate"})
    if sheet.purpose == "home":
        why = said(" No certificate: {names}.", names=names(lacking)) if lacking else ""
        return said("<strong>For home. Not for sale.</strong>{why}", why=why)
    if sheet.check.papers:
        return "Without its paper each oil is held to what is borne at home; past that it would be no sheet."
    return "For sale only where your own rules allow it: ask those who know them."


def dispersion(dye: Dye, units: Units) -> Markup | str:
    """How a powder goes in."""
    if dye.carrier_from:
        return said("smooth in the {oils} of this cup", oils=names(dye.carrier_from))
    template = DISPERSE.get(dye.dispersed_in or "", "smooth into a little batter first (nobody noted how)")
    low, high = (value for value in dye.carrier)
    step = 1.0 if high >= 10 else 0.1
    carrier = f"{grams(low, step, units).rsplit(' ', 1)[0]} to {grams(high, step, units)}"
    return template.format(carrier=carrier)


def ready(sheet: Sheet) -> str:
    """What stands ready before the lye meets the oils."""
    mould = sheet.mould
    if mould is not None and mould.inside is not None:
        size = f" ({' × '.join(format_number(side) for side in mould.inside)} cm inside)"
    elif mould is not None and mould.cavities is not None and mould.volume is not None:
        size = f" ({mould.cavities} cavities of {format_number(mould.volume)} mL)"
    else:
        size = f" (for {grams(all_batter(sheet), sheet.lye_step, sheet.units)} of batter)"
    return READY.format(size=size)


def extra_oil(sheet: Sheet) -> bool:
    """Whether any cup gets oil that was not in the pot."""
    return any(cup.returned or cup.mixed_in for cup in sheet.portions)


def all_batter(sheet: Sheet) -> float:
    """Grams of batter in all cups."""
    return sum(cup.batter.grams for cup in sheet.portions)


def spoon(dye: Dye) -> str:
    """Teaspoons, as a help, where one has been weighed and there is enough to see."""
    if dye.teaspoons is None or dye.teaspoons < 0.12:
        return ""
    whole, eighths = divmod(round(dye.teaspoons * 8), 8)
    return f" (about {whole or ''}{EIGHTHS[eighths]} tsp)"


def jug(millilitres: float, units: Units) -> str:
    """What the lye's jug should hold, in whole hundreds of mL or whole fluid ounces."""
    if units.mass != "oz":
        return f"{millilitres:g} mL or more"
    return f"{math.ceil(millilitres / ML_PER_FLUID_OUNCE)} fl oz or more"


def additive(each: Weighed, pot: PotSheet) -> str:
    """Where an additive goes, and how (lye is hard on milk, sugar, alcohol), and on whose word its lye is."""
    where = IN_LYE.get(pot.kinds.get(each.what, ""), "where you always put it")
    if each.what in IN_WATER:
        where = IN_THE_WATER
    lye = pot.on_your_word.get(each.what)
    return f"{where}; its lye on your word alone: {lye}" if lye else where


def fat(each: Weighed, pot: PotSheet) -> str:
    """Whether it is melted, and on whose word the lye is that it takes."""
    lye = pot.on_your_word.get(each.what)
    told = (
        "melt until clear" if each.what in pot.hard else "",
        f"lye on your word alone: {lye}" if lye else "",
    )
    return "; ".join(filter(None, told))


def cover(gel: str | None, at: float | None, units: Units) -> str:
    """What to do with the full mould."""
    return COVERS[gel].format(at=f" at {warmth(at, units)}" if at is not None else "")


def cured(look: Look) -> Markup | str:
    """The cured colour in words."""
    if look.cured is None:
        lacking = ", ".join(dict.fromkeys(fact for _, fact in look.missing))
        return said("not known ({lacking})", lacking=lacking or "browning")
    return " to ".join(look.cured_words)


def fluid(clock: Clock, place: int) -> Markup | str:
    """Until when the portion in a place of the order is fluid."""
    turn = clock.turns[place]
    if turn.not_known:
        return said("not known ({who}): watch it", who=names(turn.not_known))
    low, high = (deadline(value) for value in turn.fluid)
    until = low if low == high else f"{low} to {high}"
    if clock.family == "thick":
        return f"about {until}"
    if turn.slack < 0:
        return f"{until}, {minute(-turn.slack)} too short"
    return f"{until}, {deadline(turn.slack)} to spare"

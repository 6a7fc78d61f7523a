"""The English of the bench sheet, said to somebody with wet gloves: short, in the order of doing."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blendwise.quantity import Units, format_number
from blendwise.quantity.units import CM_PER_INCH, GRAMS_PER_OUNCE, ML_PER_FLUID_OUNCE
from blendwise.show import words as plain_words
from blendwise.show.numbers import halves_left, teaspoons
from blendwise.show.pages.render import minute, names, said, warmth

if TYPE_CHECKING:
    from markupsafe import Markup

    from blendwise.answers.portion_colours import Look
    from blendwise.answers.sheet.result import Clock, Cup, Dye, PotSheet, Sheet, Turn, Weighed

IN_THE_WATER = "into the water before the lye"
IN_LYE = {
    "milk": "frozen in the jug, lye in by the spoon; or into the oils",
    "sugar": IN_THE_WATER,
    "honey": "in a little of the water, at emulsion",
    "alcohol": "boiled off, flat and cold, before the lye",
    "spirit": "never heated, no flame near, never into lye; last, into the cool batter",
}
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
IN_WATER = ("sugar", "citric acid", "salt", "sodium citrate")
COVERS = {
    "avoid": "uncovered, cool, air around it: no gel.",
    "leave": "a board on it, no more; gel may come or not.",
    "force": "cover it and keep it warm{at} until it has gelled through; look in every half hour.",
    None: "the plan says nothing of gel; leave it uncovered and watch it for an hour.",
}
LIES = {
    "rings": "How they lie, from above; left half as poured, right half cured",
    "layers": "How they lie, cut; left half as poured, right half cured",
    "sides": "How they lie, from above; upper half as poured, lower half cured",
}
KEY = (
    ("split", "split"),
    ("colour", "colour"),
    ("scent", "stir scent in"),
    ("pour", "pour"),
    ("spare", "time to spare"),
    ("peak", "wanted thick"),
    ("quick", "perhaps thick"),
    ("thick", "thick"),
    ("late", "too late to pour"),
)
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


def all_batter(sheet: Sheet) -> float:
    """Grams of batter in all cups."""
    return sum(cup.batter.grams for cup in sheet.portions)


def spoon(dye: Dye) -> str:
    """Teaspoons, as a help, where one has been weighed and there is enough to see."""
    told = teaspoons(dye.teaspoons)
    return f" (about {told})" if told else ""


def volume(millilitres: float, units: Units) -> str:
    """What a vessel holds: mL, or whole fluid ounces."""
    if units.mass != "oz":
        return f"{millilitres:g} mL"
    return f"{math.ceil(millilitres / ML_PER_FLUID_OUNCE)} fl oz"


def cup_of(cup: Cup, units: Units) -> str:
    """How large its vessel is, at least; what is at least so large is no batter's volume."""
    return f"≥ {volume(cup.holds, units)}".replace(" ", "\xa0")


def coarse(units: Units) -> float:
    """Grams to which a finished bar is told: whole grams, or tenths of an ounce."""
    return 1.0 if units.mass != "oz" else 0.1 * GRAMS_PER_OUNCE


def thickness(centimetres: float, units: Units) -> str:
    """How thick a slice is: mm, or inches."""
    return f"{10 * centimetres:.0f} mm" if units.mass != "oz" else lengths((centimetres,), units)


def lengths(centimetres: Sequence[float], units: Units) -> str:
    """Sides of a mould, "25 × 9 × 6.5 cm", or in inches where the book weighs in ounces."""
    inch = units.mass == "oz"
    sides = (format_number(round(side / CM_PER_INCH, 2) if inch else side) for side in centimetres)
    return f"{' × '.join(sides)} {'in' if inch else 'cm'}"


def additive(each: Weighed, pot: PotSheet) -> str:
    """Where an additive goes, and how (lye is hard on milk, sugar, alcohol), and on whose word its lye is."""
    where = IN_LYE.get(pot.kinds.get(each.what, ""), "as always")
    if each.what in IN_WATER:
        where = IN_THE_WATER
    lye = pot.on_your_word.get(each.what)
    return f"{where}; its lye on your word alone: {lye}" if lye else where


def fat(each: Weighed, pot: PotSheet) -> str:
    """Whether it is melted, and on whose word the lye is that it takes."""
    lye = pot.on_your_word.get(each.what)
    told = (
        "melt clear" if each.what in pot.hard else "",
        f"lye on your word alone: {lye}" if lye else "",
    )
    return "; ".join(filter(None, told))


def vessel(sheet: Sheet) -> str:
    """What the batter is poured into."""
    return "cavities" if sheet.mould is not None and sheet.mould.kind == "cavities" else "mould"


def into_the_mould(how: str, sheet: Sheet) -> str:
    """How a pour is done, said of cavities where there are any."""
    return how.replace("the mould", f"the {vessel(sheet)}")


def cover(gel: str | None, at: float | None, units: Units) -> str:
    """What to do with the full mould."""
    return COVERS[gel].format(at=f" at {warmth(at, units)}" if at is not None else "")


def cured(look: Look) -> Markup | str:
    """The cured colour in words."""
    if look.cured is None:
        lacking = ", ".join(dict.fromkeys(fact for _, fact in look.missing))
        return said("not known ({lacking})", lacking=lacking or "browning")
    return " to ".join(look.cured_words)


@dataclass(frozen=True, slots=True)
class Thick:
    """When a cup thickens, for the last column of the clock: the minute, what it means, if it warns."""

    at: str
    told: Markup | str
    warns: bool = False


def thick(turn: Turn, clock: Clock) -> Thick:
    """Until when a portion still pours; past that it says by how much."""
    at = halves_left(turn.fluid[0]) if math.isfinite(turn.fluid[0]) else "late"
    if turn.not_known:
        who = names(turn.not_known) if len(turn.not_known) == 1 else f"{len(turn.not_known)} scents"
        return Thick("?", said("not known of {who}: watch it", who=who), warns=True)
    if not turn.must_run:
        return Thick(
            at, "wanted thick, then piped" if clock.family == "thick" else "left alone; stirred, sooner"
        )
    if turn.late > 0:
        return Thick(at, f"{shortage(turn.late)} too short", warns=True)
    if turn.late_on_a_quick_day > 0:
        return Thick(at, f"{perhaps(turn.quick_day)}, {shortage(turn.late_on_a_quick_day)} short", warns=True)
    return Thick(at, perhaps(turn.quick_day) if halves_left(turn.quick_day) != at else "")


def perhaps(quick_day: float) -> str:
    """The earliest minute at which a cup may be thick, said after that at which it is expected to be."""
    return f"perhaps {halves_left(quick_day)}"


def drawn_keys(kinds: Collection[str]) -> list[tuple[str, str]]:
    """The key of a clock: each shape that is drawn on it, with what it means, and no other."""
    return [(kind, told) for kind, told in KEY if kind in kinds]


def shortage(minutes: float) -> str:
    """Minutes that are lacking, rounded up to the half."""
    return f"{minute(math.ceil(minutes * 2 - 1e-9) / 2)} min"

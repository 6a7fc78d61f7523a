"""Rules on cups and batches: what lies beside what, how many, which colours, additives, base oils, papers."""

from __future__ import annotations

import re
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, UnsureError, merged
from blendwise.answers.rules.sentences.fitting.shape import fits, grown, made, made_of
from blendwise.answers.rules.sentences.heard import Heard, line_of
from blendwise.answers.rules.sentences.lexicon import Token, portion_names
from blendwise.facts.measures.members import listed


def next_to(heard: Heard) -> Draft | None:
    """What never touches what."""
    sides = [part for part in heard.core if part.letter in "XCWVf"]
    listed_two = fits(r"N?[XCWV]N?n", heard, "cT") and "N" in heard.letters
    side = "[XCWVf]"
    two = (
        fits(rf"n{side}w?N{side}|N{side}N?n{side}|{side}N?nw?{side}|{side}n{side}N", heard, "cT")
        and "N" in heard.letters
    )
    if not (listed_two or two) or heard.unless:
        return None
    if listed_two:
        (both,) = sides
        sides = [Token(both.letter, (value,), both.start, both.end) for value in both.values]
    if len(sides) != 2:
        return None
    if heard.without("c").startswith("n"):  # "what touches white must be free of charcoal"
        sides.reverse()
    when = merged(_side(heard, sides[0], "one "), _side(heard, sides[1], "other "))
    return made(heard, "edge", grown(heard, when), {"touching": "is no"})


def placed(heard: Heard) -> Draft | None:
    """When a cup is poured: "the black cup is always poured last"."""
    if fits(r"w[XC]v?[LP]", heard) and "c" in heard.letters and not heard.unless:
        return _holding_placed(heard)
    if fits(r"[WV]NP", heard) and "c" in heard.letters and not heard.unless and not heard.groups:
        cup = heard.first("W" if "W" in heard.letters else "V")
        return made(
            heard, "portion", line_of(cup, heard.meaning), heard.meaning.place(heard.first("P"), negated=True)
        )
    if not fits(r"[WV][vG]*P", heard) or heard.unless or heard.groups:
        return None
    if heard.first("P").values not in (("last",), ("first",)):  # "white on top" may be of what is there
        return None
    part = heard.first("W" if "W" in heard.letters else "V")
    if part.letter == "W" and set(part.values) & set(portion_names(heard.meaning.book)):  # that very cup
        return None
    when = line_of(part, heard.meaning)
    return made(heard, "portion", when, heard.meaning.place(heard.first("P")))


def _holding_placed(heard: Heard) -> Draft | None:
    """ "any cup with soot goes last": when what holds an oil or a colour is poured."""
    what = next(part for part in heard.core if part.letter in "XC")
    place = heard.first("P").values if "P" in heard.letters else ("last",)
    if place not in (("last",), ("first",)):
        return None
    if what.letter == "X":
        heard.meaning.names(what)
    held: Conditions = {"holds": list(what.values)} if what.letter == "X" else heard.meaning.colourants(what)
    return made(heard, "portion", grown(heard, held), {"place": place[0]})


def _side(heard: Heard, part: Token, side: str) -> Conditions:
    if part.letter == "W":
        return heard.meaning.colour(part, side)
    if part.letter == "f":
        return {f"{side}{part.value}": "is yes"}
    if part.letter == "C":
        return heard.meaning.colourants(part, side)
    words = part.value if len(part.values) == 1 else list(part.values)
    if part.letter == "V":
        return {f"{side}portion": words}
    heard.meaning.names(part)
    return {f"{side}holds": words}


def count(heard: Heard) -> Draft | None:
    """How many cups hold an oil or a colour, how many scents a cup or a batch holds."""
    for letter, measure in (("X", "portions with"), ("C", "portions coloured with")):
        if letter in heard.letters and made_of(heard, f"#{letter}", "NROwTzevk", "csUSF"):
            part = heard.first(letter)
            if _none_twice(heard):
                return _oils_counted(heard, part)
            bounded = "R" in heard.letters or re.match("O#", heard.letters) or heard.letters.endswith("O")
            if not bounded or {"O", "R"} <= set(heard.letters):
                return None
            if "c" not in heard.letters and letter == "X" and set("zT") & set(heard.letters):
                return _oils_counted(heard, part)
            if not set("cTw") & set(heard.letters):  # two of what?
                return None
            names = heard.meaning.names(part) if letter == "X" else listed(part.values)
            when, of_cup = heard.situation()
            return None if of_cup else _counted(heard, "batch", f"{measure} {names}", when)
    if made_of(heard, "#RM", "Nzvek", "cUSF") and heard.first("M").value == "portions":
        when, of_cup = heard.situation()
        return None if of_cup else _counted(heard, "batch", "portions", when)
    scents = (made_of(heard, "R#s", "Nwzvek", "cTWPUSV") or made_of(heard, "R#M", "Nwzvek", "cTWPUSV")) and (
        "s" in heard.letters or heard.first("M").value in ("scents in portion", "scent rate")
    )
    if not scents:
        return None
    when, of_cup = heard.situation()
    if any(part.value in ("in batch", "in bar", "whole batch") for part in heard.all("z")):
        return None if of_cup else _counted(heard, "batch", "scents in batch", when)
    if not of_cup and not set("Tc") & set(heard.letters):
        raise UnsureError(("in one cup", "in one batch"))
    return _counted(heard, "portion", "scents in portion", when)


def _none_twice(heard: Heard) -> bool:
    """ "no two florals in one cup": one at most."""
    return re.match("N#X", heard.letters) is not None and heard.first("#").value == "2"


def _oils_counted(heard: Heard, part: Token) -> Draft | None:
    """ "at most 2 fast oils in one batch": how many of a sort or a tag; one oil cannot be two."""
    if any(value in heard.meaning.book.scents for value in part.values):
        return None
    when, of_cup = heard.situation()
    of_batch = "z" in heard.letters and heard.first("z").value == "in batch"
    if "z" in heard.letters and not of_batch:
        return None
    grain = "batch" if of_batch else "portion"
    if of_batch and (of_cup or "T" in heard.letters):
        return None
    return _counted(heard, grain, f"scents in {grain} of {heard.meaning.names(part)}", when)


def _counted(heard: Heard, grain: str, measure: str, when: Conditions) -> Draft:
    relation = heard.relation() if "R" in heard.letters else "at most"
    if "R" not in heard.letters and "N" in heard.letters:
        return made(heard, grain, when, {measure: "at most 1"}, "caution")
    return made(heard, grain, when, {measure: f"{relation} {heard.first('#').value}"}, "caution")


def no_colour(heard: Heard) -> Draft | None:
    """Colourants that stay out of cups, pours, months."""
    if heard.unless:
        return None
    if fits(r"C[Ov][WPUSV]|C[WPUSV]O|O[WPUSV]C", heard):
        return _colour_only_there(heard)
    if fits(r"C[Ov]k?|OCk|O[kw]?C", heard) and len(heard.groups) == 1 and not heard.exceptions:
        line = heard.line(heard.groups[0])
        return made(heard, "portion", heard.meaning.colourants(heard.first("C")), line)
    flagged = "f" in heard.letters
    if not made_of(heard, "Nf" if flagged else "NC", "WPUSVwkv"):
        return None
    when, _ = heard.situation()
    if flagged:
        return made(heard, "portion", when, {heard.first("f").value: "is no"}) if when else None
    return made(heard, "portion", when, heard.meaning.colourants(heard.first("C"), negated=True))


def _colour_only_there(heard: Heard) -> Draft:
    """ "charcoal only in black cups"."""
    place = next(part for part in heard.core if part.letter in "WPUSV")
    when = grown(heard, heard.meaning.colourants(heard.first("C")))
    return made(heard, "portion", when, line_of(place, heard.meaning))


def scent_with_colour(heard: Heard) -> Draft | None:
    """A cup with a colourant holds none of these oils."""
    if _two_colours(heard):
        one, other = heard.first("C").values
        when = grown(heard, {"colourants": [one]})
        return made(heard, "portion", when, {"colourants": {"none of": [other]}})
    if not (made_of(heard, "NCX", "wkTv") or fits(r"CaX|XaC", heard)) or heard.unless:
        return None
    token = heard.first("X")
    heard.meaning.names(token)
    when = grown(heard, heard.meaning.colourants(heard.first("C")))
    return made(heard, "portion", when, {"holds": {"none of": list(token.values)}})


def _two_colours(heard: Heard) -> bool:
    """ "no cup with both indigo and turmeric"."""
    both = made_of(heard, "NC", "htTw") and set("htT") & set(heard.letters)
    return bool(both) and len(heard.first("C").values) == 2 and not heard.unless


RATES: Final = ("salt", "milk", "sugars")
CUP_RATES: Final = ("white rate", "clay rate", "mica rate", "charcoal rate")
"""Measures of what may not be in the pot at all."""


def no_additive(heard: Heard) -> Draft | None:
    """Additives, or base oils, that a pour, a month or a condition keeps out of the pot."""
    if made_of(heard, "NM", "WPVUSwkv"):
        return _none_of_a_rate(heard)
    for letter in "DB":
        if made_of(heard, f"N{letter}", "USwkv"):
            when, of_cup = heard.situation()
            if of_cup or heard.unless:
                return None
            names = list(heard.first(letter).values)
            none_of: Conditions = {"additives": {"none of": names}}
            no_fat: Conditions = {f"oil share of {listed(names)}": "at most 0 %"}
            return made(heard, "batch", when, none_of if letter == "D" else no_fat)
    return None


SOLD: Final = "purpose: is sale"


def no_flag(heard: Heard) -> Draft | None:
    """ "no embeds in a drop swirl": what directly follows the "no" is what may not be."""
    if not fits(r"N[kw]?[US]*|[kw]?[US]*N", heard, "") or heard.unless:
        return None
    flags = [group for group in heard.groups if heard.forbidden(group)]
    others = [group for group in heard.groups if group not in flags]
    if len(flags) != 1 or not (others or set("US") & set(heard.letters)):
        return None
    when, of_cup = heard.situation(others)
    if flags[0][0].value == SOLD and len(others) == 1 and "M" in {part.letter for part in others[0]}:
        flags, when = others, heard.line(flags[0])  # "nothing for sale with superfat below 5 %"
    return None if of_cup else made(heard, "batch", when, heard.line(flags[0], negated=True))


def no_gel(heard: Heard) -> Draft | None:
    """ "no gel with honey", "don't gel lime": gel avoided, wherever something else is so."""
    if heard.unless or not any(made_of(heard, f"F{what}", "kwUSveWPV") for what in ("", "X", "D")):
        return None
    when, of_cup = heard.situation()
    if "D" in heard.letters:
        when = merged(when, {"additives": list(heard.first("D").values)})
    must = heard.line((heard.first("F"),))
    if "X" in heard.letters:
        return made(heard, "dose", merged(heard.meaning.oils(heard.first("X")), when), must)
    if of_cup and "X" in heard.letters + "".join(part.letter for group in heard.groups for part in group):
        return None
    return made(heard, "portion" if of_cup else "batch", when, must)


def gel_forced(heard: Heard) -> Draft | None:
    """ "always gel columns", "force gel if there is salt in it"."""
    first = min((group for group in heard.groups), key=lambda group: group[0].start, default=())
    asked = [part.value for part in first] == [FORCED] and (heard.begins("F") or heard.begins("v"))
    rest = [group for group in heard.groups if group is not first]
    if (
        not asked
        or heard.unless
        or not fits(r"v?[kw]?[XDUS]?", heard)
        or not (rest or set("XDUS") & set(heard.letters))
    ):
        return None
    when, of_cup = heard.situation(rest)
    if "D" in heard.letters:
        when = merged(when, {"additives": list(heard.first("D").values)})
    if "X" in heard.letters:
        return made(heard, "dose", merged(heard.meaning.oils(heard.first("X")), when), {"gel": "is force"})
    return None if of_cup else made(heard, "batch", when, {"gel": "is force"})


FORCED: Final = "gel: force"


def _none_of_a_rate(heard: Heard) -> Draft | None:
    """ "no salt in a hanger swirl", "no white pigment in the brown": none of what a measure is of."""
    measure, (when, of_cup) = heard.first("M").value, heard.situation()
    if heard.unless or not when or measure not in RATES + CUP_RATES or (of_cup and measure in RATES):
        return None
    basis = " of portion oils" if measure in CUP_RATES else ""
    return made(heard, "portion" if basis else "batch", when, {measure: f"at most 0 %{basis}"})


def only_flag(heard: Heard) -> Draft | None:
    """ "embeds only when the batter is below 110 °F": what stands first asks for the condition behind it."""
    if not fits(r"O[kw]?", heard, "") or len(heard.groups) != 2 or heard.exceptions or not heard.begins("F"):
        return None
    first, then = sorted(heard.groups, key=lambda group: group[0].start)
    if heard.first("O").start < first[0].start or heard.of_cup:
        return None
    return made(heard, "batch", heard.line(first), heard.line(then))


def no_pour(heard: Heard) -> Draft | None:
    """ "no columns when the room is above 25 °C", "no columns in summer": a pour that something keeps out."""
    if not made_of(heard, "NU", "kwSv") or heard.unless or heard.of_cup:
        return None
    when: Conditions = dict(heard.when)
    for part in heard.all("S"):
        when = merged(when, line_of(part, heard.meaning))
    must: Conditions = {"pour": {"none of": list(heard.first("U").values)}}
    return made(heard, "batch", when, must) if when else None


def unscented(heard: Heard) -> Draft | None:
    """Cups that stay without scent."""
    if not made_of(heard, "NM", "WPUSVwkv") or heard.first("M").value != "scent rate":
        return None
    when, of_cup = heard.situation()
    somewhere = of_cup or set("US") & set(heard.letters)
    return made(heard, "portion", when, {"scented": "is no"}) if somewhere else None


_PAPERS: Final[Conditions] = {"certificate": "is yes", "allergen sheet": ["partial", "complete"]}


def papers(heard: Heard) -> Draft | None:
    """Oils that want a certificate or an allergen sheet."""
    if "M" not in heard.letters or heard.first("M").value not in _PAPERS:
        return None
    asked = any(made_of(heard, need, "Xvw", "cs") for need in ("NoM", "eM", "OM"))
    if not asked or ("O" in heard.letters and "w" not in heard.letters):
        return None
    when = heard.meaning.oils(heard.first("X")) if "X" in heard.letters else {}
    paper = heard.first("M").value
    return made(heard, "scent", grown(heard, when), {paper: _PAPERS[paper]})

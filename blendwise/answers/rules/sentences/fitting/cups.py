"""Rules on cups and batches: what lies beside what, how many, which colours, additives, base oils, papers."""

from __future__ import annotations

from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, UnsureError, merged
from blendwise.answers.rules.sentences.fitting.shape import fits, grown, made
from blendwise.answers.rules.sentences.heard import Heard, line_of
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.facts.measures.members import listed


def next_to(heard: Heard) -> Draft | None:
    """What never touches what."""
    listed_two = fits(r"N?[XCWV]N?n", heard) and "N" in heard.letters
    if not (listed_two or fits(r"N[XCV]n[WXCV]|[XCV]Nn[WXCV]", heard)) or heard.unless:
        return None
    sides = [part for part in heard.core if part.letter in "XCWV"]
    if listed_two:
        (both,) = sides
        sides = [Token(both.letter, (value,), both.start, both.end) for value in both.values]
    if len(sides) != 2:
        return None
    when = merged(_side(heard, sides[0], "one "), _side(heard, sides[1], "other "))
    return made(heard, "edge", grown(heard, when), {"touching": "is no"})


def _side(heard: Heard, part: Token, side: str) -> Conditions:
    if part.letter == "W":
        return heard.meaning.colour(part, side)
    words = part.value if len(part.values) == 1 else list(part.values)
    if part.letter in "CV":
        return {f"{side}{'colourants' if part.letter == 'C' else 'portion'}": words}
    heard.meaning.names(part)
    return {f"{side}holds": words}


def count(heard: Heard) -> Draft | None:
    """How many cups hold an oil or a colour, how many scents a cup or a batch holds."""
    for letter, measure in (("X", "portions with"), ("C", "portions coloured with")):
        if fits(rf"N?R#w?{letter}|O#w?{letter}|{letter}N?[O R]#|{letter}N?R#", heard):
            if not set("cTw") & set(heard.letters):  # two of what?
                return None
            part = heard.first(letter)
            names = heard.meaning.names(part) if letter == "X" else listed(part.values)
            return _counted(heard, "batch", f"{measure} {names}", dict(heard.when))
    scents = fits(r"N?R#[sM]|[sM]N?R#|#[sM]R", heard, "cTWPUSVz") and (
        "s" in heard.letters or heard.first("M").value in ("scents in portion", "scent rate")
    )
    if not scents:
        return None
    when, of_cup = heard.situation()
    if any(part.value in ("in batch", "in bar") for part in heard.all("z")):
        return None if of_cup else _counted(heard, "batch", "scents in batch", when)
    if not of_cup and not set("Tc") & set(heard.letters):
        raise UnsureError(("in one cup", "in one batch"))
    return _counted(heard, "portion", "scents in portion", when)


def _counted(heard: Heard, grain: str, measure: str, when: Conditions) -> Draft:
    relation = heard.relation() if "R" in heard.letters else "at most"
    return made(heard, grain, when, {measure: f"{relation} {heard.first('#').value}"}, "caution")


def no_colour(heard: Heard) -> Draft | None:
    """Colourants that stay out of cups, pours, months."""
    if not fits(r"NC[WPUSV]*|CN[WPUSV]+|[WPUV]w?NC", heard) or heard.unless:
        return None
    when, _ = heard.situation()
    return made(heard, "portion", when, {"colourants": {"none of": list(heard.first("C").values)}})


def scent_with_colour(heard: Heard) -> Draft | None:
    """A cup with a colourant holds none of these oils."""
    if not fits(r"CaX|XaC|NCw?X|NXw?C|CNwX|XNw?C", heard) or heard.unless:
        return None
    token = heard.first("X")
    heard.meaning.names(token)
    when = grown(heard, {"colourants": list(heard.first("C").values)})
    return made(heard, "portion", when, {"holds": {"none of": list(token.values)}})


def no_additive(heard: Heard) -> Draft | None:
    """Additives, or base oils, that a pour, a month or a condition keeps out of the pot."""
    for letter in "DB":
        if fits(rf"N[kw]?{letter}[US]*|{letter}N[US]+", heard):
            when, of_cup = heard.situation()
            if not when or of_cup or heard.unless:
                return None
            names = list(heard.first(letter).values)
            none_of: Conditions = {"additives": {"none of": names}}
            no_fat: Conditions = {f"oil share of {listed(names)}": "at most 0 %"}
            return made(heard, "batch", when, none_of if letter == "D" else no_fat)
    return None


def no_flag(heard: Heard) -> Draft | None:
    """ "no embeds in a drop swirl": what directly follows the "no" is what may not be."""
    if not fits(r"N[kw]?[US]*|[kw]?[US]*N", heard, "") or heard.unless:
        return None
    flags = [group for group in heard.groups if heard.forbidden(group)]
    others = [group for group in heard.groups if group not in flags]
    if len(flags) != 1 or not (others or set("US") & set(heard.letters)):
        return None
    when, of_cup = heard.situation(others)
    return None if of_cup else made(heard, "batch", when, heard.line(flags[0], negated=True))


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
    if not fits(r"N[kw]?US*|UN[kw]?S*|S+NU", heard) or heard.unless or heard.of_cup:
        return None
    when: Conditions = dict(heard.when)
    for part in heard.all("S"):
        when = merged(when, line_of(part, heard.meaning))
    must: Conditions = {"pour": {"none of": list(heard.first("U").values)}}
    return made(heard, "batch", when, must) if when else None


def unscented(heard: Heard) -> Draft | None:
    """Cups that stay without scent."""
    if not fits(r"NM[WPUSV]+|[WPV]w?NM", heard) or heard.first("M").value != "scent rate":
        return None
    when, _ = heard.situation()
    return made(heard, "portion", when, {"scented": "is no"})


_PAPERS: Final[Conditions] = {"certificate": "is yes", "allergen sheet": ["partial", "complete"]}


def papers(heard: Heard) -> Draft | None:
    """Oils that want a certificate or an allergen sheet."""
    if not fits(r"N[Xs]?oM|[Xs]?NoM", heard) or heard.first("M").value not in _PAPERS:
        return None
    when = heard.meaning.oils(heard.first("X")) if "X" in heard.letters else {}
    paper = heard.first("M").value
    return made(heard, "scent", grown(heard, when), {paper: _PAPERS[paper]})

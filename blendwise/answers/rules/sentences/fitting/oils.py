"""Rules on oils: with which others, in which cups, pours and months, and under which conditions."""

from __future__ import annotations

from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, UnsureError, merged
from blendwise.answers.rules.sentences.fitting.shape import excepting, fits, grown, made, made_of
from blendwise.answers.rules.sentences.heard import AMOUNTS, AROUND, FITS, Heard, line_of
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.facts.tables import vocabulary


def apart(heard: Heard) -> Draft | None:
    """Two oils never in one cup, or never in one batch."""
    two = made_of(heard, "NXX", "aTth", "czwk") or fits("XaX|aXX", heard, "cz")
    listed = (made_of(heard, "NX", "tTh", "cz") and set("tTh") & set(heard.letters)) or fits(
        "h?Xa", heard, "cz"
    )
    in_bar = fits("XNz|NXz", heard) and heard.first("z").value == "one batch"
    listed = (bool(listed) or in_bar) and len(heard.first("X").values) == 2
    if not (two or listed) or heard.unless:
        return None
    if two:
        one, other = heard.all("X")
    else:
        both = heard.first("X")
        one, other = (Token("X", (value,), both.start, both.end) for value in both.values)
    if "z" in heard.letters:
        return _apart_in_bar(heard, one, other)
    when = merged(heard.meaning.oils(one, "one "), heard.meaning.oils(other, "other "))
    return made(heard, "pair", grown(heard, when), {"together": "is no"})


def against(heard: Heard) -> Draft | None:
    """How much of an oil for how much of another: "never more clove-leaf than lime"."""
    if not fits(r"XN?RX|N?RXX", heard, "cTzv") or heard.unless:
        return None
    (one, other), of_cup = heard.all("X"), "T" in heard.letters
    of_cups = any(part.value in ("of portion oils", "of its scent") for part in heard.all("z"))
    if set(one.values) & set(other.values) or of_cups:
        return None
    measure = "dose of" if of_cup else "grams of"
    heard.meaning.counts["how much"] = "in each cup" if of_cup else "in the whole batch, by weight"
    bounded, by = (f"{measure} {heard.meaning.names(each)}" for each in (one, other))
    must: Conditions = {bounded: f"{heard.relation()} {by}"}
    return made(heard, "portion" if of_cup else "batch", dict(heard.when), must, "caution")


def _apart_in_bar(heard: Heard, one: Token, other: Token) -> Draft | None:
    """Where one is in the batch at all, there is none of the other."""
    if heard.first("z").value not in ("in batch", "one batch"):
        return None
    when = {f"grams of {heard.meaning.names(one)}": "above 0 g"}
    must = {f"grams of {heard.meaning.names(other)}": "at most 0 g"}
    return made(heard, "batch", grown(heard, when), must)


def only_with(heard: Heard) -> Draft | None:
    """An oil asks for one of others in its cup."""
    if fits("h?Xv[tw]+", heard) and not heard.unless and len(heard.first("X").values) == 2:
        first, second = heard.first("X").values
        raise UnsureError((f"{first} only with {second}", f"{second} only with {first}"))
    if not fits(_ASKING, heard, "cT"):
        return _unless_with(heard) if heard.unless else None
    if heard.unless:
        return None
    one, other = heard.all("X")
    if heard.letters.startswith("o"):  # "without a fixative no citrus"
        one, other = other, one
    return _needing(heard, one, other)


_ASKING = (
    r"X[Ov][tw]+X[tnw]?|XO[tw]*X[tnw]|NXoX|XNoX|oXNX|XwXO|Xv?ew?X[wnt]?|Xve?w?X[wnt]?"
    r"|t?wXeX[wnt]?|X[Ov]k[tw]*X[wnt]?|OXkX[wnt]?"
)


def _unless_with(heard: Heard) -> Draft | None:
    """ "no lime unless with litsea"; an exception of those meant ("no citrus unless folded") is none."""
    if heard.unless is None or not fits(r"NX[wnt]|XN[wnt]", heard):
        return None
    return _needing(heard, heard.first("X"), heard.unless)


def _needing(heard: Heard, one: Token, other: Token) -> Draft:
    heard.meaning.names(other)
    said = other.value if len(other.values) == 1 else list(other.values)
    if len(other.values) > 1:
        heard.meaning.counts["with"] = "any one of these"
    return made(heard, "dose", grown(heard, heard.meaning.oils(one)), {"with": said})


_ONLY = r"vX[WPUSV]|Xv?[Ov][WPUSV]|X[WPUSV]O|OUw?X|O[WPUSV]w?X"


def where(heard: Heard) -> Draft | None:
    """The cups, pours or months that oils belong in, or stay out of."""
    if fits(r"OX[PWV]", heard):  # the oil nowhere else, or nothing else there
        oil = " and ".join(heard.first("X").values)
        raise UnsureError((f"{oil} only in …", f"nothing but {oil} in …"))
    _bare(heard)
    of_cup = set("WPV") & set(heard.letters)
    aside = "cSU" if of_cup else "c"  # a pour or a month beside a cup is a condition
    only = fits(_ONLY, heard, aside) or _only_used(heard)
    place = next((letter for letter in ("WPV" if of_cup else "US") if letter in heard.letters), "W")
    never = made_of(heard, f"NX{place}", "wvt", aside) or fits("Xa[WPV]", heard, aside)
    if not (only or never):
        return None
    part = next(part for part in heard.core if part.letter in ("WPV" if of_cup else "US"))
    must = line_of(part, heard.meaning, negated=never)
    when = excepting(heard, heard.first("X"))
    for other in (each for each in heard.core if each.letter in "US" and each is not part):
        when = merged(when, line_of(other, heard.meaning))
    looks_at = "scent" if part.letter == "S" and not heard.of_cup else "dose"
    return made(heard, looks_at, grown(heard, when), must)


def _bare(heard: Heard) -> None:
    """ "Lime in white": a note rather than a rule; it is asked which."""
    if fits(r"X[WPVS]", heard) and not heard.groups:
        oil, cup = (" or ".join(part.values) for part in heard.core if part.letter != "c")
        raise UnsureError((f"{oil} only in {cup}", f"{oil} never in {cup}"))


def _only_used(heard: Heard) -> bool:
    """ "only use peppermint in December" is of the peppermint; with a cup it may be of the cup."""
    return fits("OX[SU]", heard) and heard.first("O").value == "only use"


def nothing_but(heard: Heard) -> Draft | None:
    """A cup that takes none but some oils: "nothing but lime in white", "white gets only lime"."""
    if fits("Uw?OX", heard, "cS") and not heard.unless:  # "in a column only slow oils"
        return made(heard, "dose", heard.situation()[0], heard.meaning.oils(heard.first("X")))
    if heard.unless and fits("N[WPV]", heard, "cSU"):  # "nothing in white but lime"
        return made(heard, "dose", heard.situation()[0], heard.meaning.oils(heard.unless))
    if fits(r"[WPVU]XO", heard, "c") and heard.first("O").value == "only":
        oil, place = heard.first("X").value, heard.core[0].value
        raise UnsureError((f"nothing but {oil} in {place}", f"{oil} only in {place}"))
    if not fits(r"bX[WPV]|[WPV]w?bX|[WPV]w?OX|[WPV]w?XO", heard, "cSU") or heard.unless:
        return None
    if fits(r"[WPV]w?XO", heard, "cSU") and heard.first("O").value not in (
        "nothing else",
        "or nothing",
    ):  # "white with lime only"
        return None
    return made(heard, "dose", heard.situation()[0], heard.meaning.oils(heard.first("X")))


UNSOLD: Final = "purpose: is not sale"


def conditioned(heard: Heard) -> Draft | None:
    """ "no citrus when gel is forced": the last condition turned round; "only when …": as it is."""
    only = fits(r"Xv?[Ov]k?|O[kw]?X|OXk", heard)
    never = made_of(heard, "NX", "kwv")
    every = (*heard.groups, *heard.exceptions)
    if fits("X", heard) and [group[0].value for group in every] == [UNSOLD] and not heard.exceptions:
        return made(heard, "dose", heard.meaning.oils(heard.first("X")), heard.line(every[0]))
    if heard.of_embeds or not (only or never) or not every or (only and heard.exceptions):
        return None
    *others, last = every
    if fits(r"O.*", heard) and last[0].start < heard.first("X").start:  # "sell only lime"
        return None
    when = excepting(heard, heard.first("X"))
    for group in others:
        when = merged(when, heard.line(group, negated=group in heard.exceptions))
    must = heard.line(last, negated=never != (last in heard.exceptions))
    seasonal = all(part.letter == "S" for group in every for part in group)
    return made(heard, "scent" if seasonal else "dose", when, must)


NEEDED: Final = (*AROUND, "minutes fluid")


def needing(heard: Heard) -> Draft | None:
    """ "fast oils need at least 15 minutes of working time", "lime needs lye at least 31 %"."""
    amount = next((each for each in AMOUNTS if each in heard.letters), "")
    if not amount or not made_of(heard, f"eRXM{amount}", "vw", "cs") or heard.unless:
        return None
    measure, said = heard.first("M").value, heard.first(amount).value
    if measure not in NEEDED or vocabulary()[measure].dimension != FITS[amount]:
        return None
    when, _ = heard.situation()
    must = {measure: f"{heard.relation()} {said}"}
    return made(heard, "dose", merged(heard.meaning.oils(heard.first("X")), when), must)


def embed(heard: Heard) -> Draft | None:
    """Oils that stay out of embeds, or out of all else: "lime only in embeds"."""
    if fits("Xv?E", heard) and heard.first("E").value == "only embed":
        if heard.unless or heard.groups or heard.exceptions:
            return None
        heard.meaning.names(heard.first("X"))
        return made(heard, "portion", {}, {"holds": {"none of": list(heard.first("X").values)}})
    if any(part.value == "only embed" for part in heard.all("E")):
        return None
    of_embeds = (
        heard.of_embeds
        and heard.when == {"embeds": "is yes"}
        and (made_of(heard, "NX", "wev") or fits("oX", heard))
    )
    if not (of_embeds or made_of(heard, "NXE", "v")) or heard.unless or heard.exceptions:
        return None
    heard.meaning.names(heard.first("X"))
    words = list(heard.first("X").values)
    when = {} if of_embeds else dict(heard.when)
    return made(heard, "embed", when, {"embed holds": {"none of": words}})

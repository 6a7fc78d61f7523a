"""Rules on when: the order of the cups, the minute, the batter's warmth, the age of a bottle or a paper."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

from blendwise.answers.rules.sentences.draft import Draft, merged
from blendwise.answers.rules.sentences.fitting.shape import (
    excepting,
    fits,
    grown,
    made,
    made_of,
    only_of_a_bound,
)
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import Token


def last(heard: Heard) -> Draft | None:
    """Oils that are scented when all other cups are."""
    if not made_of(heard, "XL", "Mvek") or heard.unless:
        return None
    token = heard.first("X")
    names = heard.meaning.names(token)
    when = {"scented": "is yes", "holds": {"none of": list(token.values)}}
    heard.meaning.counts["last"] = "order"
    return made(heard, "portion", grown(heard, when), {f"scented after {names}": "is no"})


def minute(heard: Heard) -> Draft | None:
    """The minute before or after which an oil goes in."""
    if not made_of(heard, "XRI", "NOve") or not (only_of_a_bound(heard) or heard.letters.endswith("O")):
        return None
    heard.meaning.counts["minutes"] = "from emulsion, at the cup's own scenting"
    when = excepting(heard, heard.first("X"))
    must = {"scented at": f"{heard.relation()} {heard.first('I').value}"}
    return made(heard, "dose", grown(heard, when), must)


def temperature(heard: Heard) -> Draft | None:
    """How warm the batter may be at the split: with an oil, an additive or a colour in it, or at all."""
    parts = Counter(heard.without("ckwzsUSWPVve"))
    parts -= Counter("NO")
    meant = {part.value for part in heard.all("M")} <= {"batter temperature"}
    core = parts - Counter("M")
    if fits("NXu?RH", heard) and "u" in heard.letters:  # "no lime unless below 85 °F"
        heard = replace(heard, core=tuple(part for part in heard.core if part.letter not in "Nu"))
        return temperature(heard)
    if not only_of_a_bound(heard) or heard.letters.count("N") > 1 or _forbidden_place(heard):
        return None
    if not meant or core not in (Counter("RHX"), Counter("RHD"), Counter("RHC"), Counter("RH")):
        return None
    heard.meaning.counts["temperature"] = "of the batter at the split"
    must = {"batter temperature": f"{heard.relation()} {heard.first('H').value}"}
    when, of_cup = heard.situation()
    if "X" in parts:
        return made(heard, "dose", merged(excepting(heard, heard.first("X")), when), must)
    if heard.unless:
        return None
    if "C" in parts:
        return made(heard, "portion", merged({"colourants": list(heard.first("C").values)}, when), must)
    if "D" in parts:
        if len(heard.first("D").values) > 1:
            heard.meaning.counts["with"] = "any one of these"
        when = merged(when, {"additives": list(heard.first("D").values)})
    return None if of_cup else made(heard, "batch", when, must)


def _forbidden_place(heard: Heard) -> bool:
    """Whether a "no" stands before a cup or a pour rather than before the bound: a demand of its own."""
    return re.search(r"N[UWPVS]", heard.letters) is not None and "R" in heard.letters.partition("N")[0]


def age(heard: Heard) -> Draft | None:
    """How old a bottle, or a certificate, may be."""
    if not set("gR") & set(heard.letters) or "Y" not in heard.letters:
        return None
    if made_of(heard, "MgY", "XNwve", "cksj") and heard.first("M").value == "certificate":
        return _certificate_age(heard)
    if made_of(heard, "RY", "Xv", "cks"):
        return _age_within(heard)
    if not made_of(heard, "gY", "XNyv", "cks") or {"N", "y"} <= set(heard.letters):
        return None
    within = heard.first("g").value == "within"
    if within == bool(set("Ny") & set(heard.letters)):
        return None
    heard.meaning.counts["age"] = "from the day the bottle was bought"
    when = excepting(heard, heard.first("X")) if "X" in heard.letters else {}
    return made(heard, "scent", grown(heard, when), {"bottle age": f"at most {_span(heard.first('Y'))}"})


def _age_within(heard: Heard) -> Draft | None:
    """ "lime at most 18 months": how old it may become."""
    if heard.relation() not in ("at most", "below") or not set("Xs") & set(heard.letters):
        return None
    heard.meaning.counts["age"] = "from the day the bottle was bought"
    when = excepting(heard, heard.first("X")) if "X" in heard.letters else {}
    return made(heard, "scent", grown(heard, when), {"bottle age": f"at most {_span(heard.first('Y'))}"})


def _certificate_age(heard: Heard) -> Draft | None:
    if (heard.first("g").value == "within") == ("N" in heard.letters):
        return None
    when = excepting(heard, heard.first("X")) if "X" in heard.letters else {}
    heard.meaning.counts["age"] = "from the date on the certificate"
    must = {"certificate age": f"at most {_span(heard.first('Y'))}"}
    return made(heard, "scent", grown(heard, when), must)


def _span(token: Token) -> str:
    count, unit = token.value.split()
    return f"{count} {unit}{'' if count == '1' else 's'}"

"""The shapes of sentences: each an example, and how its parts become a rule."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, merged
from blendwise.answers.rules.sentences.heard import Heard
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.answers.rules.sentences.quantities import capped

Read = Callable[[Heard], Draft | None]


@dataclass(frozen=True)
class Shape:
    """One shape: its name, an example, its letters, and its reader (None where it does not fit)."""

    name: str
    example: str
    letters: str
    read: Read

    def likeness(self, letters: str) -> float:
        """How much of another sentence's letters it shares, 0 to 1."""
        mine, theirs = Counter(self.letters), Counter(letters)
        both = sum((mine & theirs).values())
        return both / max(1, sum((mine | theirs).values()))


def _fits(pattern: str, heard: Heard, aside: str = "c") -> bool:
    return re.fullmatch(pattern, heard.without(aside)) is not None


def _grown(heard: Heard, when: Conditions) -> Conditions:
    return merged(when, heard.when)


def _draft(heard: Heard, looks_at: str, when: Conditions, must: Conditions, level: str = "conflict") -> Draft:
    return Draft(looks_at, when, must, level, "", dict(heard.meaning.counts))


def _apart(heard: Heard) -> Draft | None:
    two = _fits(r"NXwX[Tt]*|XNwX[Tt]*|NwXX|XaX|XNXT", heard, "cz")
    listed = _fits(r"X(?:N[tT]+|a)|NX[tT]+", heard, "cz") and len(heard.first("X").values) == 2
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
    return _draft(heard, "pair", _grown(heard, when), {"together": "is no"})


def _apart_in_bar(heard: Heard, one: Token, other: Token) -> Draft | None:
    """Where one is in the batch at all, there is none of the other."""
    if heard.first("z").value != "in batch":
        return None
    when = {f"grams of {heard.meaning.names(one)}": "above 0 g"}
    must = {f"grams of {heard.meaning.names(other)}": "at most 0 g"}
    return _draft(heard, "batch", _grown(heard, when), must)


def _only_with(heard: Heard) -> Draft | None:
    if not _fits(r"XO[tw]+X|NXoX|XNoX|XwXO|Xew?X", heard) or heard.unless:
        return None
    one, other = heard.all("X")
    heard.meaning.names(other)
    said = other.value if len(other.values) == 1 else list(other.values)
    if len(other.values) > 1:
        heard.meaning.counts["with"] = "any one of these"
    return _draft(heard, "dose", _grown(heard, heard.meaning.oils(one)), {"with": said})


def _place(heard: Heard, part: Token, *, negated: bool) -> Conditions | None:
    meaning = heard.meaning
    match part.letter:
        case "W":
            return meaning.colour(part, negated=negated)
        case "P":
            return meaning.place(part, negated=negated)
        case "U":
            return {"pour": {"none of": list(part.values)} if negated else list(part.values)}
        case "V":
            return {"portion": {"none of": list(part.values)} if negated else list(part.values)}
        case "S":
            months = meaning.months(part)
            return {"month": {"none of": months} if negated else months}
    return None


def _where(heard: Heard) -> Draft | None:
    only = _fits(r"XO[WPUSV]|OX[PWV]|OUw?X", heard)
    never = _fits(r"NX[WPUSV]|XN[WPUSV]|Xa[WPV]|NUw?X", heard)
    if not (only or never):
        return None
    part = next(part for part in heard.core if part.letter in "WPUSV")
    must = _place(heard, part, negated=never)
    assert must is not None
    when = _except(heard, heard.meaning.oils(heard.first("X")))
    looks_at = "scent" if part.letter == "S" and not heard.of_cup else "dose"
    return _draft(heard, looks_at, _grown(heard, when), must)


def _except(heard: Heard, when: Conditions) -> Conditions:
    """Who is meant, less who is excepted."""
    if heard.unless is None:
        return when
    ((measure, said),) = heard.meaning.oils(heard.unless).items()
    words = [said] if isinstance(said, str) else list(said)
    if measure not in ("tags", "scent", "kind"):
        raise ValueError(measure)
    return merged(when, {measure: {"none of": words}})


def _embed(heard: Heard) -> Draft | None:
    if not _fits(r"NXE|XNE", heard) or heard.unless:
        return None
    token = heard.first("X")
    ((measure, said),) = heard.meaning.oils(token).items()
    if measure not in ("scent", "tags"):
        return None
    words = [said] if isinstance(said, str) else list(said)
    return _draft(heard, "embed", dict(heard.when), {"embed holds": {"none of": words}})


def _next_to(heard: Heard) -> Draft | None:
    if not _fits(r"N[XC]n[WXC]|[XC]Nn[WXC]", heard) or heard.unless:
        return None
    first, second = (part for part in heard.core if part.letter in "XCW")
    when = merged(_side(heard, first, "one "), _side(heard, second, "other "))
    return _draft(heard, "edge", _grown(heard, when), {"touching": "is no"})


def _side(heard: Heard, part: Token, side: str) -> Conditions:
    if part.letter == "W":
        return heard.meaning.colour(part, side)
    words = part.value if len(part.values) == 1 else list(part.values)
    if part.letter == "C":
        return {f"{side}colourants": words}
    heard.meaning.names(part)
    return {f"{side}holds": words}


def _last(heard: Heard) -> Draft | None:
    if not _fits(r"M?XL", heard) or heard.unless:
        return None
    token = heard.first("X")
    names = heard.meaning.names(token)
    when = {"scented": "is yes", "holds": {"none of": list(token.values)}}
    heard.meaning.counts["last"] = "order"
    return _draft(heard, "portion", _grown(heard, when), {f"scented after {names}": "is no"})


def _minute(heard: Heard) -> Draft | None:
    if not _fits(r"XRI|RIX|NXRI", heard):
        return None
    heard.meaning.counts["minutes"] = "from emulsion, at the cup's own scenting"
    when = _except(heard, heard.meaning.oils(heard.first("X")))
    must = {"scented at": f"{heard.relation()} {heard.first('I').value}"}
    return _draft(heard, "dose", _grown(heard, when), must)


def _temperature(heard: Heard) -> Draft | None:
    """How warm the batter may be at the split: with an oil, an additive or a colour in it, or at all."""
    parts = Counter(heard.without("ckwzs"))
    parts -= Counter("NO")
    meant = {part.value for part in heard.all("M")} <= {"batter temperature"}
    if not meant or parts - Counter("M") not in (Counter("RHX"), Counter("RHD"), Counter("RH")):
        return None
    heard.meaning.counts["temperature"] = "of the batter at the split"
    must = {"batter temperature": f"{heard.relation()} {heard.first('H').value}"}
    if "X" in parts:
        when = _except(heard, heard.meaning.oils(heard.first("X")))
        return _draft(heard, "dose", _grown(heard, when), must)
    when, of_cup = heard.situation()
    if "D" in parts:
        when = merged(when, {"additives": list(heard.first("D").values)})
    return None if of_cup else _draft(heard, "batch", when, must)


def _age(heard: Heard) -> Draft | None:
    if _fits(r"(?:NX?w?|X?w?N?)MgY", heard, "cs") and heard.first("M").value == "certificate":
        return _certificate_age(heard)
    if not _fits(r"NXgY|XgYy|XNgY|XygY|yXgY|XgY", heard):
        return None
    within = heard.first("g").value == "within"
    if within == bool(set("Ny") & set(heard.letters)):
        return None
    heard.meaning.counts["age"] = "from the day the bottle was bought"
    when = _except(heard, heard.meaning.oils(heard.first("X")))
    return _draft(heard, "scent", _grown(heard, when), {"bottle age": f"at most {_span(heard.first('Y'))}"})


def _certificate_age(heard: Heard) -> Draft | None:
    if (heard.first("g").value == "within") == ("N" in heard.letters):
        return None
    when = _except(heard, heard.meaning.oils(heard.first("X"))) if "X" in heard.letters else {}
    heard.meaning.counts["age"] = "from the date on the certificate"
    must = {"certificate age": f"at most {_span(heard.first('Y'))}"}
    return _draft(heard, "scent", _grown(heard, when), must)


def _span(token: Token) -> str:
    count, unit = token.value.split()
    return f"{count} {unit}{'' if count == '1' else 's'}"


def _count(heard: Heard) -> Draft | None:
    if _fits(r"R#w?X|O#w?X|X[O R]#|XR#", heard):
        names = heard.meaning.names(heard.first("X"))
        return _counted(heard, "batch", f"portions with {names}", dict(heard.when))
    scents = _fits(r"R#[sM]|[sM]R#|#[sM]R", heard, "cTWPUSVz") and (
        "s" in heard.letters or heard.first("M").value in ("scents in portion", "scent rate")
    )
    if not scents:
        return None
    if not any(part.value == "in batch" for part in heard.all("z")):
        return _counted(heard, "portion", "scents in portion", heard.situation()[0])
    when, of_cup = heard.situation()
    return None if of_cup else _counted(heard, "batch", "scents in batch", when)


def _counted(heard: Heard, grain: str, measure: str, when: Conditions) -> Draft:
    relation = heard.first("R").value if "R" in heard.letters else "at most"
    return _draft(heard, grain, when, {measure: f"{relation} {heard.first('#').value}"}, "caution")


def _no_colour(heard: Heard) -> Draft | None:
    if not _fits(r"NC[WPUSV]*|CN[WPUSV]+", heard):
        return None
    when, _ = heard.situation()
    return _draft(heard, "portion", when, {"colourants": {"none of": list(heard.first("C").values)}})


def _scent_with_colour(heard: Heard) -> Draft | None:
    """A cup with a colourant holds none of these oils."""
    if not _fits(r"CaX|XaC|NCw?X|NXw?C|CNwX|XNw?C", heard) or heard.unless:
        return None
    token = heard.first("X")
    heard.meaning.names(token)
    when = _grown(heard, {"colourants": list(heard.first("C").values)})
    return _draft(heard, "portion", when, {"holds": {"none of": list(token.values)}})


def _no_additive(heard: Heard) -> Draft | None:
    if not _fits(r"Nw?D[US]*|DN[US]+", heard) or not (heard.when or set("US") & set(heard.letters)):
        return None
    when, of_cup = heard.situation()
    must = {"additives": {"none of": list(heard.first("D").values)}}
    return None if of_cup else _draft(heard, "batch", when, must)


def _unscented(heard: Heard) -> Draft | None:
    if not _fits(r"NM[WPUSV]+", heard) or heard.first("M").value != "scent rate":
        return None
    when, _ = heard.situation()
    return _draft(heard, "portion", when, {"scented": "is no"})


_PAPERS: Final[Conditions] = {"certificate": "is yes", "allergen sheet": ["partial", "complete"]}


def _papers(heard: Heard) -> Draft | None:
    if not _fits(r"N[Xs]?oM|[Xs]?NoM", heard) or heard.first("M").value not in _PAPERS:
        return None
    when = heard.meaning.oils(heard.first("X")) if "X" in heard.letters else {}
    paper = heard.first("M").value
    return _draft(heard, "scent", _grown(heard, when), {paper: _PAPERS[paper]})


SHAPES: Final = (
    Shape("apart", "never lime with clove-leaf", "NXwX", _apart),
    Shape("only with", "lime only with litsea", "XOwX", _only_with),
    Shape("how much", "tonka-milk at most 2 % of portion oils in white", "XRAzW", capped),
    Shape("only there", "clove-leaf only in outer portions", "XOP", _where),
    Shape("not in embeds", "no clove-leaf in embeds", "NXE", _embed),
    Shape("not beside", "benzoin never next to white", "XNnW", _next_to),
    Shape("last", "fast ones last", "XL", _last),
    Shape("minute", "fast ones not before minute 12", "XRI", _minute),
    Shape("temperature", "citrus at most 35 °C unless folded", "XRHuX", _temperature),
    Shape("age", "no lime older than 12 months", "NXgY", _age),
    Shape("count", "at most 2 cups with browners", "R#wX", _count),
    Shape("colour", "no charcoal in white", "NCW", _no_colour),
    Shape("scent with colour", "ultramarine-blue apart from citrus", "CaX", _scent_with_colour),
    Shape("additive", "no honey when gel forced", "ND", _no_additive),
    Shape("unscented", "no scent in the bottom layer", "NMP", _unscented),
    Shape("papers", "nothing for sale without a certificate", "NFoM", _papers),
)
"""Every shape, asked in this order."""

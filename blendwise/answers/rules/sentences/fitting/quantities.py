"""Sentences that say how much: of oils, a constituent, base oils, a colourant, an additive, or a measure."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from typing import Final

from blendwise.answers.rules.sentences.draft import Conditions, Draft, UnsureError, merged
from blendwise.answers.rules.sentences.heard import AMOUNTS, FITS, Heard
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.facts.measures.members import listed
from blendwise.facts.tables import vocabulary
from blendwise.science.constituents import known

PORTION, BATCH, BAR, SCENT = "of portion oils", "of batch oils", "of finished bar", "of its scent"
BATTER: Final = "of batter"
ANSWERED: Final = {
    "portion oils": PORTION,
    "batch oils": BATCH,
    "finished bar": BAR,
    "scent in the cup": SCENT,
}
MEANT: Final = {
    PORTION: "of the oils of each cup",
    BATCH: "of all oils of the batch",
    BAR: "of the bar as limits see it, dried",
    SCENT: "of all scent in the cup",
}
"""Basis → what a rate is then of, in words."""
WHOLE: Final = "whole batch"
UNSURE: Final = (WHOLE, "in batch", "in bar", "of oils")
"""Words that leave open what a rate of scent is of: "in one bar", "of the oils"."""
LEVEL: Final = "caution"


def capped(heard: Heard) -> Draft | None:
    """A relation, an amount, and of what; cups, pours and months beside them are conditions."""
    if heard.unless:
        return None
    heard, held = _holding(heard)
    letters = heard.without("WPUSVTtczEekvjwO" if _only_so_much(heard) else "WPUSVTtczEekvj")
    what = next((each for each in "XQBCDM" if each in letters), "")
    amount = next((each for each in AMOUNTS if each in letters), "")
    forbids = "N" if "N" in letters else ""
    if what == "Q" and not amount:
        return _none_of_it(heard)
    if amount and "h" in letters:  # both together, or each
        raise UnsureError(("together", "each"))
    if amount and what and Counter(letters) == Counter(f"{amount}{what}"):
        said = heard.first(amount).value
        raise UnsureError((f"at most {said}", f"at least {said}"))
    if not amount or Counter(letters) != Counter(f"{forbids}R{amount}{what}"):
        return None
    relation, said = heard.relation(), heard.first(amount).value
    if (what, amount) == ("X", "A") and _basis(heard)[0] == BAR:
        return _of_the_bar(heard, f"{relation} {_based(said, BAR)}", held)
    if "j" in heard.letters:
        single = what == "X" or (what == "M" and heard.first("M").value == "scent rate")
        return _each(heard, f"{relation} {said}") if single and amount == "A" and not held else None
    measured = _measured(heard, what, amount)
    if measured is None:
        return None
    measure, basis, asks = measured
    return _bounded(heard, measure, f"{relation} {_based(said, basis)}", asks, held)


def _bounded(heard: Heard, measure: str, text: str, asks: str, held: Conditions) -> Draft | None:
    when, of_cup = heard.situation()
    when, of_cup = merged(when, held), of_cup or bool(held)
    grain = vocabulary()[measure].grain
    if of_cup and grain == "batch":
        return None
    if measure == "scent rate" and text.startswith(("at least", "above", "between")):
        when = merged(when, {"scented": "is yes"})
    return Draft(grain, when, {measure: text}, LEVEL, "", dict(heard.meaning.counts), asks)


def _each(heard: Heard, text: str) -> Draft | None:
    """ "lime and litsea each at most 1 %": a bound on every oil by itself."""
    basis, asks = _basis(heard)
    if basis != PORTION:
        return None
    heard.meaning.counts["each"] = "each of these oils by itself"
    who = heard.meaning.oils(heard.first("X")) if "X" in heard.letters else {}
    when = merged(who, heard.situation()[0])
    return Draft("dose", when, {"dose": _based(text, PORTION)}, LEVEL, "", dict(heard.meaning.counts), asks)


def _of_the_bar(heard: Heard, text: str, held: Conditions) -> Draft | None:
    """ "clove-leaf at most 0.5 % of the bar": an oil's share of what is cut, each oil by itself."""
    token = heard.first("X")
    when, of_cup = heard.situation()
    rows = [known(value) for value in token.values]
    also_within = any(
        row is not None and row.kind != "whole oil" for row in rows
    )  # linalool is in others too
    if of_cup or held or also_within or not text.startswith(("at most", "below")):
        return None
    if len(token.values) > 1 or token.values[0] not in heard.meaning.book.scents:
        heard.meaning.counts["each"] = "each of these oils by itself"
    when = merged(heard.meaning.oils(token), when)
    return Draft("scent", when, {"share in bar": text}, LEVEL, "", dict(heard.meaning.counts), "")


def _based(said: str, basis: str) -> str:
    """An amount, or both ends of a span, with what it is of."""
    ends = (f"{end} {basis}" if basis and end.endswith("%") else end for end in said.split(" and "))
    return " and ".join(ends)


def _only_so_much(heard: Heard) -> bool:
    """Whether an "only" stands before the bound: "a column only with at least 12 minutes"."""
    return re.search(r"Ow?R|^OUw?R|UOw?R", heard.letters) is not None and heard.letters.count("O") == 1


def _holding(heard: Heard) -> tuple[Heard, Conditions]:
    """ "cedar at least a fifth of any blend with lime": cups that hold an oil, set apart as a condition."""
    found = re.search(r"(?:k[TczwWPV]*|(?<=[zTc])w)[XC](?!N?R)[wn]?", heard.letters)
    about = heard.letters.count("X") + len(set("QM") & set(heard.letters)) + heard.letters.count("C")
    if found is None or about < 2:
        return heard, {}
    held = next(part for part in heard.core[found.start() : found.end()] if part.letter in "XC")
    if held.letter == "X":
        heard.meaning.names(held)
    kept = [*heard.core[: found.start()], *heard.core[found.end() :]]
    line = {"holds": list(held.values)} if held.letter == "X" else heard.meaning.colourants(held)
    return replace(heard, core=tuple(kept)), line


def _none_of_it(heard: Heard) -> Draft | None:
    """ "no vanillin in white": none of a substance in cups, or in bars."""
    if (
        not re.fullmatch(r"N[kw]?Qw?[WPV]*c?|Qw?N[WPV]+c?|[WPV]+w?NQ", heard.letters)
        or not heard.situation()[0]
    ):
        return None
    of_cup = heard.situation()[1]
    token = heard.first("Q")
    where, basis = ("portion", PORTION) if of_cup else ("bar", BAR)
    return _bounded(heard, f"{token.value} in {where}", f"at most 0 % {basis}", "", {})


Measured = tuple[str, str, str]


def _measured(heard: Heard, what: str, amount: str) -> Measured | None:
    """(measure, basis as written, what is asked) of an amount; None where they do not go together."""
    if not what:
        return _of_batter(heard, amount)
    token = heard.first(what)
    match what, amount:
        case "X", "A":
            return _of_oils(heard, token)
        case "X", "J":
            return f"grams of {heard.meaning.names(token)}", "", ""
        case "Q", "A":
            return _of_constituent(heard, token)
        case (("B" | "D" | "C"), "A"):
            return _of_stock(heard, what, token)
        case "M", _:
            return _of_measure(heard, token, amount)
    return None


def _of_batter(heard: Heard, amount: str) -> Measured | None:
    """How much of the batter a cup is, or what it weighs."""
    if amount == "J" and re.match(r"(?:[WPV]?c|V|T|Nc)N?e?R|N?RJT", heard.letters):
        return "portion mass", "", ""
    of_batter = [part.value for part in heard.all("z")] == [BATTER]
    of_cup = heard.of_cup or set("WPVTc") & set(heard.letters)
    return ("share", "", "") if amount == "A" and of_batter and of_cup else None


_STOCK: Final = {
    "B": ("oil share of", BATCH, ""),
    "D": ("additive rate of", BATCH, BATCH),
    "C": ("colour rate of", PORTION, PORTION),
}
"""Base oils, additives and colourants: the measure, the one basis that it has, and the basis as written."""


def _of_stock(heard: Heard, what: str, token: Token) -> Measured | None:
    measure, only, written = _STOCK[what]
    if any(part.value not in (only, *UNSURE) for part in heard.all("z")):
        return None
    heard.meaning.counts["per cent"] = "of all base oils" if what == "B" else MEANT[only]
    return f"{measure} {listed(token.values)}", written, ""


def _basis(heard: Heard) -> tuple[str, str]:
    """What the rate is of, and whether that has to be asked."""
    known_of = [BATCH if part.value == WHOLE else part.value for part in heard.all("z")]
    said = next((value for value in known_of if value not in UNSURE), "")
    found = said or ANSWERED.get(heard.basis, "")
    heard.meaning.counts["per cent"] = MEANT.get(found, "")
    return found or PORTION, "" if found else "basis"


def _of_oils(heard: Heard, token: Token) -> Measured | None:
    basis, asks = _basis(heard)
    names = heard.meaning.names(token)
    if len(token.values) > 1 or token.values[0] not in heard.meaning.book.scents:
        heard.meaning.counts["together"] = "all of these oils, summed"
    measures = {
        PORTION: f"dose of {names}",
        BATCH: f"batch dose of {names}",
        SCENT: f"share of {names}",
    }
    of_all = {part.value for part in heard.all("z")} & {WHOLE, "in batch", "in bar"}
    if basis not in measures or (basis == SCENT and of_all):  # all scent of a batch is not that of each cup
        return None
    return measures[basis], "" if basis == SCENT else basis, asks


def _of_constituent(heard: Heard, token: Token) -> Measured | None:
    basis, asks = _basis(heard)
    where = {PORTION: "portion", BAR: "bar"}.get(basis)
    return None if where is None else (f"{token.value} in {where}", basis, asks)


def _of_measure(heard: Heard, token: Token, amount: str) -> Measured | None:
    word = vocabulary()[token.value]
    if word.dimension != FITS.get(amount):
        return None
    if token.value == "scent rate":
        basis, asks = _basis(heard)
        measure = {PORTION: "scent rate", BATCH: "scent of batch oils"}.get(basis)
        return None if measure is None else (measure, basis, asks)
    if " of " in word.unit:  # what a per cent is of
        heard.meaning.counts[token.value] = word.unit
    return token.value, word.basis, ""

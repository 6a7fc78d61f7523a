"""Sentences that say how much: of oils, a constituent, base oils, a colourant, an additive, or a measure."""

from __future__ import annotations

from collections import Counter
from typing import Final

from blendwise.answers.rules.sentences.draft import Draft, merged
from blendwise.answers.rules.sentences.heard import AMOUNTS, Heard
from blendwise.answers.rules.sentences.lexicon import Token
from blendwise.facts.measures.members import listed
from blendwise.facts.tables import vocabulary

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
UNSURE: Final = ("in batch", "of oils")
"""Words that leave open what a rate of scent is of: "in one bar", "of the oils"."""
LEVEL: Final = "caution"


def capped(heard: Heard) -> Draft | None:
    """A relation, an amount, and of what; cups, pours and months beside them are conditions."""
    letters = heard.without("WPUSVTtczEek")
    what = next((each for each in "XQBCDM" if each in letters), "")
    amount = next((each for each in AMOUNTS if each in letters), "")
    forbids = "N" if "N" in letters else ""
    if not amount or Counter(letters) != Counter(f"{forbids}R{amount}{what}") or heard.unless:
        return None
    relation, said = heard.relation(), heard.first(amount).value
    measured = _measured(heard, what, amount)
    if measured is None:
        return None
    measure, basis, asks = measured
    when, of_cup = heard.situation()
    grain = vocabulary()[measure].grain
    if of_cup and grain == "batch":
        return None
    if measure == "scent rate" and relation in ("at least", "above"):
        when = merged(when, {"scented": "is yes"})
    text = f"{relation} {said}{f' {basis}' if basis and said.endswith('%') else ''}"
    return Draft(grain, when, {measure: text}, LEVEL, "", dict(heard.meaning.counts), asks)


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
    """How much of the batter a cup is."""
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
    said = next((part.value for part in heard.all("z") if part.value not in UNSURE), "")
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
    if basis not in measures:
        return None
    return measures[basis], "" if basis == SCENT else basis, asks


def _of_constituent(heard: Heard, token: Token) -> Measured | None:
    basis, asks = _basis(heard)
    where = {PORTION: "portion", BAR: "bar"}.get(basis)
    return None if where is None else (f"{token.value} in {where}", basis, asks)


_FITS: Final = {"A": "FRACTION", "H": "TEMPERATURE", "J": "MASS", "I": "TIME", "#": "NUMBER"}


def _of_measure(heard: Heard, token: Token, amount: str) -> Measured | None:
    word = vocabulary()[token.value]
    if word.dimension != _FITS.get(amount):
        return None
    if token.value == "scent rate":
        basis, asks = _basis(heard)
        measure = {PORTION: "scent rate", BATCH: "scent of batch oils"}.get(basis)
        return None if measure is None else (measure, basis, asks)
    if word.unit:
        heard.meaning.counts[token.value] = word.unit
    return token.value, word.basis, ""

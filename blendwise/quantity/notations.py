"""Amounts of a shape of their own: shares, insides of moulds, prices, water to lye."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final, Literal

from blendwise.quantity.amount import Amount, Basis, Dimension, Price, QuantityError
from blendwise.quantity.parse import DIGITS, parse_amount, tidy
from blendwise.quantity.units import GRAMS_PER_POUND, ML_PER_TEASPOON

THE_REST: Final = "the rest"


_PER_GRAM = re.compile(r"\s*mg\s*(?:KOH)?\s*(?:/|per)\s*g$", re.IGNORECASE)


def parse_share(text: str) -> Amount | Literal["the rest"]:
    """A portion's share: a percentage, parts (a bare number too), a mass, or "the rest"."""
    if text.strip().lower() in (THE_REST, "rest"):
        return "the rest"
    return parse_amount(
        text,
        Dimension.FRACTION,
        Dimension.PARTS,
        Dimension.MASS,
        default_basis=Basis.WHOLE,
        ranges=False,
    )


def parse_inside(text: str) -> tuple[float, float, float]:
    """Length, width and height in cm: ``25 x 9 x 6.5 cm``, ``10 in x 3.5 in x 2.5 in``."""
    plain = tidy(text.strip()).lower()
    terms = [part.strip() for part in plain.split("x")]
    if len(terms) != 3:
        raise QuantityError(
            f'"{text}" does not give length, width and height.', 'Write it like "25 x 9 x 6.5 cm".'
        )
    unit = terms[2].lstrip("+-.0123456789/ ") or None
    sizes = [parse_amount(t, Dimension.LENGTH, default_unit=unit, ranges=False).high for t in terms]
    if min(sizes) <= 0:
        raise QuantityError(f'"{text}" has a side of no length.', 'Write it like "25 x 9 x 6.5 cm".')
    return sizes[0], sizes[1], sizes[2]


_SPOONS_A_POUND: Final = re.compile(
    rf"(?P<number>{DIGITS})\s*(?P<spoon>tsp|tbsp|teaspoons?|tablespoons?)\.?\s*"
    r"(?:ppo|per (?:lb|pound)(?: of oils)?)(?: of (?P<of>portion|batch) oils| of oils)?",
    re.ASCII | re.IGNORECASE,
)
MOST_SPOONS: Final = 12.0
"""Teaspoons of colour to a pound of oils beyond which it is no colour but a filling (our own guard)."""


def parse_colour_dose(text: str, bases: Collection[Basis]) -> Amount:
    """A rate, a mass, spoons, or spoons to a pound of oils, which are mL per g (of the portion's oils)."""
    found = _SPOONS_A_POUND.fullmatch(tidy(text.strip()))
    if found is None:
        kinds = (Dimension.FRACTION, Dimension.MASS, Dimension.VOLUME)
        return parse_amount(text, *kinds, bases=bases, ranges=False)
    spoons = parse_amount(f"{found['number']} {found['spoon']}", Dimension.VOLUME, ranges=False).value
    if spoons > MOST_SPOONS * ML_PER_TEASPOON:
        raise QuantityError(f'"{text}" is no plausible dose of colour.', "It is 1/8 to 3 tsp ppo.")
    basis = Basis.BATCH_OILS if (found["of"] or "").casefold() == "batch" else Basis.PORTION_OILS
    rate = spoons / GRAMS_PER_POUND
    return Amount(rate, rate, Dimension.VOLUME, basis, text.strip())


_PRICE: Final = re.compile(
    r"(?P<before>[^\d\s.,+-]{1,4})?\s*(?P<price>\d{1,9}(?:\.\d{1,6})?|\.\d{1,6})\s*(?P<after>[^\d\s]{1,4})?\s*"
    r"(?:per|for|/)\s*(?P<mass>.+)",
    re.ASCII,
)


def parse_price(text: str) -> Price:
    """A price for a mass, ``14.50 per 100 g`` or ``€14.50 per oz``; the currency word is optional."""
    plain = tidy(text.strip())
    match = _PRICE.fullmatch(plain)
    if match is None:
        raise QuantityError(f'"{text}" is not a price for a mass.', 'Write it like "14.50 per 100 g".')
    mass = match["mass"] if match["mass"][0].isdigit() else f"1 {match['mass']}"
    grams = parse_amount(mass, Dimension.MASS, ranges=False).high
    if grams <= 0:
        raise QuantityError(f'"{text}" is a price for no mass at all.', 'Write it like "14.50 per 100 g".')
    return Price(
        float(match["price"]) / grams, text.strip(), (match["before"] or match["after"] or "").strip()
    )


def parse_saponification(text: str) -> Amount:
    """mg KOH per g, with or without its unit: ``184 to 196``, ``190 mg KOH/g``."""
    plain = _PER_GRAM.sub("", text.strip())
    found = parse_amount(plain, Dimension.NUMBER)
    return Amount(found.low, found.high, Dimension.NUMBER, None, text.strip())


def parse_ratio(text: str) -> Amount:
    """Water to lye as a number: ``2.33``, ``2.33 : 1`` or ``2.33 to 1``."""
    plain = re.sub(r"\s*(?::|to)\s*1$", "", text.strip())
    found = parse_amount(plain, Dimension.NUMBER, ranges=False)
    return Amount(found.low, found.high, Dimension.NUMBER, None, text.strip())

"""A plan at the size that a question names: bars, oils, a mould's sides, one side of it, so many times."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blendwise.answers.ask.doses.named import SO_MANY, TIMES
from blendwise.answers.ask.result import Filled, Resized
from blendwise.quantity import Dimension, QuantityError, Units, format_number, parse_amount
from blendwise.quantity.units import GRAMS_PER_OUNCE
from blendwise.records.as_of import AsOf

if TYPE_CHECKING:
    from blendwise.answers.ask.door import Door
    from blendwise.records.kinds.plan import Plan

Option = tuple[str, str]
"""The option of ``assign`` that says a size, and its value."""
BARS: Final = re.compile(r"(\d{1,4})\s*bars?", re.IGNORECASE)
SIDES: Final = re.compile(r"\d\s*(?:x|×|by)\s*\d", re.IGNORECASE)
BY, INCHES = re.compile(r"\s*(?:×|\bby\b)\s*", re.I), re.compile(r"\s*(?:inch(?:es)?\b|[\"”])", re.I)
"""What is said between the sides of a mould, and of its unit, in a sentence."""
SIDE: Final = re.compile(r"(\d+(?:[.,]\d+)?)\s*-?\s*(in\b|inch(?:es)?\b|\"|cm\b)", re.IGNORECASE)
IN_PLACE_OF: Final = re.compile(
    r"(?:instead of|not|rather than|from)\s+(?:my\s+|the\s+|a\s+)?(\d+(?:[.,]\d+)?)", re.IGNORECASE
)
SO_MANY_TIMES: Final = re.compile(
    rf"\b(\d+(?:[.,]\d+)?|{'|'.join(SO_MANY)})\s*(?:times|x)(?!\s*\d)", re.IGNORECASE
)
CM_PER_INCH: Final = 2.54


def size_named(book: Door, plan: str | Path, amounts: Sequence[str], asked: str, on: AsOf) -> Option | None:
    """The size that a question names; None where it names none, or the plan's own."""
    for amount in amounts:
        if bars := BARS.fullmatch(amount.strip()):
            return "--bars", bars[1]
        if SIDES.search(amount):
            return "--mould", _with_unit(BY.sub(" x ", INCHES.sub(" in", amount)), book.files.usual.units)
        if _is_mass(amount):
            return "--oils", amount
    side = _with_side(book, plan, asked)
    if side is not None:
        return "--mould", side
    times = times_named(asked)
    if times is None:
        return None
    return "--oils", quantity(times * book.situation(plan, on).pot.oils_total, book.files.usual.units)


def _with_unit(sides: str, units: Units) -> str:
    """A mould's sides with the unit of the book, where none is said."""
    if re.search(r"[a-z]\s*$", sides, re.IGNORECASE):
        return sides
    return f"{sides} {'in' if units.mass == 'oz' else 'cm'}"


def sizes_in(amounts: Sequence[str]) -> tuple[str, ...]:
    """The amounts that name a size, or what is to be replaced by one."""
    return tuple(
        each
        for each in amounts
        if BARS.fullmatch(each.strip()) or SIDES.search(each) or SIDE.search(each) or _is_mass(each)
    )


def times_named(asked: str) -> float | None:
    """How many times as big a question wants it."""
    if many := SO_MANY_TIMES.search(asked):
        return SO_MANY.get(many[1].casefold()) or float(many[1].replace(",", "."))
    said = re.findall(r"[a-z]+", asked.casefold())
    return next((TIMES[word] for word in said if word in TIMES), None)


def _with_side(book: Door, plan: str | Path, asked: str) -> str | None:
    """The plan's mould with one side changed: the one that it is said to replace, else the longest."""
    found = SIDE.search(asked)
    recipe = book.plan(plan).recipe or book.files.usual.recipe
    amount = recipe.amount if recipe else None
    if found is None or amount is None or amount.inside is None:
        return None
    unit = "cm" if found[2].casefold() == "cm" else "in"
    sides = [side if unit == "cm" else side / CM_PER_INCH for side in amount.inside]
    old = IN_PLACE_OF.search(asked)
    was = float(old[1].replace(",", ".")) if old else max(sides)
    at = min(range(len(sides)), key=lambda each: abs(sides[each] - was))
    sides[at] = float(found[1].replace(",", "."))
    return f"{' x '.join(format_number(round(side, 3)) for side in sides)} {unit}"


def at_size(book: Door, plan: str | Path, option: Option, on: AsOf) -> Plan:
    """The plan written for a size; RecordError or QuantityError where it cannot be."""
    from blendwise.answers.plan_text.scaling import scaled_plan
    from blendwise.records.book import plan_of

    name, value = option
    bars = int(value) if name == "--bars" else None
    s = book.situation(plan, on)
    doc = scaled_plan(s, bars, value if name == "--oils" else "", value if name == "--mould" else "")
    return plan_of(doc, book.files)


def resized(book: Door, plan: str | Path, bigger: Plan, on: AsOf) -> Resized:
    """What the plan comes to at another size, and which bottles are too small for it."""
    was, now = book.situation(plan, on), book.situation(bigger, on)
    times = now.pot.oils_total / was.pot.oils_total
    used = dict(zip(now.scents, (float(each) for each in now.x.sum(axis=1)), strict=True))
    hand = {name: each.on_hand.value for name, each in book.files.scents.items() if each.on_hand}
    short = {name: (mass, hand[name]) for name, mass in used.items() if name in hand and mass > hand[name]}
    return Resized(times, now.pot.oils_total, now.pot.weighed, now.pot.water, short)


def filled_mould(book: Door, plan: str | Path | Plan, on: AsOf, own: bool) -> Filled:
    """The lye of a plan and the volume of its mould, None where its oils are weighed for no mould."""
    from blendwise.facts.situation.filling import mould_volume

    recipe = book.plan(plan).recipe or book.files.usual.recipe
    amount = recipe.amount if recipe else None
    stated = amount is not None and (amount.inside is not None or amount.volume is not None)
    volume = mould_volume(amount) if amount is not None and stated else None
    full = amount.fill.value if amount is not None and amount.fill is not None else 1.0
    return Filled(book.situation(plan, on).pot.weighed, volume, full, own)


def quantity(grams: float, units: Units) -> str:
    """A mass as a maker would type it, in the book's own unit."""
    if units.mass == "oz":
        return f"{format_number(round(grams / GRAMS_PER_OUNCE, 1))} oz"
    return f"{format_number(round(grams))} g"


def _is_mass(text: str) -> bool:
    try:
        return "ppo" not in text.casefold() and parse_amount(text, Dimension.MASS).value > 0
    except QuantityError:
        return False

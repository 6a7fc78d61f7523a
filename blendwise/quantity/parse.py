"""Amounts as a maker writes them → ``Amount``: ``7.5 oz``, ``5 to 7 %``, ``4 % of portion oils``."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import Final

from blendwise.quantity.amount import Amount, Basis, Dimension, QuantityError
from blendwise.quantity.units import BOUNDS, OUNCES_PER_POUND, UNITS, celsius

LONGEST: Final = 80
NO_BASES: Final[frozenset[Basis]] = frozenset()

VULGAR: Final = {
    **{"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8"},
    **{"⅞": "7/8", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6"},
}
_TIDY: Final = str.maketrans(
    {"\u00a0": " ", "\u202f": " ", "\u2009": " ", "−": "-", "–": "-", "—": "-", "×": "x", "⁄": "/"}
)
DIGITS: Final = r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)"
"""A number as it may be written, without a sign."""
_NUMBER: Final = rf"[+-]?{DIGITS}"
_TERM: Final = re.compile(rf"({_NUMBER})\s*(.*)", re.ASCII)
_RANGE: Final = re.compile(rf"({_NUMBER})\s*([^\d]*?)\s*(?:\bto\b|-)\s*({_NUMBER})\s*(.*)", re.ASCII)
COMPOUND: Final = re.compile(
    r"(\d+)\s*(lbs?|pounds?|kg|kilos?|kilograms?|h|hrs?|hours?)\.?\s*(?:and )?"
    r"(\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?|\.\d+)\s*(oz|ounces?|g|grams?|mins?|minutes?)\.?",
    re.ASCII | re.IGNORECASE,
)
"""An amount in two units, the larger first: ``1 lb 2 oz``, ``2 kg 300 g``, ``1 h 30 min``."""
_COMMA: Final = re.compile(r"(\d*),(\d+)", re.ASCII)
_DASHED: Final = re.compile(r"(?<![\d/.,])([1-9]\d*)-(?=(\d+)/(\d+))", re.ASCII)
"""A whole and a fraction with a dash between, ``1-1/2``: read downwards it would be no range."""
_EXPONENT: Final = re.compile(r"\d\s*[eE][+-]?\d", re.ASCII)
_PER: Final = re.compile(r"oz(?: ppo| per lb| per pound)|g per (?:kg|100 g)", re.ASCII)
_PER_FACTOR: Final = {"oz": 1 / OUNCES_PER_POUND, "g per kg": 0.001, "g per 100 g": 0.01}
_KINDS: Final = {
    Basis.OILS: (Basis.PORTION_OILS, Basis.BATCH_OILS),
    Basis.BATTER: (Basis.PORTION_BATTER, Basis.BATCH_BATTER),
}
_SYNONYMS: Final = {
    "of bar": Basis.FINISHED_BAR,
    "of scent": Basis.SCENT,
    "of embed": Basis.WHOLE,
    "of blend": Basis.WHOLE,
    "of lye": Basis.WHOLE,
}
_ORDER: Final = (Basis.PORTION_OILS, Basis.BATCH_OILS, Basis.PORTION_BATTER, Basis.BATCH_BATTER, *Basis)


def parse_amount(
    text: str,
    *allowed: Dimension,
    bases: Collection[Basis] = NO_BASES,
    default_basis: Basis | None = None,
    default_unit: str | None = None,
    open_above: bool = False,
    ranges: bool = True,
) -> Amount:
    """Read one amount or range; the result is in canonical units.

    ``allowed``: the dimensions that may stand here.  ``bases``: what a rate may be of; ``default_basis`` is
    taken where none is written.  ``default_unit`` is the unit of a bare number where neither PARTS nor NUMBER
    is allowed.  ``open_above``: "above 93 °C" may stand here.  Raises QuantityError with a remedy.
    """
    shown = text.strip()
    plain = tidy(shown)
    rates = frozenset(bases) | ({default_basis} if default_basis is not None else frozenset())
    reader = _Reader(shown, allowed, rates, default_basis, default_unit)
    for word in ("above ", "over ", "more than ", ">"):
        if plain.startswith(word) and (open_above or word == ">"):
            return reader.open_end(plain[len(word) :].strip(), open_above)
    if plain.startswith("up to ") and ranges:
        top = reader.single(plain[6:])
        return Amount(0.0, top.high, top.dimension, top.basis, shown)
    ends = _RANGE.fullmatch(plain)
    two = tuple(plain.split(" to ")) if COMPOUND.search(plain) else ()
    if (ends or len(two) == 2) and not ranges:
        raise QuantityError(
            f'A single amount must stand here, not the range "{shown}".', "Write one of its ends."
        )
    if len(two) == 2:
        return reader.between(two[0], two[1])
    return reader.span(*ends.groups()) if ends else reader.single(plain)


def tidy(text: str) -> str:
    """The text in one spelling: plain blanks, dashes and fractions; slips that would mislead are refused."""
    if not text:
        raise QuantityError("An amount is missing here.", "Write a number with its unit, such as 30 g.")
    if len(text) > LONGEST:
        raise QuantityError(
            f"An amount of {len(text)} characters cannot be right.", "Write a number and a unit."
        )
    if not text.isascii():
        for sign, words in VULGAR.items():
            text = text.replace(sign, f" {words}")
        text = text.translate(_TIDY)
    plain = " ".join(text.split())
    if "/" in plain and "-" in plain:
        plain = _DASHED.sub(lambda at: f"{at[1]} " if int(at[2]) < int(at[3]) else at[0], plain)
    _refuse_comma(plain)
    if _EXPONENT.search(plain):
        raise QuantityError(f'"{plain}" is written with an exponent.', "Write the number out.")
    return plain


def _refuse_comma(plain: str) -> None:
    match = _COMMA.search(plain)
    if match is None:
        return
    whole, part = match.groups()
    point = plain.replace(match.group(), f"{whole or 0}.{part}")
    if len(part) == 3 and whole not in ("", "0"):
        joined = plain.replace(match.group(), whole + part)
        raise QuantityError(
            f'"{plain}" has a comma.', f"Write {joined} if thousands are meant, else {point}."
        )
    raise QuantityError(f'"{plain}" has a decimal comma.', f"Write {point}.")


class _Reader:
    """What may stand at one place, and the reading of the parts of an amount there."""

    __slots__ = ("allowed", "bases", "default_basis", "default_unit", "shown")

    def __init__(
        self,
        shown: str,
        allowed: tuple[Dimension, ...],
        bases: frozenset[Basis],
        default_basis: Basis | None,
        default_unit: str | None,
    ) -> None:
        self.shown = shown
        self.allowed = allowed
        self.bases = bases
        self.default_basis = default_basis
        self.default_unit = default_unit

    def single(self, plain: str) -> Amount:
        both = COMPOUND.fullmatch(plain)
        if both is not None:
            dimension, number = self._compound(*both.groups())
            return Amount(number, number, dimension, None, self.shown)
        match = _TERM.fullmatch(plain)
        if match is None:
            raise QuantityError(f'"{self.shown}" is not an amount.', self._expected())
        dimension, number, basis = self._measure(match.group(1), match.group(2))
        return Amount(number, number, dimension, basis, self.shown)

    def span(self, low: str, unit: str, high: str, tail: str) -> Amount:
        dimension, top, basis = self._measure(high, tail)
        if unit.strip() and not tail.lower().startswith(unit.strip().lower()):
            first, bottom, _ = self._measure(low, unit + tail[len(tail.split(" of ")[0]) :])
            if first is not dimension:
                raise QuantityError(f'"{self.shown}" has two kinds of unit.', "Write both ends in one unit.")
        else:
            _, bottom, _ = self._measure(low, tail)
        if bottom > top:
            raise QuantityError(f'"{self.shown}" runs backwards.', "Write the lower number first.")
        return Amount(bottom, top, dimension, basis, self.shown)

    def between(self, low: str, high: str) -> Amount:
        """A range of which an end is in two units; each end says its own."""
        one, other = self.single(low.strip()), self.single(high.strip())
        if one.dimension is not other.dimension:
            raise QuantityError(f'"{self.shown}" has two kinds of unit.', "Write both ends in one unit.")
        if one.high > other.high:
            raise QuantityError(f'"{self.shown}" runs backwards.', "Write the lower number first.")
        return Amount(one.low, other.high, one.dimension, one.basis, self.shown)

    def _compound(self, many: str, large: str, digits: str, small: str) -> tuple[Dimension, float]:
        """``1 lb 2 oz``: counted in the smaller unit, of which there must be less than one of the larger."""
        (dimension, big, _), (other, little, _) = self._unit(large.lower()), self._unit(small.lower())
        each = round(big / little)
        if dimension is not other or each not in (OUNCES_PER_POUND, 1000, 60):
            raise QuantityError(f'"{self.shown}" mixes units that do not go together.', self._expected())
        if dimension not in self.allowed:
            raise QuantityError(f'"{self.shown}" is a {dimension.value}.', self._expected())
        part = _number(digits, self.shown)
        if part >= each:
            raise QuantityError(
                f'"{self.shown}" has {digits} {small} beside {many} {large}.',
                f"Look for a slip of the pen: {each} {small} are one {large}.",
            )
        value = _canonical(_number(many, self.shown) * each + part, little)
        self._bounded(value, dimension)
        return dimension, value

    def open_end(self, rest: str, permitted: bool) -> Amount:
        if not permitted:
            raise QuantityError(f'"{self.shown}" has no upper end.', "Write a number or a range.")
        found = self.single(rest)
        return Amount(found.low, float("inf"), found.dimension, found.basis, self.shown)

    def _measure(self, digits: str, tail: str) -> tuple[Dimension, float, Basis | None]:
        unit, phrase = _split_tail(tail.strip())
        number = _number(digits, self.shown)
        dimension, factor, basis = self._unit(unit)
        if phrase is not None and dimension is not Dimension.FRACTION:
            raise QuantityError(f'"{self.shown}" says "{phrase}", which only a rate can.', self._expected())
        if dimension not in self.allowed:
            raise QuantityError(f'"{self.shown}" is a {dimension.value}.', self._expected())
        if dimension is Dimension.FRACTION:
            basis = self._basis(phrase, basis)
        value = _canonical(number, factor)
        self._bounded(value, dimension)
        return dimension, value, basis

    def _unit(self, unit: str) -> tuple[Dimension, float, Basis | None]:
        if not unit:
            return self._bare()
        per = _PER.fullmatch(unit)
        if per is not None:
            return Dimension.FRACTION, _PER_FACTOR["oz" if unit.startswith("oz") else unit], Basis.OILS
        found = UNITS.get(unit)
        if found is None:
            raise QuantityError(
                f'"{unit}" in "{self.shown}" is not a unit that is known here.', self._expected()
            )
        return *found, None

    def _bare(self) -> tuple[Dimension, float, Basis | None]:
        for dimension in (Dimension.NUMBER, Dimension.PARTS):
            if dimension in self.allowed:
                return dimension, 1.0, None
        if self.default_unit is None:
            raise QuantityError(f'"{self.shown}" has no unit.', self._expected())
        return self._unit(self.default_unit.lower())

    def _basis(self, phrase: str | None, implied: Basis | None) -> Basis:
        written = implied if phrase is None else _basis_of(phrase)
        if written is None and phrase is not None:
            raise QuantityError(
                f'"{phrase}" in "{self.shown}" is not something a rate can be of.', self._expected()
            )
        if written is None:
            return self._unsaid()
        if written in self.bases:
            return written
        candidates = [basis for basis in _KINDS.get(written, ()) if basis in self.bases]
        if len(candidates) == 1:
            return candidates[0]
        if candidates:
            raise QuantityError(
                f'"{self.shown}" does not say which oils or batter.', self._choice(candidates)
            )
        raise QuantityError(f'A rate "{written.value}" cannot stand here.', self._expected())

    def _unsaid(self) -> Basis:
        if self.default_basis is not None:
            return self.default_basis
        if len(self.bases) == 1:
            return next(iter(self.bases))
        raise QuantityError(f'"{self.shown}" does not say of what.', self._choice(self.bases))

    def _choice(self, bases: Collection[Basis]) -> str:
        rate = self.shown.split(" of ")[0]
        ordered = [basis for basis in dict.fromkeys(_ORDER) if basis in bases]
        return "Write " + " or ".join(f'"{rate} {basis.value}"' for basis in ordered) + "."

    def _bounded(self, value: float, dimension: Dimension) -> None:
        low, high = BOUNDS[dimension]
        if value < low:
            what = "is below anything possible" if dimension is Dimension.TEMPERATURE else "is negative"
            raise QuantityError(f'"{self.shown}" {what}.', "Look for a slip of the pen: a sign or a unit.")
        if value > high * (1 + 1e-12):
            limit = "more than 100 %" if dimension is Dimension.FRACTION else f"an absurd {dimension.value}"
            raise QuantityError(
                f'"{self.shown}" is {limit}.', "Look for a slip of the pen: a point or a unit."
            )

    def _expected(self) -> str:
        words = [_EXAMPLES[dimension] for dimension in self.allowed if dimension is not Dimension.FRACTION]
        if Dimension.FRACTION in self.allowed:
            ordered = [basis for basis in dict.fromkeys(_ORDER) if basis in self.bases]
            words += [f"4 % {basis.value}".strip() for basis in ordered[:3]]
        return "Write it like " + " or ".join(f'"{word}"' for word in words) + "."


_EXAMPLES: Final = {
    Dimension.MASS: "30 g",
    Dimension.VOLUME: "1 tsp",
    Dimension.LENGTH: "25 cm",
    Dimension.TEMPERATURE: "33 °C",
    Dimension.TIME: "10 min",
    Dimension.PARTS: "2 parts",
    Dimension.NUMBER: "2.5",
    Dimension.FRACTION: "4 %",
}


def _canonical(number: float, factor: float) -> float:
    """The number in its canonical unit; division where it is exact, so that 35 % is 0.35 to the last bit."""
    if factor == 0.0:
        return celsius(number)
    return number * factor if factor >= 1.0 else number / (1.0 / factor)


def _split_tail(tail: str) -> tuple[str, str | None]:
    """The unit word in one spelling, and the "of …" phrase if there is one."""
    unit, found, phrase = f" {tail.lower()}".partition(" of ")
    return unit.strip().rstrip("."), f"of {phrase.strip()}" if found else None


def _basis_of(phrase: str) -> Basis | None:
    words = phrase.removeprefix("of ").removeprefix("the ").replace("batch's", "batch")
    for basis in Basis:
        if basis and words == basis.value.removeprefix("of ").removeprefix("the "):
            return basis
    return _SYNONYMS.get(f"of {words}")


def _number(digits: str, shown: str) -> float:
    """A decimal number, ``1/2`` or ``1 1/2`` as a float; more than 30 signs are refused."""
    if len(digits) > 30:
        raise QuantityError(f'"{shown}" has more digits than any scale shows.', "Round the number.")
    whole, _, part = digits.rpartition(" ")
    over, slash, under = part.partition("/")
    if not slash:
        return float(part)
    if int(under) == 0:
        raise QuantityError(f'"{shown}" divides by zero.', "Write the number out, such as 0.5.")
    sign = -1.0 if digits.startswith("-") else 1.0
    return sign * ((abs(int(whole)) if whole else 0) + abs(int(over)) / int(under))

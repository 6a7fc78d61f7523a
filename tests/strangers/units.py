"""How a maker weighs, takes temperatures and thinks of rates, and amounts written that way."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.strangers.words import figure, maybe

OUNCE = 28.349523125  # g, exact (international avoirdupois ounce)


@dataclass(frozen=True)
class Ways:
    """The units of one book; ``mixed`` writes an amount in the other units now and then."""

    mass: str
    temperature: str
    rates: str
    mixed: bool

    def grams(self, rng: Random, low: float, high: float, places: int = 1) -> str:
        """A mass between two of grams."""
        grams = rng.uniform(low, high)
        ounces = (self.mass == "oz") != (self.mixed and maybe(rng, 0.2))
        if not ounces:
            return f"{grams:.{places}f} g" if grams < 5000 or places else f"{grams / 1000:.2f} kg"
        return f"{grams / OUNCE:.{places + 1}f} oz"

    def warmth(self, rng: Random, low: float, high: float) -> str:
        """A temperature between two of degrees Celsius."""
        celsius = rng.uniform(low, high)
        fahrenheit = (self.temperature == "F") != (self.mixed and maybe(rng, 0.2))
        return f"{celsius * 9 / 5 + 32:.0f} °F" if fahrenheit else f"{celsius:.0f} °C"

    def rate(self, rng: Random, low: float, high: float, of: str = "batch oils") -> str:
        """A rate between two of per cent of oils; ounces per pound where the book thinks so."""
        if self.rates == "ppo" and of == "batch oils" and not (self.mixed and maybe(rng, 0.3)):
            return f"{rng.uniform(low, high) * 0.16:.2f} oz ppo"
        return f"{figure(rng, low, high)} % of {of}"


def ways(rng: Random) -> Ways:
    """The units of a book: metric, American, or a mixture."""
    kind = rng.choice(["metric", "metric", "ounces", "ounces", "mixed"])
    if kind == "metric":
        return Ways("g", "C", "percent", False)
    if kind == "ounces":
        return Ways("oz", "F", "ppo", maybe(rng, 0.3))
    return Ways(rng.choice(["g", "oz"]), rng.choice(["C", "F"]), rng.choice(["percent", "ppo"]), True)

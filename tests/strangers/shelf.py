"""A maker's shelf: scents with much unknown, colourants, base oils, usual ways, own rules.

Figures are invented within what makers commonly report; saponification ranges are those of the demo's oils.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random
from typing import Final

import yaml

from tests.strangers.mine import own_rules
from tests.strangers.units import Ways, ways
from tests.strangers.words import COLOURANTS, SCENTS, figure, maybe, some

Doc = dict[str, object]

BANDS: Final = ("ivory", "cream", "beige", "tan", "brown", "chocolate")
EVIDENCE: Final = ("own batch", "own cup", "supplier", "hearsay")
TAGS: Final = ("floral", "citrus", "gourmand", "wood", "spice", "fixative", "aldehyde", "amine", "vert")
CONSTITUENTS: Final = ("linalool", "limonene", "eugenol", "coumarin", "citral", "geraniol", "benzyl alcohol")
BASES: Final[Mapping[str, tuple[str, str, str]]] = {
    "olive": ("184 to 196", "liquid", "slow"),
    "coconut": ("248 to 265", "hard", "fast"),
    "palm": ("190 to 209", "hard", "medium"),
    "lard": ("192 to 203", "hard", "slow"),
    "shea": ("160 to 190", "soft", "medium"),
    "sunflower": ("187 to 194", "liquid", "slow"),
    "castor": ("176 to 187", "liquid", "fast"),
    "Rapsöl": ("182 to 193", "liquid", "slow"),
}


@dataclass(frozen=True)
class Shelf:
    """What stands on it, as it is written in the book's files; ``calm``: quiet oils, well described."""

    calm: bool
    ways: Ways
    scents: Mapping[str, Doc]
    colourants: Mapping[str, Doc]
    oils: Mapping[str, Doc]
    usual: Doc
    rules: list[Doc]

    def files(self) -> dict[str, str]:
        """Path in the book and text of every file but plans and notes."""
        docs: dict[str, object] = {
            "scents.yaml": dict(self.scents),
            "colourants.yaml": dict(self.colourants),
            "oils.yaml": dict(self.oils),
            "usual.yaml": self.usual,
        }
        if self.rules:
            docs["rules/mine/own.yaml"] = self.rules
        return {name: as_yaml(doc) for name, doc in docs.items()}


def as_yaml(doc: object) -> str:
    """A document as a person might keep it: own order, own script, long lines left whole."""
    return yaml.safe_dump(doc, allow_unicode=True, sort_keys=False, width=1000, default_flow_style=None)


def a_shelf(rng: Random) -> Shelf:
    """A whole shelf; a book of little knowledge leaves out more."""
    units = ways(rng)
    calm = maybe(rng, 0.55)
    unknown = 0.02 if calm else rng.choice([0.05, 0.15, 0.4])
    names = some(rng, SCENTS, rng.randint(7, 18))
    scents = {name: _scent(rng, units, unknown, names, calm) for name in names}
    colourants = {name: _colourant(rng, units, unknown) for name in some(rng, COLOURANTS, rng.randint(5, 9))}
    bases = some(rng, list(BASES), rng.randint(3, 7))
    oils = {name: _oil(rng, units, name) for name in bases}
    rules = own_rules(rng, names) if maybe(rng, 0.5) else []
    return Shelf(calm, units, scents, colourants, oils, _usual(rng, units, bases, calm), rules)


def _scent(rng: Random, units: Ways, unknown: float, names: list[str], calm: bool) -> Doc:
    """One bottle: every statement is left out, or said to be not known, with the shelf's chance."""
    brown = maybe(rng, 0.1 if calm else 0.3)
    words = ("thins", "none", "none", "none", "slight", "slight", "moderate", "fast", "seizes")
    quick = rng.choice(words[:4] if calm else words)
    said: dict[str, Callable[[], object]] = {
        "kind": lambda: rng.choice(
            ["fragrance oil", "fragrance oil", "essential oil", "absolute", "isolate"]
        ),
        "scent note": lambda: rng.choice(["top", "middle", "base"]),
        "vanillin": lambda: f"{figure(rng, 1, 4)} to {figure(rng, 5, 9)} %" if brown else "0 %",
        "ethyl vanillin": lambda: f"{figure(rng, 0, 1)} %" if brown else "0 %",
        "browns by": lambda: {"indole": f"{figure(rng, 0.1, 1)} %"} if maybe(rng, 0.2) else {},
        "browns to": lambda: _browns_to(rng, units, brown),
        "acceleration": lambda: {
            "is": quick,
            "at": units.rate(rng, 2, 5).replace("batch ", ""),
            "evidence": rng.choice(EVIDENCE),
        },
        "ricing": lambda: "none" if calm else rng.choice(["none", "none", "slight", "bad"]),
        "after six weeks": lambda: rng.choice(["strong", "fair", "fair", "faint", "gone"]),
        "flash point": lambda: ("above " if maybe(rng, 0.2) else "") + units.warmth(rng, 40, 110),
        "for skin": lambda: "no" if not calm and maybe(rng, 0.04) else "yes",
        "limit in bar": lambda: _limit(rng, calm),
        "allergen sheet": lambda: _sheet(rng),
        "tags": lambda: some(rng, TAGS, rng.randint(1, 2)),
        "lot": lambda: f"L-{rng.randint(1, 999)}",
        "price": lambda: f"{figure(rng, 4, 40, 2)} per {rng.choice(['100 g', 'oz', '50 g'])}",
        "on hand": lambda: units.grams(rng, 60 if calm else 5, 400),
        "bought": lambda: f"2026-{rng.randint(1, 9):02}-{rng.randint(1, 28):02}",
        "evidence": lambda: rng.choice(EVIDENCE),
        "seen": lambda: [{"on": "2026-04-02", "what": "Quiet; smelled of rain."}],
        "goes with": lambda: {rng.choice(names): rng.choice(["good", "bad"])},
    }
    found: Doc = {}
    for name, value in said.items():
        if not maybe(rng, unknown):
            found[name] = value()
        elif maybe(rng, 0.2):
            found[name] = "not known"
    return found


def _browns_to(rng: Random, units: Ways, brown: bool) -> object:
    band = rng.choice(BANDS[2:] if brown else BANDS[:2])
    if maybe(rng, 0.3):
        return band
    return {"band": band, "at": units.rate(rng, 2, 5).replace("batch ", ""), "evidence": rng.choice(EVIDENCE)}


def _limit(rng: Random, calm: bool) -> object:
    most = f"{figure(rng, 0.5, 3) if not calm and maybe(rng, 0.15) else figure(rng, 3, 20)} %"
    if maybe(rng, 0.2):
        return most
    old = maybe(rng, 0.2)
    return {
        "most": most,
        "certificate": "49th amendment" if old else "51st amendment",
        "dated": "2020-05-04" if old else "2024-06-30",
    }


def _sheet(rng: Random) -> Doc:
    named: Doc = {name: f"{figure(rng, 0.1, 12)} %" for name in some(rng, CONSTITUENTS, rng.randint(1, 4))}
    return {**named, "complete": rng.choice(["yes", "yes", "no"])}


def _colourant(rng: Random, units: Ways, unknown: float) -> Doc:
    low = rng.choice([0.1, 0.3, 0.5])
    said: dict[str, Callable[[], object]] = {
        "kind": lambda: rng.choice(["white", "clay", "mica", "pigment", "charcoal", "plant"]),
        "at": lambda: f"{figure(rng, low, 2)} % of portion oils",
        "covers": lambda: rng.choice(["opaque", "half", "clear"]),
        "stable in lye": lambda: rng.choice(["yes", "yes", "yes", "no"]),
        "bleeds": lambda: rng.choice(["no", "no", "no", "yes"]),
        "dispersed in": lambda: rng.choice(["oil", "water"]),
        "usual rate": lambda: f"{low} to 2 % of portion oils",
        "fades in light": lambda: rng.choice(["no", "no", "yes"]),
        "thickens": lambda: rng.choice(["no", "yes"]),
        "evidence": lambda: rng.choice(EVIDENCE),
        "price": lambda: f"{figure(rng, 2, 9, 2)} per 100 g",
        "on hand": lambda: units.grams(rng, 20, 300),
    }
    found: Doc = {"hex": _hex(rng), "grams per teaspoon": f"{figure(rng, 1, 4)} g"}
    return found | {name: value() for name, value in said.items() if not maybe(rng, unknown)}


def _hex(rng: Random) -> str:
    """A light, a middle or a dark colour, so that contrasts of every kind meet."""
    low, high = rng.choice([(215, 250), (90, 200), (25, 80)])
    return "#" + "".join(f"{rng.randint(low, high):02x}" for _ in range(3))


def _oil(rng: Random, units: Ways, name: str) -> Doc:
    saponification, hardness, speed = BASES[name]
    low, high = (int(part) for part in saponification.split(" to "))
    found: Doc = {"saponification": saponification, "hardness": hardness, "speed": speed}
    if maybe(rng, 0.4):
        found |= {"lot saponification": figure(rng, low, high), "certificate": f"lot {rng.randint(1, 99)}"}
    if hardness != "liquid" and maybe(rng, 0.8):
        found["clear at"] = units.warmth(rng, 26, 45)
    if maybe(rng, 0.7):
        found["lauric"] = "yes" if name == "coconut" else "no"
    if maybe(rng, 0.5):
        found |= {"price": f"{figure(rng, 3, 15, 2)} per kg", "on hand": units.grams(rng, 300, 6000, 0)}
    return found | {"evidence": rng.choice(EVIDENCE)}


def shares(rng: Random, names: list[str]) -> Doc:
    """The names with per cents that add up to a hundred."""
    cuts = sorted(rng.sample(range(5, 100, 5), len(names) - 1))
    parts = [high - low for low, high in zip([0, *cuts], [*cuts, 100], strict=True)]
    return {name: f"{part} %" for name, part in zip(names, parts, strict=True)}


def _usual(rng: Random, units: Ways, bases: list[str], calm: bool) -> Doc:
    fine = ["0.01 g", "0.001 oz"] if calm else ["0.1 g", "0.01 g", "1 g", "0.01 oz", "0.005 oz"]
    steps = [step for step in fine if step.endswith(units.mass)]
    found: Doc = {
        "recipe": {"oils": shares(rng, bases[:4]), "amount": {"oils": units.grams(rng, 600, 2000, 0)}},
        "lye": {"concentration": f"{rng.randint(28, 34)} %", "superfat": f"{rng.randint(4, 8)} %"},
        "batter at split": units.warmth(rng, 28, 42),
        "room": units.warmth(rng, 17, 24),
        "gel": rng.choice(["avoid", "avoid", "leave", "force at 70 °C"]),
        "scale step": rng.choice(steps),
        "lye scale step": "1 g" if units.mass == "g" else "0.01 oz",
        "hands": rng.choice(["1", "2"]),
        "units": {"mass": units.mass, "temperature": units.temperature, "rates": units.rates},
        "load": units.rate(rng, 2, 5),
        "dosing": rng.choice(["same total", "same total", "same dose in each scented portion"]),
        "pot loss": "2 %",
        "cup loss": "1 %",
        "cure loss": rng.choice(["12 %", "10 to 14 %"]),
        "currency": rng.choice(["crowns", "$", "€", "руб"]),
    }
    if maybe(rng, 0.6):
        found["stays fluid"] = f"{rng.randint(10, 25)} to {rng.randint(26, 45)} min"
    return found

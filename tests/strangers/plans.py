"""Generated plans: 2 to 8 portions, up to 6 oils, every pour, doses open and fixed, and the rest of it.

Most can be read and worked out; their verdicts are of every kind.  Nothing here knows a rule.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Final

from tests.strangers.shelf import BANDS, Doc, Shelf, as_yaml, shares
from tests.strangers.units import OUNCE
from tests.strangers.words import PLANS, PORTIONS, VERSIONS, figure, maybe, some

POURS: Final = (
    "rough layers", "flat layers", "in-pot swirl", "drop swirl", "hanger swirl", "combed slab",
    "side by side", "column", "funnel", "spun", "thin lines", "circling lines", "teardrop",
    "piped top", "sculpted layers",
)  # fmt: skip
GOALS: Final = ("true to blend", "few weighings", "even scent", "only where it browns", "wide margin")
PARTS: Final = (("all of it",), ("half of it", "half of it"), ("a third of it", "two thirds of it"))
PARTS_OF_FOUR: Final = ("a quarter of it", "a quarter of it", "half of it")


@dataclass(frozen=True)
class StrangePlan:
    """A plan as it would be written, and the shelf whose names it uses."""

    name: str
    document: Doc
    shelf: Shelf

    @property
    def text(self) -> str:
        """The plan's file."""
        return as_yaml(self.document)


def the_plan(rng: Random, shelf: Shelf, name: str = "") -> StrangePlan:
    """A plan over a shelf."""
    named = name or rng.choice(PLANS)
    portions = some(rng, PORTIONS, rng.choice([2, 2, 3, 3, 3, 4, 4, 5, 6, 8]))
    scents = some(rng, list(shelf.scents), rng.choice([1, 2, 2, 3, 3, 4, 5, 6]))
    doc: Doc = {"plan": named, "for": rng.choice(["sale", "sale", "home"])}
    if maybe(rng, 0.8):
        doc["recipe"] = _recipe(rng, shelf, portions)
    if maybe(rng, 0.8):
        doc["process"] = _process(rng, shelf)
    if maybe(rng, 0.12):
        doc["embeds"] = [_embed(rng, shelf)]
    doc |= {
        "pour": rng.choice(POURS[:8] if shelf.calm else POURS),
        "portions": _portions(rng, shelf, portions),
    }
    if maybe(rng, 0.95):
        doc["scents"] = _scents(rng, shelf, scents)
        _wishes(rng, doc, portions, scents)
    _rest(rng, doc, portions)
    return StrangePlan(named, doc, shelf)


def _recipe(rng: Random, shelf: Shelf, portions: list[str]) -> Doc:
    bases = some(rng, list(shelf.oils), rng.randint(1, min(5, len(shelf.oils))))
    grams = rng.uniform(400, 3000)
    if maybe(rng, 0.25):
        found: Doc = {"oils": {name: shelf.ways.grams(rng, 100, 700, 0) for name in bases}}
    else:
        found = {"oils": shares(rng, bases), "amount": _amount(rng, shelf, grams)}
        if maybe(rng, 0.1):
            found["lye"] = _weighed_lye(rng, shelf, grams)
            found["amount"] = {"oils": f"{grams:.0f} g"}
    if "lye" not in found and maybe(rng, 0.6):
        found["lye"] = _lye(rng)
    if maybe(rng, 0.3):
        found["additives"] = {
            name: shelf.ways.grams(rng, 3, 20) if maybe(rng, 0.5) else f"{figure(rng, 0.3, 2)} %"
            for name in some(rng, ["sugar", "citric acid", "sodium lactate", "oat milk"], rng.randint(1, 2))
        }
    if maybe(rng, 0.15):
        found["held back"] = {bases[0]: {rng.choice(portions): shelf.ways.grams(rng, 2, 9)}}
    return found


def _amount(rng: Random, shelf: Shelf, grams: float) -> Doc:
    inch = shelf.ways.mass == "oz"
    match rng.randint(0, 3):
        case 0:
            return {"oils": f"{grams / OUNCE:.0f} oz" if inch else f"{grams:.0f} g"}
        case 1:
            inside = "10 x 3.5 x 2.5 in" if inch else rng.choice(["25 x 9 x 6.5 cm", "20 x 8 x 6 cm"])
            return {"mould": "loaf", "inside": inside, "bars": str(rng.randint(6, 12))}
        case 2:
            return {"mould": "slab", "inside": "12 x 8 x 2 in" if inch else "30 x 20 x 5 cm", "bars": "24"}
        case _:
            return {"mould": "cavities", "cavities": str(rng.randint(4, 18)), "volume": "95 mL"}


def _lye(rng: Random) -> Doc:
    superfat = f"{rng.randint(2, 9)} %"
    water = rng.choice([
        {"concentration": f"{rng.randint(27, 36)} %"},
        {"water to lye": f"{figure(rng, 1.7, 2.6, 2)} : 1"},
        {"water of oils": f"{rng.randint(28, 38)} %"},
    ])  # fmt: skip
    purity = {"purity": rng.choice(["98 %", "97 to 99 %"])} if maybe(rng, 0.3) else {}
    return {**water, "superfat": superfat, **purity}


def _weighed_lye(rng: Random, shelf: Shelf, grams: float) -> Doc:
    """Lye as weighed, near what such oils take and now and then too much."""
    lye = grams * rng.uniform(0.12, 0.15)
    return {"NaOH": f"{lye:.0f} g", "water": f"{lye * rng.uniform(1.8, 2.5):.0f} g"}


def _process(rng: Random, shelf: Shelf) -> Doc:
    found: Doc = {
        "batter at split": shelf.ways.warmth(rng, 27, 44),
        "room": shelf.ways.warmth(rng, 16, 26),
        "gel": rng.choice(["avoid", "avoid", "leave", "force", "force at 70 °C"]),
        "stays fluid": _minutes(rng, shelf.calm),
        "cure loss": "12 %",
        "stick blend": rng.choice(["yes", "no"]),
    }
    return {name: value for name, value in found.items() if shelf.calm or maybe(rng, 0.7)}


def _minutes(rng: Random, calm: bool) -> str:
    least = 30 if calm else 8
    if maybe(rng, 0.5):
        return f"{rng.randint(least, 50)} min"
    return f"{rng.randint(least, least + 12)} to {rng.randint(least + 13, 55)} min"


def _embed(rng: Random, shelf: Shelf) -> Doc:
    found: Doc = {"what": rng.choice(["melt-and-pour", "soap curls"]), "mass": shelf.ways.grams(rng, 40, 150)}
    if maybe(rng, 0.7):
        found["softens"] = shelf.ways.warmth(rng, 48, 62)
    if maybe(rng, 0.5):
        found["scents"] = {rng.choice(list(shelf.scents)): rng.choice(["1 g", "2 %"])}
    return found


def _portions(rng: Random, shelf: Shelf, names: list[str]) -> list[Doc]:
    found = [_portion(rng, shelf, name) for name in names]
    match rng.randint(0, 2):
        case 0:
            sizes = [str(share) for share in shares(rng, names).values()]
        case 1:
            sizes = [f"{rng.randint(1, 4)} parts" for _ in names]
        case _:
            sizes = [f"{rng.randint(5, 95 // len(names))} %" for _ in names[1:]] + ["the rest"]
    return [
        {"name": name, "share": size, **more} for name, size, more in zip(names, sizes, found, strict=True)
    ]


def _portion(rng: Random, shelf: Shelf, name: str) -> Doc:
    found: Doc = {}
    colours = some(rng, list(shelf.colourants), rng.choice([0, 1, 1, 1, 2]))
    if colours:
        found["colourants"] = {colour: _of_colour(rng) for colour in colours}
    if maybe(rng, 0.8 if shelf.calm else 0.6):
        found["may become"] = rng.choice(BANDS[2:] if shelf.calm else BANDS)
    if maybe(rng, 0.06):
        found["mixed in"] = {rng.choice(list(shelf.oils)): shelf.ways.grams(rng, 2, 8)}
    if maybe(rng, 0.06):
        found["scented"] = "no"
    return found


def _of_colour(rng: Random) -> str:
    return rng.choice(
        [f"{figure(rng, 0.1, 1.6)} % of portion oils"] * 4 + ["1 tsp", "½ tsp", f"{figure(rng, 0.5, 4)} g"]
    )


def _scents(rng: Random, shelf: Shelf, scents: list[str]) -> Doc:
    if maybe(rng, 0.2) and len(scents) > 1:
        blend: Doc = shares(rng, scents)
    else:
        blend = {name: str(rng.randint(1, 4)) for name in scents}
    found: Doc = {"blend": blend}
    if maybe(rng, 0.85):
        found["load"] = shelf.ways.rate(rng, 1.5, 4 if shelf.calm else 5.5)
    if maybe(rng, 0.6):
        found["dosing"] = rng.choice(["same total", "same total", "same dose in each scented portion"])
    if maybe(rng, 0.1):
        found["stabilised"] = [scents[0]]
    return found


def _wishes(rng: Random, doc: Doc, portions: list[str], scents: list[str]) -> None:
    """Doses, what is kept out or in, premixes, goals and versions; none against another."""
    barred: set[tuple[str, str]] = set()
    if maybe(rng, 0.3):
        scent, portion = rng.choice(scents), rng.choice(portions)
        doc["never"] = [{"scent": scent, "in": portion}]
        barred.add((scent, portion))
    if maybe(rng, 0.2):
        scent = rng.choice(scents)
        kept = some(rng, portions, max(1, len(portions) - 1))
        if any((scent, portion) not in barred for portion in kept):
            doc["only"] = [{"scent": scent, "in": kept}]
            barred |= {(scent, portion) for portion in portions if portion not in kept}
    if maybe(rng, 0.45):
        doc["doses"] = _doses(rng, portions, scents, barred)
    if maybe(rng, 0.2):
        names = some(rng, VERSIONS, rng.randint(1, 2))
        doc["variations"] = {name: {"doses": _doses(rng, portions, scents, barred)} for name in names}
    if maybe(rng, 0.15) and len(scents) > 1:
        doc["weigh together"] = [some(rng, scents, 2)]
    elif maybe(rng, 0.15):
        doc["premixes"] = str(rng.randint(1, 4))


def _doses(rng: Random, portions: list[str], scents: list[str], barred: set[tuple[str, str]]) -> Doc:
    """The maker's own doses of some of the oils, in some of the portions where they may be."""
    found: dict[str, Doc] = {}
    for scent in some(rng, scents, rng.randint(1, len(scents))):
        free = [portion for portion in portions if (scent, portion) not in barred]
        way = rng.randint(0, 3)
        if way == 0:
            parts = list(rng.choice([*PARTS, PARTS_OF_FOUR]))
        elif way == 1:
            parts = [f"{figure(rng, 0.3, 4)} % of portion oils" for _ in free]
        elif way == 2:
            parts = [f"{figure(rng, 0.5, 8)} g" for _ in free[:2]]
        else:
            parts = ["none"]
        taking = some(rng, free, min(len(free), len(parts)))
        for portion, part in zip(taking, parts[: len(taking)], strict=True):
            found.setdefault(portion, {})[scent] = part
    return dict(found)


def _rest(rng: Random, doc: Doc, portions: list[str]) -> None:
    if maybe(rng, 0.4):
        doc["prefer"] = some(rng, GOALS, rng.randint(1, 3))
    if maybe(rng, 0.12):
        doc["touching"] = [portions[:2]] if len(portions) == 2 else [portions[:2], portions[1:3]]
    if maybe(rng, 0.12):
        doc["order"] = some(rng, portions, len(portions))
    if maybe(rng, 0.12):
        one, other = portions[:2]
        doc["accept"] = [
            {"rule": "contrast-thin", "for": f"{one} and {other}", "because": "I want them to melt."}
        ]

"""Thirty sound plans with two faults each, half in grams and half in ounces, for a maker who takes the first
lever, and then the first lever again."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import yaml

from tests.strangers.runs import ran

Plan = dict[str, Any]
Fault = Callable[[Plan], None]

_CALM: Final = """
  kind: fragrance oil
  scent note: middle
  vanillin: {vanillin}
  ethyl vanillin: 0 %
  browns by: {{}}
  browns to: {{band: {band}, at: 4 % of oils, evidence: own batch}}
  acceleration: {{is: {speed}, at: 4 % of oils, evidence: own batch, against: unscented cup}}
  ricing: none
  after six weeks: strong
  flash point: above 93 °C
  for skin: yes
  limit in bar: {{most: {limit}, certificate: "51st amendment, category 9", dated: 2026-03-10}}
  supplier statement: {{dated: 2026-03-10}}
  allergen sheet: {{linalool: 1 %, complete: yes}}
  tags: [{tag}]
  evidence: own batch
"""
_SHELF: Final = {
    "wet-slate": ("0 %", "ivory", "none", "9 %", "fixative"),
    "white-barn": ("0 %", "ivory", "none", "9 %", "fixative"),
    "toffee-tin": ("3 %", "brown", "none", "9 %", "fixative"),
    "nettle-lane": ("0 %", "ivory", "fast", "9 %", "fixative"),
    "red-lantern": ("0 %", "ivory", "none", "0.5 %", "fixative"),
}
_COLOURS: Final = """
chalk: {kind: white, hex: "#f7f4ea", at: 1 % of oils, covers: opaque, stable in lye: yes, bleeds: no, usual rate: 0.3 to 2 % of oils, fades in light: no, thickens: no}
slate: {kind: pigment, hex: "#39424c", at: 0.6 % of oils, covers: opaque, stable in lye: yes, bleeds: no, usual rate: 0.1 to 1 % of oils, fades in light: no, thickens: no}
rust: {kind: pigment, hex: "#8a4526", at: 0.6 % of oils, covers: opaque, stable in lye: yes, bleeds: no, usual rate: 0.1 to 1 % of oils, fades in light: no, thickens: no}
"""  # noqa: E501
_OILS: Final = """
olive: {saponification: 184 to 196 mg KOH/g}
coconut: {saponification: 248 to 265 mg KOH/g}
rapeseed: {saponification: 168 to 181 mg KOH/g}
"""


def write_book(folder: Path, ounces: bool) -> None:
    """A book of the same shelf, in grams or in ounces."""
    (folder / "plans").mkdir(parents=True)
    shelf = ""
    for name, (vanillin, band, speed, limit, tag) in _SHELF.items():
        shelf += name + ":" + _CALM.format(vanillin=vanillin, band=band, speed=speed, limit=limit, tag=tag)
    usual: dict[str, Any] = {
        "scale step": "0.01 oz" if ounces else "0.1 g",
        "lye scale step": "0.01 oz" if ounces else "1 g",
        "cure loss": "12 %",
    }
    if ounces:
        usual["units"] = {"mass": "oz", "temperature": "F", "rates": "ppo"}
    for name, text in {
        "scents.yaml": shelf,
        "colourants.yaml": _COLOURS,
        "oils.yaml": _OILS,
        "usual.yaml": yaml.safe_dump(usual),
    }.items():
        (folder / name).write_text(text, "utf-8")


def sound(ounces: bool) -> Plan:
    """A plan with nothing worse than a caution."""
    return {
        "plan": "two halves",
        "for": "home",
        "recipe": {
            "oils": {"olive": "50 %", "coconut": "25 %", "rapeseed": "25 %"},
            "amount": {"oils": "42 oz" if ounces else "1200 g"},
            "lye": {"concentration": "31 %", "superfat": "5 %", "purity": "99 %"},
        },
        "process": {
            "batter at split": "97 °F" if ounces else "36 °C",
            "room": "68 °F" if ounces else "20 °C",
            "gel": "avoid",
            "stays fluid": "40 min",
        },
        "pour": "in-pot swirl",
        "portions": [
            {"name": "white", "share": "40 %", "colourants": {"chalk": "1 % of portion oils"}},
            {"name": "grey", "share": "35 %", "colourants": {"slate": "0.5 % of portion oils"},
             "may become": "brown"},
            {"name": "brick", "share": "the rest", "colourants": {"rust": "0.5 % of portion oils"},
             "may become": "brown"},
        ],
        "scents": {
            "blend": {"wet-slate": "2", "white-barn": "1"},
            "load": "0.5 oz ppo" if ounces else "3 % of batch oils",
        },
    }  # fmt: skip


def strong_lye(plan: Plan) -> None:
    """Lye at which nothing stays dissolved."""
    plan["recipe"]["lye"]["concentration"] = "49 %"


def no_superfat(plan: Plan) -> None:
    """Lye that uses all of the oils."""
    plan["recipe"]["lye"]["superfat"] = "0 %"


def thin_superfat(plan: Plan) -> None:
    """One per cent of superfat."""
    plan["recipe"]["lye"]["superfat"] = "1.5 %"


def weighed_lye(plan: Plan) -> None:
    """Lye as weighed, a tenth too much of it."""
    ounces = plan["recipe"]["amount"]["oils"].endswith("oz")
    weighed = {"NaOH": "6.4 oz", "water": "13 oz"} if ounces else {"NaOH": "182 g", "water": "370 g"}
    plan["recipe"]["lye"] = {**weighed, "purity": "99 %"}


def too_much(plan: Plan) -> None:
    """A load that no bar bears."""
    plan["scents"]["load"] = "1.6 oz ppo" if plan["scents"]["load"].endswith("ppo") else "10 % of batch oils"


def browner(plan: Plan) -> None:
    """A browning oil, in the white as well."""
    plan["scents"]["blend"]["toffee-tin"] = "1"


def quick(plan: Plan) -> None:
    """A quick oil in a fluid pour."""
    plan["scents"]["blend"]["nettle-lane"] = "1"


def limited(plan: Plan) -> None:
    """An oil far over the limit of its certificate."""
    plan["scents"]["blend"]["red-lantern"] = "2"


def crumb(plan: Plan) -> None:
    """So little of an oil that no scale weighs it."""
    plan["scents"]["blend"]["red-lantern"] = "0.02"


def forbidden(plan: Plan) -> None:
    """A dose in the cup that is to stay unscented."""
    plan["portions"][0]["scented"] = "no"
    plan["doses"] = {"white": {"white-barn": "a third of it"}}


def overdosed(plan: Plan) -> None:
    """All of an oil in the smallest cup."""
    plan["doses"] = {"brick": {"wet-slate": "all of it"}}


def sweet_oven(plan: Plan) -> None:
    """Sugar, and gel forced."""
    plan["recipe"]["additives"] = {"sugar": "1.5 %"}
    plan["process"]["gel"] = "force"


def held_back(plan: Plan) -> None:
    """Oil held back from all and returned to one cup."""
    ounces = plan["recipe"]["amount"]["oils"].endswith("oz")
    plan["recipe"]["held back"] = {"olive": {"grey": "2.4 oz" if ounces else "70 g"}}


def hot(plan: Plan) -> None:
    """A batter at which even a calm oil hurries."""
    ounces = plan["process"]["batter at split"].endswith("F")
    plan["process"] |= {"batter at split": "131 °F" if ounces else "55 °C", "stays fluid": "14 min"}


def short_of_time(plan: Plan) -> None:
    """A batter that is thick before three cups are scented."""
    plan["process"]["stays fluid"] = "9 min"


def alike(plan: Plan) -> None:
    """Two cups of one colour, side by side."""
    for portion in plan["portions"][1:]:
        portion["colourants"] = {"slate": "0.5 % of portion oils"}


def scented_embed(plan: Plan) -> None:
    """An embed scented beyond the limit of its oil."""
    ounces = plan["recipe"]["amount"]["oils"].endswith("oz")
    mass = "5 oz" if ounces else "140 g"
    plan["embeds"] = [{"what": "soap curls", "mass": mass, "scents": {"red-lantern": "5 %"}}]


def rich_cup(plan: Plan) -> None:
    """A third of a cup's own oils more, mixed into it."""
    ounces = plan["recipe"]["amount"]["oils"].endswith("oz")
    plan["portions"][1]["mixed in"] = {"olive": "5 oz" if ounces else "140 g"}


def deep_colour(plan: Plan) -> None:
    """Eight times the colour that is usual."""
    plan["portions"][2]["colourants"] = {"rust": "8 % of portion oils"}


def own_browning(plan: Plan) -> None:
    """Half of a browning oil in the white, by the maker's own dose."""
    plan["scents"]["blend"]["toffee-tin"] = "0.5"
    plan["doses"] = {"white": {"toffee-tin": "half of it"}}


PAIRS: Final[tuple[tuple[Fault, Fault], ...]] = (
    (strong_lye, browner), (no_superfat, too_much), (weighed_lye, browner), (thin_superfat, limited),
    (too_much, browner), (limited, browner), (quick, thin_superfat), (crumb, strong_lye),
    (forbidden, no_superfat), (overdosed, strong_lye), (sweet_oven, browner), (held_back, limited),
    (sweet_oven, too_much), (held_back, browner), (limited, strong_lye), (overdosed, thin_superfat),
    (quick, strong_lye), (crumb, no_superfat), (forbidden, limited), (weighed_lye, too_much),
)  # fmt: skip

MORE_PAIRS: Final[tuple[tuple[Fault, Fault], ...]] = (
    (hot, limited), (hot, browner), (short_of_time, no_superfat), (deep_colour, too_much),
    (alike, strong_lye), (scented_embed, browner), (rich_cup, limited), (short_of_time, own_browning),
    (crumb, thin_superfat), (own_browning, weighed_lye),
)  # fmt: skip


def followed(folder: Path, number: int) -> tuple[str, list[str]]:
    """One of the thirty, its first lever taken at most twice: what stands in the way of it, and each step."""
    ounces = number % 2 == 1
    write_book(folder, ounces)
    plan = sound(ounces)
    for fault in (*PAIRS, *MORE_PAIRS)[number]:
        fault(plan)
    file = folder / "plans" / "two halves.yaml"
    file.write_text(yaml.safe_dump(plan, sort_keys=False, allow_unicode=True), "utf-8")
    steps: list[str] = []
    before = ran("check", file, "--json")
    for step in (1, 2):
        if before.code == 2 or before.document["sound"]:
            break
        levers = [each for each in before.document["levers"] if each["writable"]]
        if not levers:
            return "no lever", [*steps, _broken(before.document)]
        steps.append(f"{_broken(before.document)} -> {levers[0]['way']} {levers[0]['details']}")
        file = ran_write(file, step)
        before = ran("check", file, "--json")
    if before.code == 2 or not steps:
        return f"nothing was mended: {before.out}", steps
    left = set(plan["scents"]["blend"]) - set(_scents(before.document))
    if left:
        return f"left out: {', '.join(sorted(left))}", steps
    return ("" if before.document["sound"] else "not sound"), [*steps, _broken(before.document)]


def ran_write(file: Path, step: int) -> Path:
    """The plan with its first lever, written at the command line."""
    new = file.with_name(f"step {step}.yaml")
    ran("check", file, "--write", new)
    return new


def _scents(document: Any) -> set[str]:
    return {name for row in document["grams"] for name, mass in row["scents"].items() if mass > 0}


def _broken(document: Any) -> str:
    heavy = [f for f in document["findings"] if f["level"] in ("stop", "conflict") and not f["open"]]
    standing = [f for f in heavy if f["status"] != "accepted"]
    return ", ".join(dict.fromkeys(f"{f['rule']} ({f['status']})" for f in standing))

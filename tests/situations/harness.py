"""The situations of this folder at the command line: each a small book of its own, held against an answer."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

import yaml

from blendwise import Book
from blendwise.facts.columns import Column
from blendwise.records.as_of import AsOf
from tests.strangers.runs import Ran, ran

HERE = Path(__file__).resolve().parent
TODAY = date(2026, 11, 28)
OILS = {
    "olive": {"saponification": "184 to 196", "hardness": "liquid", "speed": "slow", "lauric": False},
    "coconut": {"saponification": "248 to 265", "hardness": "hard", "speed": "fast", "lauric": True,
                "clear at": "27 °C"},
}  # fmt: skip
CERTIFICATE = {"most": "20 %", "certificate": "51st amendment", "category": "9", "dated": date(2025, 6, 1)}
LOSSES = {"pot loss": "0 %", "cup loss": "0 %", "cure loss": "12 %"}


@dataclass(frozen=True)
class Situation:
    """One entry of ``situations.yaml``."""

    name: str
    of: str
    expect: list[dict[str, Any]]
    scents: dict[str, Any]
    plan: dict[str, Any] = field(default_factory=dict)
    colourants: dict[str, Any] = field(default_factory=dict)


class Plainly(yaml.SafeDumper):
    """Writes out what stands twice: a book has no anchors."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def situations() -> list[Situation]:
    """All entries, in the order of the file."""
    return [Situation(**entry) for entry in yaml.safe_load((HERE / "situations.yaml").read_text("utf-8"))]


def written(one: Situation, folder: Path) -> Path:
    """The situation's book on disk; its plan's path."""
    scents = {
        name: {"limit in bar": CERTIFICATE, "for skin": True, **record} for name, record in one.scents.items()
    }
    usual = {
        "scale step": "0.01 g", "lye scale step": one.plan.get("lye scale step", "0.01 g"), **LOSSES,
    }  # fmt: skip
    files = {"scents": scents, "oils": OILS, "colourants": one.colourants, "usual": usual}
    (folder / "plans").mkdir(parents=True)
    for name, content in files.items():
        (folder / f"{name}.yaml").write_text(yaml.dump(content, Dumper=Plainly, sort_keys=False), "utf-8")
    path = folder / "plans" / "it.yaml"
    path.write_text(yaml.dump(_plan(one), Dumper=Plainly, sort_keys=False, allow_unicode=True), "utf-8")
    return path


def _plan(one: Situation) -> dict[str, Any]:
    said = one.plan
    cups = int(said.get("cups", 1))
    white: dict[str, Any] = {"name": "white", "share": f"{100 / cups:.6f} %" if cups > 1 else "the rest"}
    white |= {"may become": said["may become"]} if "may become" in said else {}
    white |= {"mixed in": {"olive": said["mixed in"]}} if "mixed in" in said else {}
    white |= {"colourants": {said["colour"]: "1 % of portion oils"}} if "colour" in said else {}
    rest = [{"name": word, "share": "the rest", "scented": False} for word in ("second",)[: cups - 1]]
    oils = said.get("oils", {"olive": "70 %", "coconut": "30 %"})
    recipe: dict[str, Any] = {"oils": oils, "amount": {"oils": "1000 g"}}
    recipe["lye"] = {"concentration": "33 %", "superfat": "5 %"}
    if "batch of one cup" in said:
        recipe["amount"] = {"oils": "243 g"}  # 350 g of batter with 44 g of lye in 133 g of solution
    recipe |= {"additives": said["additives"]} if "additives" in said else {}
    if "held back" in said:
        recipe["held back"] = {"olive": {said["back to"]: said["held back"]}}
    blend = said.get("blend", dict.fromkeys(one.scents, 1))
    return {
        "plan": "it", "for": "home", "recipe": recipe, "pour": said.get("pour", "single colour"),
        "process": {"batter at split": "33 °C", "room": "21 °C", "gel": "avoid"},
        "portions": [white, *rest],
        "scents": {"blend": blend, "load": f"{said['load']} of batch oils", "dosing": "same total",
                   **({"stabilised": said["stabilised"]} if "stabilised" in said else {})},
    }  # fmt: skip


def wrong(one: Situation, folder: Path) -> list[str]:
    """What the program answers otherwise than expected, in words; empty where all is as expected."""
    path = written(one, folder)
    plain = ran("check", path, "--more", "--plain")
    short = ran("check", path, "--plain")
    json = ran("check", path, "--json")
    if json.code == 2:
        return [f"could not be read: {json.out[:400]}{json.err[:400]}"]
    return [why for each in one.expect if (why := _miss(each, path, json, plain.out + short.out))]


def _miss(expected: dict[str, Any], path: Path, json: Ran, said: str) -> str:
    if "value" in expected or "word" in expected:
        return _miss_of_measure(expected, path)
    spoken = {f["rule"] for f in json.document["findings"]}
    flat = " ".join(said.split())
    if "broken" in expected:
        return "" if expected["broken"] in spoken else f"{expected['broken']} is silent"
    if "silent" in expected:
        return f"{expected['silent']} speaks" if expected["silent"] in spoken else ""
    if "exit" in expected:
        return "" if json.code == expected["exit"] else f"exit {json.code}"
    if "on the sheet" in expected or "never on the sheet" in expected:
        page = re.sub("<[^>]*>", " ", ran("sheet", path, "--out", "-").out)
        found = re.search(
            expected.get("on the sheet") or expected["never on the sheet"], " ".join(page.split())
        )
        return "" if (found is not None) == ("on the sheet" in expected) else f"{expected}"
    if "first" in expected:
        one, other = (re.search(pattern, flat) for pattern in expected["first"])
        return "" if one and (other is None or one.start() < other.start()) else f"order of {expected}"
    found = re.search(expected.get("says") or expected["never says"], flat)
    return "" if (found is not None) == ("says" in expected) else f"{expected}: {found and found.group()}"


def _miss_of_measure(expected: dict[str, Any], path: Path) -> str:
    book = Book(path.parents[1])
    situation = book.situation(path, AsOf(today=TODAY))
    column = situation.home(expected.get("value") or expected["word"])
    assert isinstance(column, Column), f"{expected} is no number"
    rows = {p.name: i for i, p in enumerate(situation.plan.portions)}
    at = rows[expected["at"]] if "at" in expected else 0
    low, high = float(column.low[at]), float(column.high[at])
    if "word" in expected:
        assert column.scale, f"{expected['word']} has no words"
        word = column.scale[int(low)] if low == high else f"{low} to {high}"
        return "" if word in expected["is"] else f"{expected['word']} is {word}"
    least, most = expected["between"]
    return "" if least <= low and high <= most else f"{expected['value']} is {low:.5g} to {high:.5g}"

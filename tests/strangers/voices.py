"""The ten-years book with the shelf that four voices speak of in sentences and wordings sealed before a run.

Each further oil takes the record of an oil of its sort on that shelf; nothing in it is anyone's stock.
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from collections.abc import Callable
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any, Final

import yaml

VOICES: Final = "four-voices"
_TEN_YEARS: Final = Path(__file__).parent / "found" / "ten-years" / "book"
_OILS: Final = {
    "Clove Bud": ("Clove Bud Attic", "spice"),
    "Bay Lane": ("Clove Bud Attic", "spice"),
    "Milk Caramel": ("Sugar Cookie Dough", "gourmand"),
    "Tonka Milk": ("Pumpkin Porch", "gourmand"),
    "Christmas Hearth": ("Pumpkin Porch", "spice"),
    "Old Orchard": ("Oatmeal & Honey", "fruit"),
    "Quiet Rose": ("Lilac Lane", "floral"),
    "Spiced Pear": ("Lilac Lane", "fruit"),
    "Jasmine Night": ("Neroli Dream", "floral"),
    "Lavender Field": ("Lavender Hill", "floral"),
    "Peat Smoke": ("Patch Dark", "smoke"),
    "Lime Expressed": ("Litsea Bright", "citrus"),
    "Lemon Peel": ("Litsea Bright", "citrus"),
    "Blood Orange Folded": ("Blood Orange 5x", "citrus"),
    "Harbour Mint": ("Peppermint Field", "mint"),
}
_COLOURANTS: Final = {
    "titanium-dioxide": ("snow-white", "white", "#f4f1e7"),
    "charcoal": ("soot", "charcoal", "#35363a"),
    "spirulina": ("meadow-powder", "plant", "#8b9a5e"),
    "sage-mica": ("pond-blue", "mica", "#9aaa86"),
    "pink-clay": ("brick-clay", "clay", "#d8a7a0"),
    "brown-oxide": ("barn-red", "pigment", "#5a3a2a"),
}
_PLAN: Final = """plan: {name}
for: sale
recipe:
  oils: {{olive: 45 %, coconut: 25 %, cocoa-butter: 15 %, sunflower-ho: 10 %, castor: 5 %}}
  amount: {{oils: 48 oz}}
  lye: {{concentration: 31 %, superfat: 5 %}}
process: {{batter at split: 90 °F, room: 68 °F, gel: leave}}
pour: {pour}
portions:
{portions}
scents:
  blend: {{{blend}}}
  load: 0.6 oz ppo
  dosing: same total
"""
_MARKET: Final = (
    "{name: snow, share: 30 %, colourants: {snow-white: 1 % of portion oils}}",
    "{name: cream, share: 20 %, may become: cream}",
    "{name: plum, share: 15 %, colourants: {plum-mica: 1 % of portion oils}}",
    "{name: sage, share: 15 %, colourants: {sage-mica: 1 % of portion oils}}",
    "{name: ink, share: 10 %, colourants: {charcoal: 0.5 % of portion oils}, may become: chocolate}",
    "{name: terracotta, share: the rest, colourants: {brick-clay: 2 % of portion oils}, may become: brown}",
)
_LAYERS: Final = (
    "{name: brown, share: 20 %, colourants: {brown-oxide: 0.3 % of portion oils}, may become: chocolate}",
    "{name: purple, share: 20 %, colourants: {plum-mica: 1 % of portion oils}}",
    "{name: blue, share: 20 %, colourants: {pond-blue: 1 % of portion oils}}",
    "{name: pink, share: 20 %, colourants: {pink-clay: 1 % of portion oils}}",
    "{name: ink, share: 10 %, colourants: {charcoal: 0.5 % of portion oils}, may become: chocolate}",
    "{name: white, share: the rest, colourants: {titanium-dioxide: 1 % of portion oils}}",
)
_PLANS: Final = {
    "six-cups": ("column", _MARKET, "Cotton Line: 2, Quiet Rose: 1, Milk Caramel: 1"),
    "six-layers": ("flat layers", _LAYERS, "Harbour Mint: 2, Tonka Milk: 1"),
}


@cache
def four_voices() -> Path:
    """The book's folder, made once a run and taken away when it ends."""
    room = Path(tempfile.mkdtemp(prefix=VOICES))
    atexit.register(shutil.rmtree, room, ignore_errors=True)
    folder = room / VOICES
    shutil.copytree(_TEN_YEARS, folder)
    _lengthen(
        folder / "scents.yaml", lambda held: {new: _oil(held[of], tag) for new, (of, tag) in _OILS.items()}
    )
    _lengthen(
        folder / "colourants.yaml",
        lambda held: {
            new: held[of] | {"kind": kind, "hex": hue} for new, (of, kind, hue) in _COLOURANTS.items()
        },
    )
    _lengthen(
        folder / "oils.yaml",
        lambda held: {"cocoa-butter": held["shea"] | {"saponification": "192 to 197", "hardness": "hard"}},
    )
    for name, (pour, portions, blend) in _PLANS.items():
        lines = "\n".join(f"  - {each}" for each in portions)
        text = _PLAN.format(name=name, pour=pour, portions=lines, blend=blend)
        (folder / "plans" / f"{name}.yaml").write_text(text, "utf-8")
    return folder


def _oil(held: dict[str, Any], tag: str) -> dict[str, Any]:
    tags = [*held.get("tags", ()), tag]
    return deepcopy(held) | {"tags": list(dict.fromkeys(tags))}  # twice the same is no anchor


def _lengthen(file: Path, more: Callable[[dict[str, Any]], dict[str, Any]]) -> None:
    """Write further entries under those of a file, every scalar as it was typed."""
    text = file.read_text("utf-8")
    held = yaml.load(text, Loader=yaml.BaseLoader)
    file.write_text(text + "\n" + yaml.safe_dump(more(held), allow_unicode=True, sort_keys=False), "utf-8")

"""A small book, and the plan that the other tests bend."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.records.book import BookFiles, load_book

SCENTS = """\
tonka-milk:
  kind: fragrance oil            # fragrance oil | essential oil | absolute | resinoid | isolate
  scent note: base
  vanillin: 5 to 7 %
  ethyl vanillin: 1 %
  browns by: {heliotropin: 1 to 2 %, coumarin: not known}
  browns to: {band: tan, at: 4 % of oils, evidence: own cup}
  own cast: pale yellow
  acceleration: {is: moderate, at: 4 % of oils, evidence: own cup, against: unscented cup}
  ricing: none
  after six weeks: strong
  flash point: 94 °C
  for skin: yes
  limit in bar: {most: 9.1 %, certificate: 51st amendment, dated: 2024-06-30}
  allergen sheet: {coumarin: 2.5 %, vanillin: 7 %, complete: yes}
  tags: [aldehyde, gourmand]
  lot: B-2231
  price: 14.50 per 100 g
  on hand: 180 g
  evidence: supplier
  seen:
    - {on: 2026-02-11, what: "Clean for ten days, then caramel by week three."}
lime-leaf:
  acceleration: none
  vanillin: not known
  flash point: above 93 °C
  tags: citrus
vetiver:
  kind: essential oil
"""
COLOURANTS = """\
titanium-dioxide: {kind: white, hex: "#FAFAF7", covers: opaque}
green-clay: {kind: clay, hex: "#8a9a78", at: 2 % of portion oils}
red-oxide: {kind: pigment, hex: "#8c3b2a"}
charcoal: {kind: charcoal, hex: "#2b2b2b", grams per teaspoon: 1.8 g}
"""
OILS = """\
olive: {saponification: 184 to 196, hardness: liquid, speed: slow}
coconut: {saponification: 248 to 265, hardness: hard, lauric: yes, clear at: 25 °C}
shea: {saponification: 170 to 190, hardness: soft}
rapeseed: {saponification: 182 to 193, hardness: liquid}
sunflower: {saponification: 188 to 194, hardness: liquid}
"""
USUAL = """\
lye: {concentration: 31 %, superfat: 5 %}
room: 70 °F
scale step: 0.1 g
hands: 1
units: {mass: oz, temperature: F, rates: ppo}
"""
POURS = """\
column:
  family: interleaved
  minutes: 8 to 20 min
  batter: thin
  tolerates: slight
  touching: each other
  basis: common practice
"""
SCALES = """\
bands:
  - {word: ivory, up to: 0.01 % of portion batter, meaning: white stays white}
  - {word: cream, up to: 0.03 %, meaning: warm off-white}
  - {word: beige, up to: 0.08 %, meaning: not white any more}
  - {word: tan, up to: 0.2 %, meaning: caramel}
  - {word: brown, up to: 0.4 %, meaning: brown}
  - {word: chocolate, meaning: dark brown}
acceleration:
  thins: {factor: 1, meaning: runnier}
  none: {factor: 1 to 1.1, meaning: nothing}
  slight: {factor: 1.1 to 1.5, minutes: 10 to 20 min, meaning: a shade thicker}
  moderate: {factor: 1.5 to 3, minutes: 4 to 10 min, meaning: thickens while you look}
  fast: {factor: 3 to 8, meaning: thick soon}
  seizes: {factor: 8 to 20, meaning: solid}
fluid:
  ordinary: {minutes: 8 to 15 min, what: neither slow nor fast}
"""
PLAN = """\
plan: greenhouse-morning
for: sale                        # sale | home
recipe:
  oils: {olive: 45 %, coconut: 25 %, shea: 10 %, rapeseed: 20 %}
  amount: {mould: loaf, inside: 25 x 9 x 6.5 cm, bars: 10}     # or  oils: 1100 g
  lye: {concentration: 31 %, superfat: 5 %}
  additives: {sugar: 10 g, citric acid: 0 g}
  held back: {olive: {soil: 10 g, brick: 5 g}}
process: {batter at split: 33 °C, room: 21 °C, gel: avoid, stays fluid: 25 min}
embeds: [{what: melt-and-pour, mass: 90 g, softens: 55 °C, scents: {}}]
pour: column
portions:
  - {name: milk, share: 35 %, colourants: {titanium-dioxide: 1 % of portion oils}, may become: cream}
  - {name: sage, share: 25 %, colourants: {green-clay: 2 % of portion oils}, mixed in: {sunflower: 4 g}}
  - {name: brick, share: 25 %, colourants: {red-oxide: 0.4 % of portion oils}}
  - {name: soil, share: the rest, colourants: {charcoal: 0.6 % of portion oils}}
scents:
  blend: {tonka-milk: 1, lime-leaf: 2, vetiver: 1}
  load: 4 % of batch oils
  dosing: same total
doses:
  milk: {lime-leaf: 3.5 % of portion oils}
  soil: {tonka-milk: all of it}
never: [{scent: tonka-milk, in: milk}]
only: [{scent: vetiver, in: [sage, soil]}]
prefer: [true to blend, few weighings, even scent]
variations: {deep: {doses: {soil: {vetiver: half of it}}}}
accept: [{rule: contrast-thin, for: sage and brick, down to: 6, because: "I want them to melt together."}]
"""
FILES = {
    "scents.yaml": SCENTS,
    "colourants.yaml": COLOURANTS,
    "oils.yaml": OILS,
    "usual.yaml": USUAL,
    "plans/greenhouse-morning.yaml": PLAN,
    "loose/pours.yaml": POURS,
    "loose/scales.yaml": SCALES,
}


@pytest.fixture
def plan_text() -> str:
    """The text of a whole, sound plan."""
    return PLAN


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A small, sound book on disk."""
    for name, text in FILES.items():
        file = tmp_path / name
        file.parent.mkdir(exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return tmp_path


@pytest.fixture
def book(folder: Path) -> BookFiles:
    """The small book, loaded."""
    return load_book(folder)

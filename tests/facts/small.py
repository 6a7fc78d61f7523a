"""A small book in memory, and plans worked out against it: what the tests of the facts stand on."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

import numpy as np

from blendwise.facts.columns import Column, SetColumn
from blendwise.facts.situation.worked_out import Situation, work_out
from blendwise.facts.tables import table, vocabulary
from blendwise.judge.rulebook.layers import Rulebook, layered
from blendwise.records import BookFiles
from blendwise.records.book import entries, read_plan
from blendwise.records.kinds.colourant import Colourant
from blendwise.records.kinds.oil import BaseOil
from blendwise.records.kinds.pour import PourStyle
from blendwise.records.kinds.rule import load_rule_files
from blendwise.records.kinds.scales import Scales
from blendwise.records.kinds.scent import Scent
from blendwise.records.kinds.usual import Usual
from blendwise.records.reading.document import text_document, validated

DAY = date(2026, 11, 25)
RULES = Path(__file__).parents[2] / "rules"

SCENTS = """\
tonka:
  vanillin: 5 to 7 %
  ethyl vanillin: 1 %
  acceleration: {is: moderate, at: 4 % of oils, evidence: own cup}
  ricing: none
  flash point: 94 °C
  for skin: yes
  limit in bar: {most: 9.1 %, certificate: a certificate, dated: 2024-11-25}
  allergen sheet: {coumarin: 2 to 2.5 %, vanillin: 7 %, complete: yes}
  scent note: base
  tags: [gourmand]
  on hand: 40 g
  evidence: supplier
lime:
  kind: essential oil
  vanillin: 0 %
  acceleration: {is: none, evidence: supplier}
  ricing: none
  flash point: 46 °C
  for skin: yes
  limit in bar: {most: 3.42 %, certificate: a certificate}
  allergen sheet: {limonene: 50 to 60 %, citral: 4 %, complete: yes}
  scent note: top
  tags: [citrus]
  evidence: supplier
cedar:
  kind: essential oil
  vanillin: 0 %
  acceleration: {is: slight, at: 5 % of oils, evidence: own batch}
  ricing: none
  flash point: above 93 °C
  for skin: yes
  limit in bar: {most: 25 %, certificate: a certificate}
  scent note: base
  tags: [fixative]
  evidence: own batch
carnation:
  vanillin: 0 %
  acceleration: {is: fast, at: 3 % of oils, evidence: own cup}
  ricing: bad
  for skin: yes
  limit in bar: {most: 2 %, certificate: a certificate}
  allergen sheet: {isoeugenol: 1 to 2 %, eugenol: 20 %, complete: no}
  tags: [spice]
  evidence: own cup
found: {kind: fragrance oil}
"""
COLOURANTS = """\
white: {kind: white, hex: "#fafaf7", at: 1 % of portion oils, covers: opaque, dispersed in: oil,
        stable in lye: yes, bleeds: no, fades in light: no, usual rate: 0.5 to 2 % of portion oils}
clay: {kind: clay, hex: "#8a9a78", at: 2 % of portion oils}
brick: {kind: pigment, hex: "#8c3b2a", at: 0.4 % of portion oils, bleeds: no}
black: {kind: charcoal, hex: "#2b2b2b", at: 0.6 % of portion oils, covers: opaque, grams per teaspoon: 1.8 g}
"""
OILS = """\
olive: {saponification: 184 to 196, hardness: liquid, speed: slow}
coconut: {saponification: 248 to 265, lot saponification: 258, hardness: hard, lauric: yes, clear at: 25 °C,
          speed: fast}
shea: {saponification: 170 to 190, hardness: hard, clear at: 35 °C}
sunflower: {saponification: 188 to 194, hardness: liquid}
"""
USUAL = """\
scale step: 0.1 g
lye scale step: 1 g
hands: 1
"""
PLAN = """\
plan: morning
for: sale
recipe:
  oils: {olive: 450 g, coconut: 250 g, shea: 100 g, sunflower: 200 g}
  lye: {concentration: 31 %, superfat: 5 %}
process: {batter at split: 33 °C, room: 21 °C, gel: avoid, stays fluid: 25 min}
pour: column
portions:
  - {name: milk, share: 35 %, colourants: {white: 1 % of portion oils}}
  - {name: sage, share: 25 %, colourants: {clay: 2 % of portion oils}, mixed in: {sunflower: 4 g}}
  - {name: brick, share: 25 %, colourants: {brick: 0.4 % of portion oils}}
  - {name: soil, share: the rest, colourants: {black: 0.6 % of portion oils}, may become: chocolate}
scents:
  blend: {tonka: 1, lime: 2, cedar: 1}
  load: 4 % of batch oils
"""


@cache
def _scales() -> Scales:
    return validated(Scales, text_document((RULES / "scales.yaml").read_text(encoding="utf-8")))


@cache
def _pours() -> dict[str, PourStyle]:
    return entries(
        PourStyle, text_document((RULES / "pours.yaml").read_text(encoding="utf-8")), "pour styles"
    )


def book(
    scents: str = SCENTS, usual: str = USUAL, oils: str = OILS, colourants: str = COLOURANTS
) -> BookFiles:
    """A book from its texts, with the shipped scales and pours."""
    return BookFiles(
        Path("a-book"),
        entries(Scent, text_document(scents), "scents"),
        entries(Colourant, text_document(colourants), "colourants"),
        entries(BaseOil, text_document(oils), "base oils"),
        validated(Usual, text_document(usual)),
        [],
        _pours(),
        _scales(),
    )


@cache
def small_book() -> BookFiles:
    """The book of this file as it stands."""
    return book()


@cache
def rulebook() -> Rulebook:
    """The starter's rules."""
    return layered(list(load_rule_files(RULES)), vocabulary())


def worked(text: str = PLAN, files: BookFiles | None = None, variation: str | None = None) -> Situation:
    """A plan's text worked out against a book (the small one if not given)."""
    files = files or small_book()
    return work_out(read_plan(text, files), files, DAY, variation)


def bent(*changes: tuple[str, str], text: str = PLAN) -> str:
    """The plan's text with parts of it replaced, each of them once."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def column(s: Situation, name: str) -> Column:
    """A measure's column at its home grain."""
    found = s.home(name)
    assert isinstance(found, Column)
    return found


def value(s: Situation, name: str, row: int = 0) -> float:
    """One value that must be known and asked."""
    found = column(s, name)
    assert found.asked is None or found.asked[row]
    assert found.low[row] == found.high[row]
    return float(found.low[row])


def values(s: Situation, name: str) -> list[float]:
    """All values of a measure, which must be known."""
    found = column(s, name)
    assert found.known.all()
    return [float(v) for v in found.low]


def spoken(s: Situation, name: str, row: int = 0) -> str:
    """One value of a worded measure."""
    found = column(s, name)
    assert found.scale is not None
    return found.scale[int(value(s, name, row))]


def words(s: Situation, name: str, row: int = 0) -> set[str]:
    """The words of a set at one row."""
    found = s.home(name)
    assert isinstance(found, SetColumn)
    return {word for word, has in zip(found.words, found.has[row], strict=True) if has}


def asked(s: Situation, name: str) -> list[bool]:
    """Where a measure is asked."""
    found = column(s, name)
    return [True] * len(found) if found.asked is None else [bool(a) for a in found.asked]


def grams(s: Situation, scent: str, portion: str) -> float:
    """Grams of one scent in one portion."""
    return float(s.x[s.scents.index(scent), s.portions.index(portion)])


def in_table(s: Situation, grain: str, name: str) -> Column:
    """A measure read at the rows of a grain."""
    found = table(s, grain).column(name)
    assert isinstance(found, Column)
    return found


def doses(s: Situation, seed: int) -> np.ndarray:
    """Random doses of 0 to 6 % of portion oils, some of them none at all."""
    rng = np.random.default_rng(seed)
    found = rng.uniform(0.0, 0.06, s.shape) * s.split.oils
    return np.where(rng.uniform(size=s.shape) < 0.3, 0.0, found)

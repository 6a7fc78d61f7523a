"""What a maker of twenty years corrected, in a book of the moment kept in grams and in ounces."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from tests.strangers.runs import ran

SHELF = """
clove:
  kind: essential oil
  vanillin: 0 %
  browns by: {eugenol: 78 %}
  browns to: {band: tan, at: 0.5 % of portion oils, evidence: own batch}
  acceleration: {is: fast, evidence: own batch}
  ricing: none
  after six weeks: strong
  for skin: yes
  limit in bar: {most: 0.5 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  evidence: supplier
floral:
  kind: fragrance oil
  vanillin: 0.2 %
  browns to: beige
  acceleration: none
  ricing: none
  after six weeks: strong
  for skin: yes
  limit in bar: {most: 6 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  evidence: supplier
bright:
  kind: fragrance oil
  vanillin: 6 %
  browns to: ivory
  acceleration: none
  ricing: none
  after six weeks: strong
  for skin: yes
  limit in bar: {most: 6 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  evidence: supplier
"""


@pytest.fixture(scope="module", params=["book", "ounces"])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The base of `tests/designs` with three oils, in each system."""
    place = tmp_path_factory.mktemp(request.param)
    for each in (Path(__file__).parents[1] / "designs" / request.param).glob("*.yaml"):
        (place / each.name).write_bytes(each.read_bytes())
    (place / "scents.yaml").write_text(SHELF, encoding="utf-8")
    return place


def pair(book: Path, *oils: str) -> str:
    """What `pair` says in short, its lines joined."""
    return " ".join(ran("pair", *oils, "--book", str(book), "--today", "2026-11-30").out.split())


def test_an_oil_is_told_at_no_more_than_its_papers_allow(book: Path) -> None:
    """At the load asked clove would be chocolate; nobody may pour that, so it is told at its own most."""
    clove = next(side for side in Book(book).pair("clove", "floral").sides if side.name == "clove")
    assert clove.alone_at is not None
    assert 0.004 < clove.alone_at < 0.012
    assert "chocolate" != clove.bands.high
    told = pair(book, "clove", "floral").split("clove browns")[1].split(";")[0]
    assert told.endswith("with eugenol 78 % in it")
    assert "at its certificate's most, " in told


def test_a_darker_colour_than_its_vanillin_is_no_contradiction(book: Path) -> None:
    """White florals brown by indole and more (common practice); a paler one than its vanillin contradicts."""
    found = Book(book).pair("floral", "bright").check.findings
    spoken = {f.subject for f in found if f.rule == "words-against-each-other"}
    assert {("bright",)} == spoken
    assert "floral browns white soap to beige, with vanillin 0.2 % in it" in pair(book, "floral", "bright")

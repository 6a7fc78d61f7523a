"""Hue, fade, fixatives and swaps as makers meet them, in a book of grams and in one of ounces."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.api import Book
from tests.strangers.runs import ran

SHELF = """\
peel:
  kind: essential oil
  scent note: top
  tags: [citrus, expressed]
  vanillin: 0 %
  acceleration: none
  ricing: none
  own cast: pale yellow
  for skin: yes
  limit in bar: {most: 8 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  allergen sheet: {limonene: 70 %, beta-pinene: 12 %, gamma-terpinene: 10 %, citral: 2 %, complete: yes}
  evidence: supplier
other-peel:
  kind: essential oil
  scent note: top
  tags: [citrus, expressed]
  vanillin: 0 %
  acceleration: none
  ricing: none
  for skin: yes
  limit in bar: {most: 8 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  allergen sheet: {limonene: 92 %, complete: yes}
  after six weeks: strong
  evidence: own batch
grass:
  kind: essential oil
  scent note: top
  tags: [herb]
  acceleration: none
  ricing: none
  for skin: yes
  limit in bar: {most: 8 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  browns by: {citral: 80 %}
  vanillin: 0 %
  after six weeks: {left: 10 %, evidence: own batch}
  evidence: supplier
root:
  kind: essential oil
  scent note: base
  tags: [wood]
  vanillin: 0 %
  acceleration: none
  ricing: none
  for skin: yes
  own cast: dark amber
  after six weeks: strong
  limit in bar: {most: 8 %, certificate: 51st amendment, category: 9, dated: 2025-03-01}
  evidence: own batch
"""


@pytest.fixture(scope="module", params=["metric", "ounces"])
def book(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shelf beside the makers' base of `tests/designs`, in each system."""
    source = Path(__file__).parents[2] / "designs" / ("book" if request.param == "metric" else "ounces")
    place = tmp_path_factory.mktemp(request.param)
    for each in source.glob("*.yaml"):
        (place / each.name).write_bytes(each.read_bytes())
    (place / "scents.yaml").write_text(SHELF, encoding="utf-8")
    return place


def told(book: Path, *oils: str) -> str:
    """What `pair --more` says of oils, its lines joined."""
    return " ".join(ran("pair", *oils, "--book", str(book), "--more", "--today", "2026-11-30").out.split())


def test_hue_is_told_beside_depth(book: Path) -> None:
    """Citral of four fifths is yellow to orange: never "white", and never the supplier's word for a
    colour."""
    said = told(book, "grass", "root")
    grass = said.split("grass (")[1].split("root (")[0]
    assert "leaves white soap white" not in grass
    assert "Citral" in grass
    assert "the supplier)," not in grass.split(";")[0]


def test_nobody_said_ivory(book: Path) -> None:
    """Where nobody saw a colour, it is reckoned, and said so."""
    assert "reckoned from what is written of it" in told(book, "peel", "root")


def test_a_sheet_of_terpenes_is_faint(book: Path) -> None:
    """Common practice: citrus of terpenes is faint at six weeks; a look of one's own outranks the sheet."""
    said = told(book, "peel", "other-peel")
    assert "faint after six weeks, reckoned from its sheet" in said
    assert "strong after six weeks, your own batch" in said
    assert "very volatile" not in said


def test_a_share_left_is_told_as_it_was_written(book: Path) -> None:
    """A share that one's own batch showed stands with whose word it is."""
    assert "10 % left), your own batch" in told(book, "grass", "root")


def test_no_top_note_holds_another(book: Path) -> None:
    """Only a base note is ever named as what may hold a fading oil."""
    found = Book(book).pair("peel", "grass").helps
    names = {
        name
        for each in found
        if each.kind == "a little of"
        for name in str(each.details["names"]).split(", ")
    }
    assert names <= {"root"}


def test_a_fold_in_the_name_alone_is_a_fold(book: Path) -> None:
    """An oil called five-fold without a tag is held for folded by fade as by gel: one place says so."""
    shelf = book / "scents.yaml"
    before = shelf.read_text("utf-8")
    peel = before[before.index("peel:\n") : before.index("other-peel:\n")]
    try:
        shelf.write_text(f"{before}{peel.replace('peel', 'peel-5x', 1)}", "utf-8")
        assert "fair after six weeks, reckoned from its sheet" in told(book, "peel-5x", "root")
    finally:
        shelf.write_text(before, "utf-8")

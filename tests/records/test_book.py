"""A book: its catalogue, its usual ways, its scales, its notes."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from blendwise.quantity import Basis
from blendwise.records.book import BookFiles, find_book, load_book, load_notes, load_plan
from blendwise.records.kinds.scales import Scales
from blendwise.records.place import RecordError
from blendwise.records.reading.document import text_document, validated
from tests.records.conftest import SCALES

NOTE = "note: {name}\nplan: greenhouse\nlook: at the cut\non: {day}\nportions: {{milk: {{colour: tan}}}}\n"


def test_a_scent_as_it_is_described(book: BookFiles) -> None:
    """Everything a catalogue says of an oil is read: ranges, evidence, limits, sheet, price, looks."""
    tonka = book.scents["tonka-milk"]
    assert tonka.vanillin is not None
    assert (0.05, 0.07, Basis.SCENT) == (tonka.vanillin.low, tonka.vanillin.value, tonka.vanillin.basis)
    assert tonka.browns_by["coumarin"] is None
    assert tonka.browns_to is not None
    assert (tonka.browns_to.band, tonka.browns_to.evidence) == ("tan", "own cup")
    assert tonka.acceleration is not None
    assert (tonka.acceleration.word, tonka.acceleration.against) == ("moderate", "unscented cup")
    assert tonka.limit_in_bar is not None
    assert tonka.limit_in_bar.most.value == pytest.approx(0.091)
    assert tonka.limit_in_bar.dated == date(2024, 6, 30)
    assert tonka.allergen_sheet is not None
    assert list(tonka.allergen_sheet.names) == ["coumarin", "vanillin"]
    assert tonka.allergen_sheet.complete
    assert tonka.price is not None
    assert tonka.price.per_gram == pytest.approx(0.145)
    assert tonka.seen[0].on == date(2026, 2, 11)


def test_what_is_left_out_is_not_known(book: BookFiles) -> None:
    """A missing behaviour is None, and so is one that says it is not known; none of them is `none`."""
    lime, vetiver = book.scents["lime-leaf"], book.scents["vetiver"]
    assert lime.acceleration is not None
    assert lime.acceleration.word == "none"
    assert lime.vanillin is None
    assert vetiver.acceleration is None
    assert (vetiver.ricing, vetiver.for_skin, vetiver.allergen_sheet) == (None, None, None)
    assert lime.tags == ["citrus"]


def test_colourants_oils_usual(book: BookFiles) -> None:
    """Colours are six lower-case digits; saponification values are ranges; the usual units are the book's."""
    assert book.colourants["titanium-dioxide"].hex == "#fafaf7"
    assert book.oils["coconut"].saponification.mid == 256.5
    assert book.oils["coconut"].lauric is True
    assert (book.usual.units.mass, book.usual.units.temperature, book.usual.units.rates) == ("oz", "F", "ppo")
    assert book.usual.lye is not None


def test_scales(book: BookFiles) -> None:
    """Bands rise from ivory to an open end, and every acceleration word has its factor."""
    assert book.scales.bands[0].word == "ivory"
    assert book.scales.bands[-1].up_to is None
    assert book.scales.bands[1].up_to is not None
    assert book.scales.bands[1].up_to.basis is Basis.PORTION_BATTER
    assert book.scales.acceleration["moderate"].factor.high == 3.0
    assert book.scales.fluid["ordinary"].minutes.low == 8.0


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("up to: 0.03 %", "up to: 0.3 %"),
        ("{word: chocolate, meaning", "{word: chocolate, up to: 1 %, meaning"),
        ("{word: ivory, ", "{word: cream, "),
        ("  seizes: {factor: 8 to 20, meaning: solid}\n", ""),
    ],
)
def test_scales_that_do_not_rise(folder: Path, old: str, new: str) -> None:
    """Bands out of order, a closed last band and a missing word are refused."""
    assert old in SCALES
    scales = text_document(SCALES.replace(old, new), folder / "scales.yaml")
    with pytest.raises(RecordError, match=r"scales\.yaml"):
        validated(Scales, scales)


WRONG = [
    ("for skin: yes", "for skin: perhaps", "neither yes nor no"),
    ("dated: 2024-06-30", "dated: 30.6.2024", "year-month-day"),
    ("dated: 2024-06-30", "dated: 2024-02-30", "not a day"),
    ("vanillin: 5 to 7 %", "vanilin: 5 to 7 %", '"vanillin"'),
    ("is: moderate", "is: modrate", '"moderate"'),
    ("most: 9.1 %", "most: 9.1 % of batch oils", "cannot stand here"),
    ("lot: B-2231", "name: B-2231", "heading"),
    ("tags: [aldehyde, gourmand]", "tags: {a: b}", "list"),
    ("seen:", "seem:", '"seen"'),
]


@pytest.mark.parametrize(("old", "new", "says"), WRONG)
def test_a_catalogue_entry_refused(folder: Path, old: str, new: str, says: str) -> None:
    """A slip in a catalogue is told in plain words with the file's name."""
    file = folder / "scents.yaml"
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new))
    with pytest.raises(RecordError, match=r"scents\.yaml") as caught:
        load_book(folder)
    assert says in str(caught.value)


def test_more_than_the_whole_oil(folder: Path) -> None:
    """Constituents that are certain to exceed the oil itself are refused."""
    file = folder / "scents.yaml"
    file.write_text(file.read_text().replace("vanillin: 5 to 7 %", "vanillin: 99.5 to 99.9 %", 1))
    with pytest.raises(RecordError, match="more than the whole oil"):
        load_book(folder)


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ("saponification: 0.184 to 0.196", "is no saponification value"),
        ("saponification: 184 to 1960", "is no saponification value"),
        ("saponification: 184 to 196, lot saponification: 135", "mg of NaOH"),
        ("saponification: 184 to 196, lot saponification: 250", "far from the published"),
    ],
)
def test_saponification_values_that_would_mislead(folder: Path, fields: str, says: str) -> None:
    """A value in other units, or a lot's far from its kind, is refused: lye is reckoned from it."""
    (folder / "oils.yaml").write_text(f"olive: {{{fields}}}\n")
    with pytest.raises(RecordError, match=says):
        load_book(folder)


def test_a_lot_near_its_kind(folder: Path) -> None:
    """A lot's own value a little beyond the published range is taken."""
    (folder / "oils.yaml").write_text("olive: {saponification: 184 to 196, lot saponification: 199}\n")
    lot = load_book(folder).oils["olive"].lot_saponification
    assert lot is not None
    assert lot.value == 199.0


def test_faults_of_all_files_together(folder: Path) -> None:
    """One run tells what is wrong in four files, each at its place."""
    for name, text in {
        "scents.yaml": "a: {kind: oil}\nb: {vanillin: 3}\n",
        "colourants.yaml": "c: {hex: #ffffff}\n",
        "oils.yaml": "d: {}\n",
        "usual.yaml": "hands: two\n",
    }.items():
        (folder / name).write_text(text)
    with pytest.raises(RecordError) as caught:
        load_book(folder)
    named = [(fault.place.file.name, fault.place.line) for fault in caught.value.faults]
    assert named == [
        ("colourants.yaml", 1),
        ("oils.yaml", 1),
        ("scents.yaml", 1),
        ("scents.yaml", 2),
        ("usual.yaml", 1),
    ]


def test_files_that_may_be_missing(folder: Path) -> None:
    """Colourants, oils and usual ways may be missing; scents may not."""
    for name in ("colourants.yaml", "oils.yaml", "usual.yaml"):
        (folder / name).unlink()
    book = load_book(folder)
    assert (book.colourants, book.oils) == ({}, {})
    (folder / "scents.yaml").unlink()
    with pytest.raises(RecordError, match="no such file"):
        load_book(folder)


def test_a_book_without_rules_uses_the_shipped_ones(folder: Path) -> None:
    """Where a book has no rulebook of its own, the shipped scales and pour styles serve."""
    book = load_book(folder)
    assert "column" in book.pours
    assert book.scales.bands[-1].word == "chocolate"


def test_the_book_is_found_from_within(folder: Path) -> None:
    """A plan's folder leads up to its book; a folder outside leads nowhere, and that is said."""
    assert find_book(folder / "plans" / "greenhouse-morning.yaml") == folder
    with pytest.raises(RecordError, match="No book"):
        find_book(folder.parent)


def test_plan_paths_and_loading(folder: Path, book: BookFiles) -> None:
    """Plans are listed by name and read against the book."""
    (path,) = book.plan_paths()
    assert load_plan(path, book).plan == "greenhouse-morning"


def test_a_damaged_note_is_set_aside(folder: Path) -> None:
    """Notes come in order of day; a damaged one is reported and hides none of the others."""
    notes = folder / "notes"
    notes.mkdir()
    (notes / "a.yaml").write_text(NOTE.format(name="later", day="2026-03-16"))
    (notes / "b.yaml").write_text("note: [\n")
    (notes / "c.yaml").write_text(NOTE.format(name="sooner", day="2026-03-14"))
    found, faults = load_notes(folder)
    assert [note.note for note in found] == ["sooner", "later"]
    assert [fault.place.file.name for fault in faults] == ["b.yaml"]


def test_reading_a_book_imports_nothing_heavy(folder: Path) -> None:
    """A sound book and plan are read without rapidfuzz, pandas, jinja2, rich or the solver."""
    code = (
        "import sys; from pathlib import Path; from blendwise.records.book import *;"
        f"b = load_book(Path({str(folder)!r})); load_plan(b.plan_paths()[0], b);"
        "print([m for m in ('rapidfuzz', 'pandas', 'jinja2', 'rich', 'highspy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_large_book_is_read_whole(folder: Path) -> None:
    """Thirty scents, eighteen colourants and twelve oils are all there."""
    entry = (folder / "scents.yaml").read_text().split("lime-leaf:")[0]
    (folder / "scents.yaml").write_text("".join(entry.replace("tonka-milk", f"s{n}") for n in range(30)))
    (folder / "colourants.yaml").write_text("".join(f'c{n}: {{hex: "#a0b1c2"}}\n' for n in range(18)))
    (folder / "oils.yaml").write_text("".join(f"o{n}: {{saponification: 180 to 190}}\n" for n in range(12)))
    book = load_book(folder)
    assert (len(book.scents), len(book.colourants), len(book.oils)) == (30, 18, 12)

"""A plan: what is read, and what is refused where it stands."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise import Book
from blendwise.quantity import Amount, Basis
from blendwise.records.book import BookFiles, read_plan
from blendwise.records.place import RecordError

ROOT = Path(__file__).resolve().parents[2]


def test_the_whole_plan(plan_text: str, book: BookFiles) -> None:
    """Every field of a full plan is read under its attribute, in canonical units."""
    plan = read_plan(plan_text, book)
    assert plan.recipe is not None
    assert plan.recipe.amount is not None
    assert plan.recipe.lye is not None
    assert plan.process is not None
    assert plan.scents is not None
    assert plan.scents.load is not None
    assert (plan.plan, plan.for_, plan.pour) == ("greenhouse-morning", "sale", "column")
    assert plan.recipe.amount.inside == (25.0, 9.0, 6.5)
    assert plan.recipe.held_back["olive"]["soil"].value == 10.0
    assert (plan.process.gel, plan.process.gel_at) == ("avoid", None)
    assert [p.share.value if isinstance(p.share, Amount) else p.share for p in plan.portions] == [
        0.35,
        0.25,
        0.25,
        "the rest",
    ]
    assert plan.scents.load.basis is Basis.BATCH_OILS
    assert plan.doses["soil"]["tonka-milk"].of_total == 1.0
    assert plan.doses["milk"]["lime-leaf"].amount is not None
    assert plan.never[0].in_ == ["milk"]
    assert plan.variations["deep"].doses["soil"]["vetiver"].of_total == 0.5
    assert plan.accept[0].down_to == "6"


def test_places(plan_text: str) -> None:
    """A plan, its parts and its single values know their line and column."""
    plan = read_plan(plan_text)
    assert plan.doc is not None
    assert plan.portions[2].place is not None
    assert plan.portions[2].place.line == 15
    found = plan.doc.place("doses", "milk", "lime-leaf")
    assert (22, 21) == (found.line, found.column)
    assert (22, 10) == (plan.doc.key_place("doses", "milk", "lime-leaf").line, 10)


BENT = [
    ("share: 35 %", "share: 60 %", 13, "take 110 %", "nothing is left"),
    ("{name: soil, share: the rest", "{name: soil, share: 10 %", 13, "add up to 95 %", "the rest"),
    (
        "{name: sage, share: 25 %",
        "{name: sage, share: the rest",
        16,
        "second portion takes the rest",
        "share",
    ),
    ("{name: sage, share: 25 %", "{name: sage, share: 0 %", 14, "is nothing", ""),
    ("name: sage", "name: milk", 14, '"milk" is already at line 13', "Rename"),
    ("  soil: {tonka-milk", "  soi: {tonka-milk", 23, 'no portion "soi"', '"soil"'),
    ("in: milk}", "in: mlik}", 24, 'no portion "mlik"', '"milk"'),
    ("in: [sage, soil]", "in: [sage, sol]", 25, 'no portion "sol"', '"soil"'),
    ("{olive: {soil", "{olive: {soyl", 8, 'no portion "soyl"', '"soil"'),
    ("deep: {doses: {soil", "deep: {doses: {soyl", 27, 'no portion "soyl"', '"soil"'),
    ("never: [{scent: tonka-milk", "never: [{scent: tonka", 24, 'no scent "tonka"', '"tonka-milk"'),
    ("milk: {lime-leaf", "milk: {lime-laef", 22, 'no scent "lime-laef"', '"lime-leaf"'),
    ("held back: {olive", "held back: {olives", 8, 'no oil "olives"', '"olive"'),
    ("olive: 45 %", "olive: 44 %", 4, "add up to 99 %", "1 % short"),
    ("olive: 45 %", "olive: 450 g", 4, "mix masses and per cent", "one way"),
    ("olive: 45 %", "olive: 45,5 %", 4, "no value", "write 45.5 %"),
    (
        "red-oxide: 0.4 % of portion oils",
        "red-oxide: 0.4 % of oils",
        15,
        "does not say which",
        "of batch oils",
    ),
    ("red-oxide: 0.4 % of portion oils", "red-oxide: 0.4 %", 15, "does not say of what", "of portion oils"),
    ("lime-leaf: 3.5 % of portion oils", "lime-leaf: 3.5 % of oils", 22, "which", '"3.5 % of portion oils"'),
    ("load: 4 % of batch oils", "load: 4 %", 19, "of what", '"4 % of batch oils"'),
    ("load: 4 % of batch oils", "load: -4 % of batch oils", 19, "negative", ""),
    ("load: 4 % of batch oils", "load: 400 % of batch oils", 19, "100 %", "slip"),
    ("superfat: 5 %", "superfat: 5 %, NaOH: 140 g", 6, "both ways", "Keep one"),
    ("concentration: 31 %", "concentration: 31 %, water: 300 g", 6, "both ways", "Keep one"),
    ("concentration: 31 %", "concentration: 0 %", 6, "cannot be nothing", ""),
    ("bars: 10", "bars: 10, oils: 900 g", 5, "two ways", "Keep one"),
    ("bars: 10", "bars: 0", 5, "whole number", ""),
    ("tonka-milk: 1, lime", "tonka-milk: 20 %, lime", 18, "parts and per cent", "one way"),
    ("dosing: same total", "dosing: same totals", 20, "not one of the words", '"same total"'),
    ("may become: cream", "may become: crem", 13, "not one of the words", '"cream"'),
    ("may become: cream", "may becom: cream", 13, "not a field", '"may become"'),
    ("portions:", "portion:", 12, "not a field", '"portions"'),
    ("gel: avoid", "gel: prevent", 9, "not a plan for gel", "force at 70 °C"),
    ("mass: 90 g", "mass: [90 g]", 10, "not a list", ""),
    ("mass: 90 g, ", "", 10, '"mass" is missing', "Add it"),
    ("soil: {tonka-milk: all of it}", "milk: {vetiver: all of it}", 23, "already written at line 22", ""),
    ("{lime-leaf: 3.5 % of portion oils}", "{vetiver: 1 g}", 22, "keeps it", "only"),
    ("{lime-leaf: 3.5 % of portion oils}", "{tonka-milk: half of it}", 22, "keeps it", "never"),
    (
        "milk: {lime-leaf: 3.5 %",
        "sage: {tonka-milk: half of it, lime-leaf: 3.5 %",
        23,
        "than there is",
        "Lower",
    ),
    ("mould: loaf", "mold: loaf, mould: slab", 5, "same field", "Keep one"),
    ("because: ", "becaus: ", 28, "not a field", '"because"'),
    ("vetiver: half of it", "vetiver: half", 27, "not an amount", "30 g"),
    ("pour: column", "pour: column\ntouching: [[milk, milk]]", 12, "touch itself", ""),
    ("pour: column", "pour: column\nweigh together: [[vetivr]]", 12, 'no scent "vetivr"', '"vetiver"'),
    ("pour: column", "pour: column\nweigh together: [[vetiver], [vetiver]]", 12, "two premixes", "one"),
    ("pour: column", "pour: column\npremixes: 7", 12, "more than", "1 to 6"),
    ("prefer: [true", "prefer: [cheap, true", 26, "not one of the words", "wide margin"),
    ("pour: column", "pour: column\ntouching: [[milk]]", 12, "missing", ""),
    ("pour: column", "pour: column\norder: [milk, sage, milk]", 12, "twice", "Keep one"),
]


@pytest.mark.parametrize(("old", "new", "line", "message", "remedy"), BENT)
def test_one_thing_wrong(plan_text: str, old: str, new: str, line: int, message: str, remedy: str) -> None:
    """One slip in a sound plan is told once or more, first at its own line, with the remedy."""
    assert plan_text.count(old) >= 1
    with pytest.raises(RecordError) as caught:
        read_plan(plan_text.replace(old, new, 1))
    told = [fault for fault in caught.value.faults if message in fault.message]
    assert told, str(caught.value)
    assert line == told[0].place.line
    assert remedy in told[0].remedy


def test_several_faults_together(plan_text: str) -> None:
    """Faults in three fields are reported in one go, in the order of the file."""
    bent = plan_text.replace("25 x 9", "25 by 9").replace("90 g", "90").replace("load: 4 %", "load: 4 cups")
    with pytest.raises(RecordError) as caught:
        read_plan(bent)
    assert [5, 10, 19] == [fault.place.line for fault in caught.value.faults]


STRANGERS = [
    ("vetiver: 1}", "vetivert: 1}", 'no scent "vetivert"', '"vetiver"'),
    ("titanium-dioxide", "titanium-dioxid", 'no colourant "titanium-dioxid"', '"titanium-dioxide"'),
    ("mixed in: {sunflower", "mixed in: {sunflour", 'no base oil "sunflour"', '"sunflower"'),
    ("shea: 10 %", "sheea: 10 %", 'no base oil "sheea"', '"shea"'),
    ("pour: column", "pour: colum", 'no pour style "colum"', '"column"'),
    ("scents: {}", "scents: {tonka: 1 g}", 'no scent "tonka"', '"tonka-milk"'),
]


@pytest.mark.parametrize(("old", "new", "message", "remedy"), STRANGERS)
def test_names_that_the_book_does_not_have(
    plan_text: str, book: BookFiles, old: str, new: str, message: str, remedy: str
) -> None:
    """A scent, colourant, oil or style that the book does not have is refused, and the nearest is stated."""
    with pytest.raises(RecordError) as caught:
        read_plan(plan_text.replace(old, new), book)
    told = [fault for fault in caught.value.faults if message in fault.message]
    assert told, str(caught.value)
    assert remedy in told[0].remedy


def test_no_recipe_anywhere(plan_text: str, book: BookFiles) -> None:
    """A plan without a recipe needs a usual one in the book."""
    start, end = plan_text.index("recipe:"), plan_text.index("process:")
    with pytest.raises(RecordError, match="no recipe"):
        read_plan(plan_text[:start] + plan_text[end:], book)


@pytest.mark.parametrize("word", ["mold", "mould"])
def test_either_spelling_of_a_field(plan_text: str, word: str) -> None:
    """`mold` and `colorants` are the same fields as `mould` and `colourants`, and keep their places."""
    text = plan_text.replace("mould", word).replace("colourants:", "colorants:")
    plan = read_plan(text)
    assert plan.doc is not None
    assert "titanium-dioxide" in plan.portions[0].colourants
    assert plan.doc.place("portions", 0, "colourants", "titanium-dioxide").column > 50


def test_names_are_never_respelt() -> None:
    """A portion called `mold` stays `mold`."""
    text = (
        "plan: a\nportions: [{name: mold, share: 100 %}]\n"
        "scents: {blend: {color: 1}}\ndoses: {mold: {color: none}}\n"
    )
    plan = read_plan(text)
    assert plan.doses["mold"]["color"].of_total == 0.0


@pytest.mark.parametrize(
    ("text", "share"),
    [
        ("all of it", 1.0),
        ("a third of it", 1 / 3),
        ("A quarter of it", 0.25),
        ("none", 0.0),
        ("30 % of it", 0.3),
    ],
)
def test_fractions_of_a_total(plan_text: str, text: str, share: float) -> None:
    """A dose may be a fraction of all there is of that oil."""
    plan = read_plan(plan_text.replace("vetiver: half of it", f"vetiver: {text}"))
    assert share == pytest.approx(plan.variations["deep"].doses["soil"]["vetiver"].of_total)


def test_gel_may_be_forced_at_a_temperature(plan_text: str) -> None:
    """`force at 158 °F` is read as forcing, at 70 °C."""
    plan = read_plan(plan_text.replace("gel: avoid", "gel: force at 158 °F"))
    assert plan.process is not None
    assert plan.process.gel_at is not None
    assert plan.process.gel == "force"
    assert plan.process.gel_at.value == pytest.approx(70.0)


@pytest.mark.parametrize(
    ("blend", "load"),
    [
        ("{lavender: 0.4 oz ppo, cedar: 0.2 oz ppo}", ""),
        ("{lavender: 2.5 % of batch oils, cedar: 1.25 % of batch oils}", ""),
        ("{lavender: 0.4 oz ppo, cedar: 0.2 oz ppo}", "0.6 oz ppo"),
    ],
)
def test_a_blend_may_be_written_by_its_rates_of_the_oils(tmp_path: Path, blend: str, load: str) -> None:
    """Each oil's own rate; together they are the load, as if it were written beside parts."""
    book = Book(ROOT / "demo_catalog")
    said = book.situation(_by_rates(tmp_path, "{lavender: 2, cedar: 1}", "3.75 % of batch oils")).x.tolist()
    assert said == [pytest.approx(row) for row in book.situation(_by_rates(tmp_path, blend, load)).x.tolist()]


@pytest.mark.parametrize(
    ("blend", "load", "told"),
    [
        ("{lavender: 0.4 oz ppo, cedar: 1}", "", "mixes"),
        ("{lavender: 0.4 oz ppo, cedar: 0.2 oz ppo}", "1 oz ppo", "add up to"),
    ],
)
def test_rates_of_the_oils_stand_alone(tmp_path: Path, blend: str, load: str, told: str) -> None:
    """Not beside parts, and not beside another load."""
    with pytest.raises(RecordError, match=told):
        Book(ROOT / "demo_catalog").situation(_by_rates(tmp_path, blend, load))


def _by_rates(folder: Path, blend: str, load: str) -> Path:
    stated = f"\n  load: {load}" if load else ""
    file = folder / "rates.yaml"
    file.write_text(
        f"plan: rates\nportions: [{{name: all, share: the rest}}]\nscents:\n  blend: {blend}{stated}\n",
        "utf-8",
    )
    return file

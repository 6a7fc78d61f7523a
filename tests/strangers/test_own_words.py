"""What strangers type into the questions of a draft and a note: understood, or asked back at once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.draft import checks
from blendwise.answers.note.plain_words import value_meant
from blendwise.answers.refusals import NotAskable
from blendwise.quantity import QuantityError
from blendwise.quantity.typed import with_unit
from tests.strangers.runs import ran
from tests.strangers.terminal import ROOT, at_a_terminal

POURED = ("--poured", "yesterday")
FOUND = ROOT / "tests" / "strangers" / "found"


@pytest.fixture(scope="module")
def soap(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book that ten years of bottles make at a terminal, in ounces; its folder's parent."""
    folder = tmp_path_factory.mktemp("ten years")
    shutil.copy(FOUND / "ten-years" / "bottles.csv", folder)
    told = {"weigh in": ["oz"], "Temperatures": ["F"], "Rates": ["ppo"], "the room": ["70 degrees"]}
    told |= {"Base oils": ["3 lb"], "batter at the split": ["100 deg F"], "for home": ["home"]}
    code, screen = at_a_terminal(["start", "soap", "--shelf", "bottles.csv"], folder, told)
    assert 0 == code, screen
    return folder


@pytest.mark.parametrize(
    ("typed", "unit", "read"),
    [
        ("70 degrees", "°F", "70 °F"),
        ("70 deg", "°F", "70 °F"),
        ("70°", "°F", "70 °F"),
        ("21 celsius", "°F", "21 °C"),
        ("70 degrees Fahrenheit", "°C", "70 °F"),
        ("70 degrees or so", "°F", "70 degrees or so"),
        ("70", "°C", "70 °C"),
        ("12 degrees", "min", "12 degrees"),
    ],
)
def test_degrees(typed: str, unit: str, read: str) -> None:
    """Degrees without a letter are those that were asked for; a letter that was typed stands."""
    assert read == with_unit(typed, unit)


@pytest.mark.parametrize(
    ("typed", "band"),
    [("white", "ivory"), ("none", "ivory"), ("dark brown", "chocolate"), ("Light Brown", "tan")],
)
def test_how_dark_in_the_words_of_a_sheet(typed: str, band: str) -> None:
    """What a sheet of oils may say of browning may be typed of a portion too."""
    assert band == checks.band(typed)


@pytest.mark.parametrize("typed", ["orange", "purple", "dark?", "brownish maybe", ""])
def test_how_dark_is_never_guessed(typed: str) -> None:
    """A colour that is no browning, and a word that is not certain, are asked back."""
    with pytest.raises(NotAskable, match="There is no band"):
        checks.band(typed)


def test_oils_that_make_a_hundred(soap: Path) -> None:
    """Bare figures that make a hundred are per cent; others are asked for their unit."""
    book = Book(soap / "soap").files
    read = checks.base_oils("olive 50, coconut 30, sweet almond 5, lard 15", book)
    assert {"olive": "50 %", "coconut": "30 %", "sweet-almond": "5 %", "lard": "15 %"} == read
    for other in ("olive 50, coconut 30", "olive 50 %, coconut 50", "olive 600, coconut 400"):
        with pytest.raises(QuantityError, match="has no unit"):
            checks.base_oils(other, book)


def test_a_draft_and_a_note_in_ounces(soap: Path) -> None:
    """Examples are in the book's units; what is no temperature or time is asked back where it is typed."""
    room = Book(soap / "soap").files.usual.room
    assert room is not None
    assert 70 == pytest.approx(room.low * 9 / 5 + 32)
    said = {"How much": ["?", "8x4x2.5"], "Name of the first": ["white"], 'Share of "white"': ["half"]}
    said |= {"Name of the next": ["soil", ""], 'Colours of "white"': ["titanium dioxide"]}
    said |= {'dark "white"': ["white"], 'dark "soil"': ["dark brown"], "Next oil": ["cotton", "lavender", ""]}
    code, screen = at_a_terminal(["draft", "porch", "--book", "soap"], soap, said)
    assert code in (0, 1), screen
    asked = " ".join(screen[: screen.index("Written to")].split())
    assert "38 oz of oils, loaf 10 x 3.5 x 2.5 in" in asked
    for metric in ("1100 g", "300 g", " cm", " mL", "20x8x6"):
        assert metric not in asked
    plan = Book(soap / "soap").plan("porch")
    assert [None, "chocolate"] == [each.may_become for each in plan.portions]
    assert ["titanium-dioxide"] == list(plan.portions[0].colourants)
    look = {"white: minutes": ["12"], "the room": ["swirl went ok", "70 degrees"]}
    look |= {"first scenting": ["fine", "22"], "Anything else": ["smelt good"]}
    code, screen = at_a_terminal(["note", "soap/plans/porch.yaml", "--look", "pot"], soap, look)
    assert 0 == code, screen
    (file,) = (soap / "soap" / "notes").glob("*porch*")
    assert "room: 70 °F" in file.read_text("utf-8")
    assert "pour took: 22 min" in file.read_text("utf-8")


def test_a_bit_soft_is_soft_and_a_bit_bled_is_asked_back() -> None:
    """What a maker says with a grain of salt is taken only where it can be but one word."""
    assert "soft" == value_meant("edge", "Bit soft")
    assert "a bit bled" == value_meant("edge", "a bit bled")


def test_a_halo_at_the_cut_is_asked_where_it_bled(soap: Path) -> None:
    """How far it crept can be said at the cut of an edge that bled, and of no other."""
    plan = ("--portion", "milk: half", "--portion", "soil", "--scent", "Cotton Line")
    drafted = ran("draft", "crept", "--book", soap / "soap", "--yes", *plan)
    assert drafted.code in (0, 1), drafted.err
    look = {"milk: edge": ["halo 3 mm", "bled"], "milk: halo": ["3 mm"], "soil: edge": ["clean"]}
    code, screen = at_a_terminal(["note", "soap/plans/crept.yaml", "--look", "cut", *POURED], soap, look)
    assert 0 == code, screen
    told = " ".join(screen.split())
    assert "milk: halo" in told
    assert "soil: halo" not in told
    (file,) = (soap / "soap" / "notes").glob("*crept*")
    assert "halo: 3 mm" in file.read_text("utf-8")


def test_a_question_without_a_default_says_the_way_back(soap: Path) -> None:
    """Enter at a question that has no default leads out by `<`, and a portion named by mistake is dropped."""
    said = {"Name of the first": ["", "milk"], "Name of the next": ["soil", "slip", ""]}
    said |= {'Share of "slip"': ["", "<"]}
    code, screen = at_a_terminal(["draft", "slipped", "--book", "soap"], soap, said)
    assert code in (0, 1), screen
    assert 2 == " ".join(screen.split()).count("at a prompt `<` goes back")
    assert ["milk", "soil"] == [each.name for each in Book(soap / "soap").plan("slipped").portions]

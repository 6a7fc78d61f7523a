"""A look becomes a note: which batch, which look, what is kept of the day, and what is refused."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blendwise import Book
from blendwise.answers.note.compute import Asked
from blendwise.answers.note.frozen import Day
from blendwise.answers.note.result import Next
from blendwise.answers.note.said import doses_said, looks_said
from blendwise.answers.note.text import note_text
from blendwise.answers.note.typed import day_typed, look_typed
from blendwise.answers.refusals import NotAskable
from blendwise.beliefs.changes import changes_of
from blendwise.records.as_of import AsOf
from blendwise.records.book import load_note
from blendwise.records.notes.batches import batches_of
from blendwise.records.notes.note import Note
from blendwise.records.notes.notebook import read_notebook
from blendwise.records.reading.document import text_document, validated
from blendwise.science.colour_words import NAMED_HEXES
from blendwise.show.schemas import schema_of
from tests.answers.note.conftest import Blendwise

DAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    """The cache has tests of its own."""
    monkeypatch.setenv("BLENDWISE_NO_CACHE", "1")


def test_the_first_note_keeps_the_day(demo: Path) -> None:
    """Plan text, rules, doses, masses, lots and expectations stand in the first note as they were."""
    book = Book(demo)
    done = book.note("three-whites", Asked(saw=("all: ricing none",)), on=AsOf(DAY))
    note = load_note(demo / done.file)
    situation = book.situation("three-whites", AsOf(DAY))
    assert note.frozen is not None
    assert (demo / "plans" / "three-whites.yaml").read_text("utf-8") == note.frozen.plan_text
    assert book.rulebook.fingerprint == note.frozen.rules
    for p, name in enumerate(situation.portions):
        doses = {scent: amount.value for scent, amount in note.frozen.doses[name].items()}
        expected = {s: situation.x[i, p] for i, s in enumerate(situation.scents)}
        assert doses == pytest.approx(expected, abs=5e-4)
        assert note.frozen.portions[name].oils.value == pytest.approx(situation.split.oils[p], abs=5e-4)
    assert {"burnt-sugar": "BS-7", "tonka-milk": "B-2231"} == note.lots
    assert {"browning band", "minutes fluid", "after six weeks", "ricing"} == note.frozen.predictions[
        "snow"
    ].keys()
    assert "browning-shows-in-light" in note.frozen.flagged
    assert Next("at the cut", date(2026, 11, 26)) == done.next


def test_doses_as_weighed_replace_the_plans(demo: Path) -> None:
    """What was weighed otherwise is kept as weighed, and what was expected follows it."""
    book = Book(demo)
    weighed = ("snow: tonka-milk 0 g, burnt-sugar 0 g",)
    note = load_note(demo / book.note("three-whites", Asked(doses=weighed), on=AsOf(DAY)).file)
    assert note.frozen is not None
    assert {} == note.frozen.doses["snow"]
    assert "ivory" == note.frozen.predictions["snow"]["browning band"]
    assert "chocolate" == note.frozen.predictions["shell"]["browning band"]


def test_a_later_look_finds_its_batch(demo: Path) -> None:
    """A later look belongs to the plan's last batch, names the note before it, and freezes nothing."""
    done = Book(demo).note("rain-jar", Asked(look="later", saw=("pail: strength gone",)), on=AsOf(DAY))
    assert ("RJ-261003", "2026-11-14-rain-jar-week-6", False) == (done.batch, done.after, done.froze)
    note = load_note(demo / done.file)
    assert note.frozen is None
    assert date(2026, 10, 3) == note.poured


def test_a_version_of_its_own_freezes_its_own(demo: Path) -> None:
    """The first look at another version keeps the doses of that version."""
    book = Book(demo)
    look = Asked(
        look="at the pot",
        variation="shared",
        batch="GM-260905",
        on=date(2026, 9, 5),
        saw=("all: ricing none",),
    )
    note = load_note(demo / book.note("greenhouse-morning", look, on=AsOf(DAY)).file)
    assert note.frozen is not None
    assert {"tonka-milk", "lime", "cedar"} == note.frozen.doses["brick"].keys()


DAYS = {2: "at the cut", 8: "week 1", 15: "week 2", 30: "week 4", 41: "week 6", 90: "later"}


def test_the_look_follows_from_the_day(demo: Path) -> None:
    """Without --look the stage is the one whose day it is; the day of the pour is taken by the first note."""
    book, poured = Book(demo), date(2026, 6, 1)
    first = book.note("three-whites", Asked(on=poured, saw=("all: ricing none",)), on=AsOf(DAY))
    assert "at the pot" == first.look
    with pytest.raises(NotAskable, match="already"):
        book.note("three-whites", Asked(on=poured, saw=("all: edge clean",)), on=AsOf(DAY))
    for days, look in DAYS.items():
        said = Asked(on=poured + timedelta(days=days), saw=("all: edge clean",))
        done = book.note("three-whites", said, on=AsOf(DAY))
        assert look == done.look
        (demo / done.file).unlink()  # each is the batch's second note


REFUSED = {
    "before the pour": (Asked(on=date(2026, 9, 1), saw=("pail: edge clean",)), "before the pour"),
    "in the future": (Asked(on=date(2027, 1, 1), saw=("pail: edge clean",)), "in the future"),
    "no such portion": (Asked(saw=("pal: edge clean",)), "No portion"),
    "no such colour": (Asked(saw=("pail: colour sparkling",)), "not a colour"),
    "no such word": (Asked(saw=("pail: strength loud",)), "not one of the words"),
    "no such field": (Asked(saw=("pail: smoothness good",)), "not something that can be noted"),
    "no portion said": (Asked(saw=("colour tan",)), "does not say"),
    "no such version": (Asked(variation="dark", saw=("pail: edge clean",)), "no variation"),
    "no such note": (Asked(corrects="nothing", saw=("pail: edge clean",)), "no note"),
    "no such look": (Asked(look="week 5", saw=("pail: edge clean",)), "not one of the looks"),
    "no such material": (Asked(lots=("rain-barel=2",), saw=("pail: edge clean",)), "no material"),
    "nothing said": (Asked(look="week 6"), "Nothing was said"),
    "not minutes": (Asked(saw=("pail: thick at ten",)), "ten"),
}


@pytest.mark.parametrize(("asked", "told"), REFUSED.values(), ids=REFUSED.keys())
def test_what_cannot_be_noted_is_refused(demo: Path, asked: Asked, told: str) -> None:
    """Each is told in its own words with what to write, and no file is written."""
    before = sorted((demo / "notes").iterdir())
    with pytest.raises(Exception, match=re.escape(told)) as caught:
        Book(demo).note("rain-jar", asked, on=AsOf(DAY))
    assert type(caught.value).__name__ in ("NotAskable", "QuantityError", "RecordError")
    assert before == sorted((demo / "notes").iterdir())


def test_what_is_said_in_one_line() -> None:
    """Several portions, all of them, other words for a field, and remarks with commas are understood."""
    found = looks_said(
        ["a and b: colour tan, edge clean", "all: strength fair", "c: thick at 11, remarks Well, so, so."],
        ["a", "b", "c"],
    )
    assert {"colour": "tan", "edge": "clean", "strength": "fair"} == found["a"] == found["b"]
    assert {"strength": "fair", "minutes to thick": "11 min", "remarks": "Well, so, so."} == found["c"]
    assert "#b5803f" == looks_said(["a: color caramel"], ["a"])["a"]["colour"]
    assert {"s": {"tonka-milk": "6.5 g", "lime": "3 g"}} == doses_said(
        ["s: tonka-milk 6.5 g, lime 3 g"], ["s"]
    )


printable = st.text(
    st.characters(codec="utf-8", exclude_categories=("Cs", "Cc", "Cf", "Cn", "Co")), max_size=60
)


@given(st.lists(printable, max_size=8), st.sampled_from(["\n", "\n\n", ""]), printable)
def test_any_plan_text_is_kept_as_it_is(lines: list[str], end: str, remark: str) -> None:
    """Whatever a plan's text or a remark holds, the note gives it back sign for sign."""
    text = "\n".join(lines) + end
    day = Day("r", {"a": {"x": "1 g"}}, {}, {}, {}, text, {})
    fields = {"note": "n", "plan": "p", "look": "later", "on": "2026-01-01", "remarks": remark.strip()}
    read = validated(Note, text_document(note_text(fields, day)))
    assert read.frozen is not None
    assert (read.frozen.plan_text or "") == text
    assert (read.remarks or "") == remark.strip()


def test_a_note_by_options(blendwise: Blendwise, demo: Path) -> None:
    """The command writes a note that it can read, and its JSON is as published."""
    ran = blendwise(
        "note", "rain-jar", "--book", str(demo), "--look", "later", "--saw", "all: strength gone",
        "--vote", "pail=3",
        "--favourite", "cloud", "--photo", "IMG_2214", "--mass", "98 g", "--repeat", "no", "--json",
    )  # fmt: skip
    assert (0, "") == (ran.code, ran.err)
    document = json.loads(ran.out)
    jsonschema.validate(document, schema_of("note-written"))
    note = load_note(demo / document["file"])
    assert ({"pail": 3}, ["cloud"], ["IMG_2214"], False) == (
        note.votes,
        note.favourites,
        note.photos,
        note.repeat,
    )
    assert note.mass is not None
    assert 98 == note.mass.value


def test_the_doses_of_an_assignment(blendwise: Blendwise, demo: Path) -> None:
    """With --assigned the doses kept are those that the assignment gives."""
    assert 0 == blendwise("note", "harbour-morning", "--book", str(demo), "--assigned").code
    (file,) = (demo / "notes").glob("2026-11-25-harbour*")
    split = Book(demo).assign("harbour-morning", on=AsOf(DAY))
    note = load_note(file)
    assert note.frozen is not None
    for pour in split.portions:
        kept = [amount.value for amount in note.frozen.doses[pour.portion].values()]
        assert np.allclose(sorted(kept), sorted(pour.scents.values()), atol=1e-3)


def test_looks_that_are_due(blendwise: Blendwise, demo: Path) -> None:
    """A look is due from its day on; what comes later is told with its day."""
    Book(demo).note("three-whites", Asked(on=date(2026, 11, 20), saw=("all: ricing none",)), on=AsOf(DAY))
    ran = blendwise("note", "--due", "--book", str(demo), "--json")
    document = json.loads(ran.out)
    jsonschema.validate(document, schema_of("looks-due"))
    assert [("at the cut", "2026-11-21", 4)] == [
        (d["look"], d["day"], d["days_over"]) for d in document["due"]
    ]
    words = blendwise("note", "--due", "--book", str(demo))
    assert "One look due" in words.out
    assert 2 == blendwise("note", "--book", str(demo)).code


def test_a_batch_is_looked_at_when_its_plan_has_changed(demo: Path) -> None:
    """A later look goes by the portions that were poured, whatever the plan's file says by now."""
    plan = demo / "plans" / "rain-jar.yaml"
    plan.write_text("plan: rain-jar\nportions: changed beyond reading\n", "utf-8")
    done = Book(demo).note("rain-jar", Asked(look="later", saw=("all: strength gone",)), on=AsOf(DAY))
    assert {"pail", "cloud"} == load_note(demo / done.file).portions.keys()


def test_a_correction_is_laid_over_the_old_note(demo: Path) -> None:
    """A correction changes what it speaks of; the rest of the old note still counts, and its file stays."""
    old = demo / "notes" / "2026-11-14-rain-jar-week-6.yaml"
    before = old.read_bytes()
    fix = Asked(look="week 6", corrects=old.stem, saw=("pail: colour cream",))
    Book(demo).note("rain-jar", fix, on=AsOf(DAY))
    batches, faults = batches_of(read_notebook(demo), demo)
    (jar,) = [batch for batch in batches if batch.plan == "rain-jar"]
    seen = jar.looks[-1].portions
    assert before == old.read_bytes()
    assert [] == faults
    assert ("cream", "faint") == (seen["pail"].colour, seen["pail"].strength)
    assert "faint" == seen["cloud"].strength


def test_the_version_must_be_plain(demo: Path) -> None:
    """Of two poured versions one must be named; the only one is taken; doses are weighed once a batch."""
    book = Book(demo)
    look = Asked(look="later", saw=("all: edge clean",))
    assert "deep" == load_note(demo / book.note("greenhouse-morning", look, on=AsOf(DAY)).file).variation
    with pytest.raises(NotAskable, match="deep and shared"):
        book.note("greenhouse-morning", replace(look, batch="GM-260314"), on=AsOf(DAY))
    with pytest.raises(NotAskable, match="noted already"):
        book.note("rain-jar", replace(look, doses=("pail: rain-barrel 3 g",)), on=AsOf(DAY))


@pytest.mark.parametrize(
    ("said", "fields"),
    [
        ("orangey tan", {"colour": "#d39259"}),
        ("Colour Dark Brown, crisp edge", {"colour": "chocolate", "edge": "clean"}),
        ("halo", {"edge": "bled"}),
        ("halo 3 mm", {"edge": "bled", "halo": "3 mm"}),
        ("brown 3 mm in", {"edge": "bled", "halo": "3 mm"}),
        ("edge halo 1/8 in, no ash", {"edge": "bled", "halo": "1/8 in", "ash": "none"}),
        ("no halo", {"halo": "0 mm"}),
        (
            "smells weak, partial gel, some orange spots",
            {"strength": "faint", "gel": "partial", "spots": "slight"},
        ),
        ("riced, thick at 9", {"ricing": "bad", "minutes to thick": "9 min"}),
    ],
)
def test_a_portion_is_noted_in_a_makers_words(said: str, fields: dict[str, str]) -> None:
    """What can mean one thing only is taken as that."""
    assert fields == looks_said([f"milk: {said}"], ["milk"])["milk"]


@pytest.mark.parametrize("said", ["none", "slight", "bad", "sad", "colour like my cat", "soft", "halo 3"])
def test_words_that_may_mean_several_things_are_asked_back(said: str) -> None:
    """Never guessed; the answer says what may be written."""
    with pytest.raises(NotAskable) as caught:
        looks_said([f"milk: {said}"], ["milk"])
    assert caught.value.remedy


@pytest.mark.parametrize("word", NAMED_HEXES)
def test_every_colour_that_the_tool_names_can_be_noted(word: str) -> None:
    """What `check` and the sheet call a colour is read back as that colour, or as its band."""
    noted = looks_said([f"milk: {word}"], ["milk"])["milk"]["colour"]
    assert noted in (NAMED_HEXES[word], word)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2026-11-20", "2026-11-20"),
        ("yesterday", "2026-11-24"),
        ("3 days ago", "2026-11-22"),
        ("two weeks ago", "2026-11-11"),
        ("20 Nov", "2026-11-20"),
        ("Nov. 20", "2026-11-20"),
        ("26th November", "2025-11-26"),
        ("November 20, 2026", "2026-11-20"),
        ("20.11.2026", "2026-11-20"),
        ("20/11/26", "2026-11-20"),
        ("11/20/2026", "2026-11-20"),
    ],
)
def test_days_are_read_as_people_type_them(typed: str, day: str) -> None:
    """A day without its year is the last one."""
    assert day == day_typed(typed, DAY).isoformat()


@pytest.mark.parametrize("typed", ["3/4/2026", "31 Feb 2026", "someday", "45000"])
def test_a_day_that_may_be_two_or_none_is_asked_back(typed: str) -> None:
    """Day and month are never guessed."""
    with pytest.raises(NotAskable):
        day_typed(typed, DAY)


@pytest.mark.parametrize(
    ("typed", "look"), [("cut", "at the cut"), ("pot", "at the pot"), ("6", "week 6"), ("6 weeks", "week 6")]
)
def test_looks_are_read_as_people_call_them(typed: str, look: str) -> None:
    """By their name, or by a plain word for it."""
    assert look == look_typed(typed)
    with pytest.raises(NotAskable, match="week 4"):
        look_typed("week 3")


def test_the_same_look_twice_is_refused_by_the_first_ones_name(demo: Path) -> None:
    """What was noted of a portion that day is not noted again; of another portion it may be."""
    book = Book(demo)
    first = book.note("rain-jar", Asked(look="later", saw=("pail: edge clean",)), on=AsOf(DAY))
    with pytest.raises(NotAskable, match=first.note):
        book.note("rain-jar", Asked(look="later", saw=("pail: edge soft",)), on=AsOf(DAY))
    book.note("rain-jar", Asked(look="later", saw=("cloud: edge soft", "pail: gel full")), on=AsOf(DAY))


def test_what_a_look_makes_of_each_oil_is_told(demo: Path) -> None:
    """Before and after, as a reader of the beliefs finds them on both sides of the note."""
    book, on = Book(demo), AsOf(DAY)
    before = book.believing(on)
    done = book.note("three-whites", Asked(saw=("snow: thick at 1",)), on=on)
    after = book.believing(on)
    assert done.changes
    for turn in done.changes:
        scent = book.files.scents[turn.oil]
        now: dict[str, str] = {
            each.trait: each.now for each in changes_of(scent, after.of(turn.oil), book.files.scales)
        }
        was: dict[str, str] = {
            each.trait: each.now for each in changes_of(scent, before.of(turn.oil), book.files.scales)
        }
        assert now[turn.trait] == turn.after
        assert was.get(turn.trait, turn.before) == turn.before
    assert {"burnt-sugar", "tonka-milk"} & {turn.oil for turn in done.changes}


def test_an_ounce_book_keeps_ounces(demo: Path) -> None:
    """What a note keeps of the pour stands in the book's own units, to the same mass."""
    usual = demo / "usual.yaml"
    usual.write_text(usual.read_text("utf-8").replace("{mass: g,", "{mass: oz,"), "utf-8")
    book = Book(demo)
    done = book.note("three-whites", Asked(saw=("all: ricing none",)), on=AsOf(DAY))
    frozen = load_note(demo / done.file).frozen
    situation = book.situation("three-whites", AsOf(DAY))
    assert frozen is not None
    assert all(str(mass).endswith(" oz") for held in frozen.doses.values() for mass in held.values())
    for portion, oils in zip(situation.portions, situation.split.oils.tolist(), strict=True):
        assert oils == pytest.approx(frozen.portions[portion].oils.value, abs=5e-4)


AS_TYPED = {
    "day 2 the cloud cup went orangey tan at the rim, 3 mm halo": (
        "cloud",
        {"colour", "edge", "halo", "remarks"},
    ),
    "riced in the snow, stick-blended it out": ("snow", {"ricing", "remarks"}),
    "cloud beige at the edges where it touches snow": ("cloud", {"colour", "remarks"}),
    "glycerin rivers in the snow": ("snow", {"rivers"}),
    "snow went cream not ivory": ("snow", {"remarks"}),
    "snow isn't tan at the edges": ("snow", {"remarks"}),
}


@pytest.mark.parametrize("text", AS_TYPED)
def test_a_sentence_names_its_portion(text: str) -> None:
    """A look typed as a sentence is taken apart; what is no field is a remark, what is denied no value."""
    portion, fields = AS_TYPED[text]
    found = looks_said([text], ("snow", "cloud"))
    assert {portion} == set(found)
    assert fields == set(found[portion])


@pytest.mark.parametrize(
    "text",
    ["faint brown bleed 2 mm into the snow", "week 1: snow tan, week 3: snow brown", "orange barely there"],
)
def test_a_sentence_of_no_one_portion_or_day_is_asked_back(text: str) -> None:
    """What went into a portion is not of it, two days are two looks, and an oil is no portion."""
    with pytest.raises(NotAskable):
        looks_said([text], ("snow", "cloud"))


@pytest.mark.parametrize(
    ("said", "may"),
    [("ash", "`ash slight` or `ash heavy`"), ("rivers", "`rivers bad`"), ("gel", "`gel partial`")],
)
def test_a_field_without_a_word_is_asked_back(said: str, may: str) -> None:
    """What does not say how much is never guessed: it is told what may be written."""
    with pytest.raises(NotAskable) as refused:
        looks_said([f"petal: beige, {said}"], ["petal"])
    assert "does not say how much" in str(refused.value)
    assert may in refused.value.remedy

"""Questions in a maker's own words: which is meant, of what, and that nothing else is answered."""

from __future__ import annotations

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from blendwise import Book
from blendwise.answers.ask.compute import names_of, of_health
from blendwise.answers.ask.reading import understand, wordings
from blendwise.answers.ask.topics import HEALTH, NOT_OURS, PAGES, SYMPTOMS, TOPICS, topic_of
from blendwise.records.as_of import AsOf
from blendwise.show.ask.blocks import MOST, ask_blocks
from blendwise.show.ask.words import FACTS, QUESTIONS
from blendwise.show.plain import plain
from tests.show.test_brief import JARGON

DEMO = Path(__file__).resolve().parents[3] / "demo_catalog"
PLAN = "greenhouse-morning"
ON = AsOf(date(2026, 11, 28))


@pytest.fixture(scope="module")
def book() -> Book:
    """The demo."""
    return Book(DEMO)


def asked(book: Book, text: str, plan: str | None = None) -> str:
    """An answer as text, its lines joined."""
    return " ".join(plain(ask_blocks(book.ask(text, plan, on=ON)), 200).split())


def test_every_question_of_the_trade_is_known() -> None:
    """All 38 numbers are answered, each question has wordings, a name and sentences for its facts."""
    numbers = {topic.number for topic in TOPICS.values()} | set(SYMPTOMS.values())
    assert numbers - {None} == set(range(1, 39))
    known = set(wordings().questions) - {NOT_OURS}
    assert set(TOPICS) | {f"why: {name}" for name in SYMPTOMS} <= known
    assert set(QUESTIONS) == set(TOPICS)
    assert [m for q in known for m in topic_of(q).facts if m not in FACTS] == []


def test_every_symptom_of_a_wording_has_its_page(book: Book) -> None:
    """A symptom that a wording leads to is one that ``why`` knows."""
    pages = {each.symptom for each in book.symptoms().symptoms}
    led = {name.removeprefix("why: ") for name in wordings().questions if name.startswith("why: ")}
    assert led | set(PAGES.values()) == pages


def test_wordings_lead_home() -> None:
    """Of all wordings as they stand in the file 97 in 100 find their own question first."""
    held = wordings()
    astray = [
        (question, text)
        for question, text in held.lexicon.wordings
        if held.match(held.lexicon.words(text))[0].question != question
    ]
    assert len(astray) <= 0.03 * len(held.lexicon.wordings), astray


SAID = {
    "Will tonka milk discolour?": ("browns", ("tonka-milk",), ()),
    "how much of cedar goes into the brick cup": ("which cup", ("cedar",), ("brick",)),
    "white squiggly lines": ("why: white veins", (), ()),
    "the sage cup is way thicker": ("why: one colour is thicker than the others", (), ("sage",)),
    "little orange dots": ("why: orange spots", (), ()),
    "should I gel": ("gel", (), ()),
    "does lavendar go with ceder": ("get on", ("lavender", "cedar"), ()),
}


@pytest.mark.parametrize("text", SAID)
def test_what_is_meant_and_of_what(book: Book, text: str) -> None:
    """The question, its oils and its cups; slips of a letter do not matter."""
    question, oils, portions = SAID[text]
    matches, named, strange = understand(text, names_of(book, PLAN))
    assert (question, oils, portions) == (matches[0].question, named.oils, named.portions)
    assert not strange


OTHERS = (
    *("how do I fold a paper plane", "what is the capital of Chile", "who won the cup final last night"),
    *("recommend a restaurant", "wie spät ist es", "bonjour", "xkcd", "how do I repair my bicycle", "?", ""),
    *("what is a good present for my father", "how do I bake sourdough bread", "is my phone charged"),
)


def test_other_subjects_are_declined(book: Book) -> None:
    """Nine in ten of them; none is answered as if it were certain."""
    told = Counter(book.ask(text, on=ON).status for text in OTHERS)
    assert told["declined"] >= 0.9 * len(OTHERS), told
    assert [text for text in OTHERS if book.ask(text, on=ON).sure] == []


@pytest.mark.parametrize(
    "text",
    [
        "is lavender fine in pregnancy",
        "safe for my grandmother?",
        "can dogs be washed with it",
        "lye in my eye",
    ],
)
def test_health_is_left_to_others(book: Book, text: str) -> None:
    """Whatever else is in the question."""
    result = book.ask(text, PLAN, on=ON)
    assert ("deferred", HEALTH) == (result.status, result.question)
    assert of_health(text) or "Rinse at once" in asked(book, text)


def test_an_answer_has_five_lines_and_a_command(book: Book) -> None:
    """Every question that a plan answers, in a maker's words, with the command that says more."""
    for question, text in {q: t for q, t in reversed(wordings().lexicon.wordings) if q in TOPICS}.items():
        words = text.replace("OIL", "cedar").replace("CUP", "brick").replace("POUR", "column")
        result = book.ask(words.replace("COLOUR", "charcoal").replace("AMOUNT", "4 %"), PLAN, on=ON)
        if result.status != "answered" or question == "which cup":
            continue
        blocks = ask_blocks(result)
        assert len(blocks) <= MOST + 4, question
        flat = " ".join(plain(blocks, 200).split())
        assert "More: `blendwise " in flat
        assert not JARGON.search(flat), flat


def test_what_is_missing_is_asked_for(book: Book) -> None:
    """Without an oil or a plan the answer says what to name."""
    assert "Name the plan after the question" in asked(book, "should I gel")
    assert "Name the oil" in asked(book, "will this scent discolor my soap")


def test_a_plan_is_named_in_the_question(book: Book) -> None:
    """By its name, or by a batch's code."""
    for text in ("when can I sell harbour-morning", "when can I sell HM-260822"):
        assert book.ask(text, on=ON).plan == "harbour-morning"


def test_half_scented_tells_both_ways(book: Book) -> None:
    """By hand: 4 % in half of the pot is 2 % over all; all of it in that half is 8 %."""
    told = asked(book, "if only half is scented do I double it")
    assert "No, do not double it: keep 4 % of oils there" in told
    assert "Same dose: 4 % of oils in 50 % of the pot" in told
    assert "2 % of oils over the whole bar" in told
    assert "All of the scent in that part: 8 % of oils" in told

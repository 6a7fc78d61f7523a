"""Headings and cells that say the opposite of the words they hold: asked back, never taken for them."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.spreadsheet.answers import Answers
from blendwise.answers.spreadsheet.result import Question
from blendwise.answers.spreadsheet.words.guesses import MANNERS, TURNING
from blendwise.answers.spreadsheet.words.vocabulary import HEADINGS
from blendwise.show.scents.questions import answer_of
from tests.answers.scents.conftest import TODAY, as_csv, asked, import_with_guesses, oils

CELLS = ("yes", "no", "none", "slight", "strong", "free", "ok")
PARTS = (
    *("for skin", "skin safe", "skin", "accelerates trace", "trace", "discolours", "turns brown", "ricing"),
    *("vanillin", "scent retention", "staying power", "strength", "holds"),
)
FIELDS = ("for_skin", "acceleration", "browns_to", "ricing", "vanillin", "after_six_weeks")


@pytest.mark.parametrize("part", PARTS)
def test_a_heading_that_turns_round_its_words_gives_no_fact(tmp_path: Path, part: str) -> None:
    """ "Not for skin: yes", "vanilla free: no": no fact with all guesses taken, and it is asked."""
    for turning in sorted(TURNING):
        table = [("Name", "Flash point °C", f"{turning} {part}"), *((f"Oil {c}", "93", c) for c in CELLS)]
        sheet = as_csv(tmp_path / "s.csv", table)
        told, _ = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)
        found = oils(told)
        said = {(name, each) for name, oil in found.items() for each in FIELDS if getattr(oil, each)}
        assert set() == said, (turning, part)
        assert asked(sheet).questions, (turning, part)


@pytest.mark.parametrize(
    "heading",
    ["Skin irritant", "Irritates skin", "Skin burns?", "Bad on skin", "Nicht für die Haut", "peau: réagit"],
)
def test_a_heading_that_only_holds_skin_never_says_that_an_oil_may_touch_it(
    tmp_path: Path, heading: str
) -> None:
    """What hurts skin and what is safe on it share their words: no "yes" is taken for either."""
    table = [("Name", "Flash point °C", heading), ("Fig", "93", "yes"), ("Oak", "93", "ja")]
    sheet = as_csv(tmp_path / "s.csv", table)
    told = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)[0]
    assert [None, None] == [oil.for_skin for oil in oils(told).values()]
    assert [heading] == list({q.heading for q in asked(sheet).questions})


@pytest.mark.parametrize(
    "heading", ["Trace tested?", "Discolouration tested", "Ricing seen by whom", "Vanillin stabiliser"]
)
def test_a_bare_no_answers_the_whole_of_its_heading(tmp_path: Path, heading: str) -> None:
    """ "Trace tested? no" is not "does not accelerate": a heading known by a part alone is asked about."""
    sheet = as_csv(tmp_path / "s.csv", [("Name", "Flash point °C", heading), ("Fig", "93", "no")])
    told = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)[0]
    (fig,) = oils(told).values()
    assert [None] * len(FIELDS) == [getattr(fig, each) for each in FIELDS]
    assert asked(sheet).questions


SENTENCES = {
    "faint": (
        ("fades", ("fast", "quickly", "badly", "a lot", "")),
        ("verblasst", ("schnell", "sehr schnell", "stark", "")),
        ("s'estompe", ("rapide", "très rapide", "")),
        ("se desvanece", ("rápido", "muy rápido", "")),
        ("holds", ("badly", "not well", "a bit", "poorly")),
        *(("hält", ("nicht", "kaum")), ("tient", ("pas", "un peu")), ("dura", ("poco", "apenas"))),
    ),
    "fair": (
        *(("fades", ("slow", "slowly", "a bit", "slightly")), ("verblasst", ("langsam", "etwas"))),
        *(("s'estompe", ("lentement", "un peu")), ("se desvanece", ("lento", "un poco"))),
    ),
    "strong": (
        *(("holds", ("well", "long", "very well")), ("lasts", ("long", "for months"))),
        *(("hält", ("gut", "lange")), ("tient", ("bien", "longtemps")), ("dura", ("mucho", "bien"))),
        *(("does not", ("fade",)), ("never", ("fades",)), ("verblasst", ("nicht", "kaum"))),
    ),
}


@pytest.mark.parametrize("guess", SENTENCES)
@pytest.mark.parametrize("heading", ["After six weeks", "Retention", "Staying power"])
def test_how_a_scent_fades_is_understood_in_sentences(tmp_path: Path, heading: str, guess: str) -> None:
    """ "fades slow" is asked back as fair, "holds badly" as faint: never the opposite, never a remark."""
    cells = [f"{verb} {manner}".strip() for verb, manners in SENTENCES[guess] for manner in manners]
    table = [("Name", "Flash point °C", heading), *((f"Oil {n}", "93", c) for n, c in enumerate(cells))]
    sheet = as_csv(tmp_path / "s.csv", table)
    told = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)[0]
    said = [oil.after_six_weeks for oil in oils(told).values()]
    assert dict.fromkeys(cells, guess) == dict(zip(cells, said, strict=True))


def test_no_limit_and_none_allowed_are_not_one(tmp_path: Path) -> None:
    """A "no" below a limit may be either; a yellow is none of the browns; a dash of any length is blank."""
    table = [
        ("Name", "Max %", "Browns to"),
        ("Fig", "no", "yellow"),
        ("Elm", "nein", "gelb"),
        ("Oak", "–", "—"),
    ]
    sheet = as_csv(tmp_path / "s.csv", table)
    told = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)[0]
    assert {(None, None)} == {(oil.limit_in_bar, oil.browns_to) for oil in oils(told).values()}
    assert {"Max %", "Browns to"} == {q.heading for q in asked(sheet).questions}


@pytest.mark.parametrize(
    ("typed", "answer"),
    [("weak", "faint"), ("schwach", "faint"), ("fair", "fair"), ("fades slow", ""), ("x", "")],
)
def test_an_answer_in_other_words_is_the_choice_it_means(typed: str, answer: str) -> None:
    """What is certain is taken, and what is not is asked again; nothing becomes a remark by itself."""
    question = Question("cell", "After", "odd", "", "remark", False, ("strong", "fair", "faint", "gone"))
    assert answer == answer_of(question, typed)


def test_every_verb_of_weeks_is_one_of_two_manners() -> None:
    """Each has a table of guesses; headings that ask the other way round are not these verbs' cells."""
    assert {"fades", "holds"} == set(MANNERS.values())
    assert not TURNING & {word for each in HEADINGS["for skin"] for word in each.split()}


@pytest.mark.parametrize(
    ("heading", "cell", "worse"),
    [
        ("Trace", "med-fast", "fast"),
        ("Trace", "none to slight", "slight"),
        ("Retention", "fair to weak", "faint"),
        ("Browns to", "tan/brown", "brown"),
        ("Ricing", "slight - bad", "bad"),
    ],
)
def test_of_two_words_the_worse_is_asked_about(tmp_path: Path, heading: str, cell: str, worse: str) -> None:
    """A span of a scale is offered as its worse end, and waits for the maker."""
    told = asked(as_csv(tmp_path / "s.csv", [("Name", "Flash point °C", heading), ("Fig", "93", cell)]))
    assert [(cell, worse)] == [(q.cell, q.guess) for q in told.questions]


def test_the_oils_are_not_called_by_a_column_of_something_else(tmp_path: Path) -> None:
    """ "Goes what colour" holds a word for names, and no names: the bottle's own column is asked about."""
    head = ("In the flask", "Goes what colour", "Flash point °C", "Got it", "Who from", "$ for 4 oz")
    rows = [(name, "brown", "93", "2026-03-14", "Hill", "11.50") for name in ("Fig", "Elm", "Oak")]
    told, _ = import_with_guesses(
        as_csv(tmp_path / "s.csv", [head, *rows]), tmp_path / "x", Answers(), today=TODAY
    )
    assert ["Fig", "Elm", "Oak"] == list(oils(told))
    assert {"bought", "supplier", "price"} <= {column.field for column in told.columns}


def test_a_heading_nobody_knows_is_guessed_by_its_cells(tmp_path: Path) -> None:
    """ "End result: tan, brown" is offered as what it browns to, never taken unasked; "x" is asked."""
    head = ("Name", "Flash point °C", "End result", "Skin OK")
    rows = [("Fig", "93", "tan", "x"), ("Elm", "93", "dark brown", "x"), ("Oak", "93", "none", "no")]
    sheet = as_csv(tmp_path / "s.csv", [head, *rows])
    assert [("End result", "", "browns to", True), ("Skin OK", "x", "", True)] == [
        (q.heading, q.cell, q.guess, q.must) for q in asked(sheet).questions
    ]
    told, _ = import_with_guesses(sheet, tmp_path / "x.yaml", Answers(), today=TODAY)
    assert [None] * 3 == [oil.browns_to for oil in oils(told).values()]

"""The symptoms that ship: every cause proves itself, and a maker's own words find what was meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.why.causes import read_causes
from blendwise.answers.why.compute import symptoms_of, why
from blendwise.answers.why.nearness import NEAR_ENOUGH, nearest_entries, stem, words_of
from blendwise.facts.tables import vocabulary
from blendwise.records.kinds.symptom import load_symptoms
from blendwise.records.place import RecordError
from tests.rules.causes import CauseCase, cause_cases

FOUND = load_symptoms(Path(__file__).resolve().parents[2] / "rules")
CASES = list(cause_cases(FOUND, vocabulary()))
ENTRIES = {each.symptom: each.phrases for each in FOUND.symptoms}
CAUSES = [(symptom.symptom, cause) for symptom in FOUND.symptoms for cause in symptom.causes]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_cause_proves_itself(case: CauseCase) -> None:
    """A cause is spoken for on its hits and on none of its misses."""
    assert case.why == ""


@pytest.mark.parametrize("cause", [c for _, c in CAUSES], ids=[f"{s}: {c.cause}" for s, c in CAUSES])
def test_what_a_plan_can_say_has_both_kinds_of_rows(cause: object) -> None:
    """A cause that a plan can speak for has a hit and a miss; one that it cannot has neither."""
    asks = bool(getattr(cause, "for_"))  # noqa: B009
    assert (asks, asks) == (bool(getattr(cause, "hits")), bool(getattr(cause, "misses")))  # noqa: B009


def test_what_is_shown_is_a_measure() -> None:
    """Every measure that an answer lays beside itself is in the vocabulary."""
    shown = [measure for symptom in FOUND.symptoms for measure in symptom.shows]
    assert [measure for measure in shown if measure not in vocabulary()] == []


def test_every_condition_can_be_read() -> None:
    """No cause of any symptom has a condition that the judge cannot read."""
    read = [read_causes(FOUND, symptom, vocabulary()) for symptom in FOUND.symptoms]
    assert [len(symptom.causes) for symptom in FOUND.symptoms] == [len(causes) for causes in read]


@pytest.mark.parametrize("name", ENTRIES)
def test_every_phrase_leads_home(name: str) -> None:
    """A phrase typed as it stands in the file finds the symptom that it stands under."""
    astray = [phrase for phrase in (name, *ENTRIES[name]) if nearest_entries(phrase, ENTRIES)[0].name != name]
    assert astray == []


SAID = {
    "dark ring": "a dark ring or a pale core",
    "there's a dark ring in my soap": "a dark ring or a pale core",
    "the middle is darker than the outside": "a dark ring or a pale core",
    "partial gell": "a dark ring or a pale core",
    "went grainy": "it riced",
    "it looks like cottage cheese": "it riced",
    "riced": "it riced",
    "white turned cream": "it turned brown",
    "my white went tan after three weeks": "it turned brown",
    "soap discolored": "it turned brown",
    "too thick to pour": "it thickens too fast",
    "it's thickening on me, what now": "it thickens too fast",
    "batter got thick too quickly": "it thickens too fast",
    "accelerating": "it thickens too fast",
    "oil on top": "it separates",
    "oil floating on top of the batter": "it separates",
    "seperating": "it separates",
    "white veins": "white veins",
    "glycerine rivers": "white veins",
    "scent gone": "the scent is gone",
    "I can't smell it any more": "the scent is gone",
    "the smell faded": "the scent is gone",
    "cracked": "it heats, cracks or rises",
    "cracks on top": "it heats, cracks or rises",
    "soap volcano": "it heats, cracks or rises",
    "orange spots": "orange spots",
    "dreaded orange spots": "orange spots",
    "soda ash": "white powder on the faces",
    "white powder on top": "white powder on the faces",
    "white dots": "white dots",
    "little white specks": "white dots",
    "it seized": "it seized",
    "soap on a stick": "it seized",
    "one portion is far thicker": "one colour is thicker than the others",
    "colors bleeding into each other": "a colour bled or changed",
    "my blue turned purple": "a colour bled or changed",
    "brown halo creeping into white": "brown creeps into the white",
    "too runny, colours mixing": "it is too thin and the colours mix",
    "zaps my tongue": "it stings",
    "failed zap test": "it stings",
    "sticky and soft": "it is soft or sticky",
    "won't come out of the mold": "it is soft or sticky",
    "crumbly": "it crumbles",
    "smells like playdough": "the scent is wrong",
    "when can I sell it": "when can it be sold",
    "how long must it cure": "when can it be sold",
    "new bottle, different result": "same recipe, different result",
    "double the batch": "a bigger mould",
    "bigger mold": "a bigger mould",
    "what do I change next time": "what to change next time",
    "will the colour stay": "will the colour stay",
    "sweaty": "it sweats",
}


@pytest.mark.parametrize(("said", "meant"), SAID.items(), ids=list(SAID))
def test_plain_words_find_what_was_meant(said: str, meant: str) -> None:
    """Words that are no phrase of the file, misspelt ones too, lead to the symptom that was meant."""
    near = nearest_entries(said, ENTRIES)[0]
    assert near.name == meant
    assert near.score >= NEAR_ENOUGH


@pytest.mark.parametrize(
    "said", ["the moon is full", "invoice", "how do I knit socks", "weather tomorrow", "xyzzy", "lathe"]
)
def test_what_nobody_knows_is_near_to_nothing(said: str) -> None:
    """A question of another kind stays below the score at which an answer is given."""
    assert nearest_entries(said, ENTRIES)[0].score < NEAR_ENOUGH


def test_a_slip_of_the_pen_hardly_ever_misleads() -> None:
    """Of all phrases with one letter left out or doubled in their longest word, 98 in 100 still lead home."""
    tried, astray = 0, []
    for name, phrases in ENTRIES.items():
        for phrase in phrases:
            word = max(phrase.split(), key=len)
            for at in range(1, len(word), 2):
                slip = phrase.replace(word, word[:at] + word[at + 1 :])
                near = nearest_entries(slip, ENTRIES)[0]
                tried += 1
                if len(word) >= 6 and (near.name != name or near.score < NEAR_ENOUGH):
                    astray.append(slip)
    assert len(astray) <= 0.02 * tried, astray


@pytest.mark.parametrize("said", ["", "?!", "\x00", "z" * 5000, "white veins " * 5000])
def test_whatever_is_typed_has_an_answer(said: str) -> None:
    """Nothing that can be typed breaks the matching; a score lies between 0 and 1."""
    near = nearest_entries(said, ENTRIES)
    assert len(near) == len(ENTRIES)
    assert all(0 <= each.score <= 1 + 1e-9 for each in near)


def test_a_cause_that_is_named_stands_first() -> None:
    """Who names a cause beside what was seen ("a dark ring, partial gel") is told of that cause first."""
    found, asked_of = symptoms_of(None), 0
    for symptom in found.symptoms:
        for cause in symptom.causes:
            try:
                told = why(f"{symptom.phrases[0]} {cause.cause}", found)
            except RecordError:  # taken for a question, and said so
                continue
            if told.symptom is not None and told.symptom.symptom == symptom.symptom:
                asked_of += 1
                assert _stems(told.causes[0].cause) <= _stems(f"{symptom.phrases[0]} {cause.cause}")
    assert asked_of > 50


def _stems(text: str) -> set[str]:
    return {stem(word) for word in words_of(text)}

"""The manual is that of the code: every measure once, every model with all that it must say."""

from __future__ import annotations

from pathlib import Path

import pytest

from blendwise.answers.rules.words import rule_words
from blendwise.facts import manual
from blendwise.facts.measures.named import PATTERNS
from blendwise.facts.registry import REGISTRY
from blendwise.show.rules.manual import FORMS

ROOT = Path(__file__).parents[2]


def test_every_measure_is_told_once() -> None:
    """All measures stand in the manual, and the form of each is explained in words."""
    assert list(REGISTRY) == [word.name for word in manual.measures()]
    assert {measure.word.form for measure in REGISTRY.values()} <= set(FORMS)


@pytest.mark.parametrize("model", tuple(manual.models()), ids=lambda model: model.name)
def test_every_model_says_what_it_must(model: manual.Model) -> None:
    """Formula, source, check and known limits, each in a sentence, and its check is there."""
    assert list(manual.LABELS) == list(model.said)
    assert all(said.endswith(".") and len(said) > 15 for said in model.said.values())
    assert (ROOT / "tests" / "science" / f"test_{model.name}.py").is_file()


def test_nothing_asked_is_everything() -> None:
    """Without a topic every word and every model is told."""
    found = rule_words()
    every = len(REGISTRY) + len(PATTERNS)
    assert (every, every) == (len(found.words), found.of)
    assert {*REGISTRY, *PATTERNS} == {word.word for word in found.words}
    assert [model.name for model in manual.models()] == [model.model for model in found.models]


def test_a_topic_is_found_whole_and_words_narrow_it() -> None:
    """All words of a topic are found by its name, whatever its case; a second word narrows."""
    lye = {word.word for word in rule_words(["LYE"]).words}
    assert {name for name, measure in REGISTRY.items() if measure.word.theme == "lye"} <= lye
    koh = [word.word for word in rule_words(["lye", "KOH"]).words]
    assert {"lye to need", "lye looks like KOH"} <= set(koh)
    assert lye > set(koh)


def test_what_nobody_speaks_of_is_not_found() -> None:
    """A word that stands nowhere finds no word and no model."""
    found = rule_words(["trombone"])
    assert ((), ()) == (found.words, found.models)


def test_a_frame_has_a_row_a_word() -> None:
    """As a frame: a row a measure, its lists joined by commas."""
    frame = rule_words(["superfat"]).to_frame()
    assert "portion superfat" in set(frame["word"])
    assert frame.loc[frame["word"] == "portion superfat", "also_at"].tolist() == ["dose, pair"]

"""Yes/no measures in plain words."""

from __future__ import annotations

import pytest

from blendwise.facts.measures.named import PATTERNS
from blendwise.facts.tables import vocabulary
from blendwise.show.flag_words import FLAGS, SIDES, plain_name, plainly

MEASURES = sorted(w.name for w in vocabulary().values() if w.kind == "flag" and not w.name.startswith(SIDES))


@pytest.mark.parametrize("name", MEASURES)
def test_every_yes_and_no_has_its_words(name: str) -> None:
    """Every yes/no measure of the vocabulary has a phrase for no and another for yes."""
    assert plainly(name, "no") != plainly(name, "yes")


def test_no_phrase_is_left_over() -> None:
    """No phrase speaks of a measure that is not in the vocabulary."""
    assert sorted(FLAGS) == MEASURES


def test_measures_of_named_things_are_called_by_the_names() -> None:
    """Every family has its plain words, and no bracket of a rule reaches a maker."""
    assert "lime and cedar" == plain_name("dose of [lime, cedar]")
    for pattern in PATTERNS:
        head, bracket, _ = pattern.partition("[")
        if bracket:
            said = plain_name(f"{head}[lime, cedar]")
            assert "lime and cedar" in said
            assert "[" not in said

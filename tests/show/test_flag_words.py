"""Yes/no measures in plain words."""

from __future__ import annotations

import pytest

from blendwise.facts.tables import vocabulary
from blendwise.show.flag_words import FLAGS, SIDES, plainly

MEASURES = sorted(w.name for w in vocabulary().values() if w.kind == "flag" and not w.name.startswith(SIDES))


@pytest.mark.parametrize("name", MEASURES)
def test_every_yes_and_no_has_its_words(name: str) -> None:
    """Every yes/no measure of the vocabulary has a phrase for no and another for yes."""
    assert plainly(name, "no") != plainly(name, "yes")


def test_no_phrase_is_left_over() -> None:
    """No phrase speaks of a measure that is not in the vocabulary."""
    assert sorted(FLAGS) == MEASURES

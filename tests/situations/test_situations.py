"""Twenty situations of the trade, each in a book of its own, answered as a maker of twenty years would."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.situations.harness import Situation, situations, wrong


@pytest.mark.parametrize("one", situations(), ids=lambda one: one.name)
def test_the_answer_is_a_makers(one: Situation, tmp_path: Path) -> None:
    """What the command line says of a situation is what its entry expects."""
    assert wrong(one, tmp_path / "book") == []

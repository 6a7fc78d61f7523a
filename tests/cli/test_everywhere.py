"""The same question has the same answer, byte for byte, wherever it is asked."""

from __future__ import annotations

from tests.cli.everywhere import ELSEWHERE, SHORT, answers, differences


def test_answers_are_the_same_everywhere() -> None:
    """Three answers under another hash seed, in another locale and time zone, on one processor."""
    assert [] == differences(SHORT, ELSEWHERE)


def test_another_answer_would_be_seen() -> None:
    """The digest of an answer is that of what it says, and of the code it leaves with."""
    here = {"PYTHONHASHSEED": "0"}
    one, other = answers((("schema", "check"), ("schema", "pair")), here)
    assert 0 == one[0] == other[0]
    assert one != other
